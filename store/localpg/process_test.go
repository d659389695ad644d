//go:build unix

package localpg

import (
	"os/exec"
	"syscall"
	"testing"
	"time"
)

// A process that is deaf to the signal while it starts is ended all the same, and
// long before its time is up.
func TestEndReachesAProcessThatIsDeafAtFirst(t *testing.T) {
	cmd := exec.Command("sh", "-c", `trap "" TERM; echo deaf; sleep 1; trap "exit 0" TERM; while :; do sleep 0.1; done`)
	cmd.SysProcAttr = &syscall.SysProcAttr{}
	p, err := start(cmd, syscall.SIGKILL)
	if err != nil {
		t.Fatal(err)
	}
	for p.tail.String() != "deaf" {
		time.Sleep(5 * time.Millisecond)
	}
	if !p.end(syscall.SIGTERM, 20*time.Second) {
		p.end(syscall.SIGKILL, time.Second)
		t.Fatal("it did not end: the signal that it did not hear was not repeated")
	}
}
