//go:build unix

package localpg_test

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodman/store/localpg"
)

// child starts a server, writes a row, says so and waits to be told to stop, or to be killed.
func child(dir string) {
	s, err := localpg.Start(context.Background(), dir, quiet)
	if err != nil {
		fmt.Println("failed", err)
		os.Exit(1)
	}
	if err := write(context.Background(), s, "kept by the child"); err != nil {
		fmt.Println("failed", err)
		os.Exit(1)
	}
	fmt.Println("written", s.PID())
	io.Copy(io.Discard, os.Stdin) // until the parent closes it
	if err := s.Stop(); err != nil {
		fmt.Println("failed", err)
		os.Exit(1)
	}
	os.Exit(0)
}

// kill -9 of hodman: its Postgres goes too, the next start mends what is to be
// mended, and what was committed is there.
func TestKilledHodmanLosesNothing(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	for range 2 {
		cmd, pid := startChild(t, os.Args[0], dir, nil)
		if err := cmd.Process.Signal(syscall.SIGKILL); err != nil {
			t.Fatal(err)
		}
		cmd.Wait() // an error: it was killed
		s := mustStart(t, dir)
		if s.PID() == pid {
			t.Error("the same server")
		}
		if runs(pid) {
			t.Errorf("the killed hodman's Postgres %d still runs", pid)
		}
		if got := read(t, s); len(got) == 0 || got[len(got)-1] != "kept by the child" {
			t.Errorf("kept %q; want the child's row", got)
		}
		mustStop(t, s)
	}
}

// kill -9 of Postgres and hodman at once, as when the machine goes: recovery from the log.
func TestCrashLosesNothing(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	cmd, pid := startChild(t, os.Args[0], dir, nil)
	if err := syscall.Kill(pid, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	cmd.Wait() // an error: it was killed
	if d := cmp.Diff([]string{"kept by the child"}, read(t, mustStart(t, dir))); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
}

// runs says whether a process is there and more than a dead one that nobody has buried.
func runs(pid int) bool {
	out, err := exec.Command("ps", "-o", "stat=", "-p", strconv.Itoa(pid)).Output()
	return err == nil && !strings.HasPrefix(strings.TrimSpace(string(out)), "Z")
}

// startChild runs this test binary as a hodman and waits until its row is
// written. It returns the process id of its Postgres.
func startChild(t *testing.T, program, dir string, attr *syscall.SysProcAttr) (*exec.Cmd, int) {
	t.Helper()
	cmd := exec.Command(program)
	cmd.Env = append(os.Environ(), childDir+"="+dir)
	cmd.Dir = "/"
	cmd.SysProcAttr = attr
	stdin, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	stdout, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { stdin.Close(); cmd.Process.Kill() })
	line, err := bufio.NewReader(stdout).ReadString('\n')
	pid, isNumber := strconv.Atoi(strings.TrimSpace(strings.TrimPrefix(line, "written ")))
	if err != nil || isNumber != nil {
		t.Fatalf("the child says %q, %v", line, err)
	}
	return cmd, pid
}

// A plain user's hodman works too, stops when told, and its data is taken up by root's.
func TestPlainUser(t *testing.T) {
	t.Parallel()
	if os.Geteuid() != 0 {
		return // the other tests have shown it
	}
	const nobody = 65534
	dir := folder(t)
	program := filepath.Join(dir, "child")
	if err := copyProgram(os.Args[0], program); err != nil { // go test's own folder is closed to others
		t.Fatal(err)
	}
	home := filepath.Join(dir, "home")
	if err := os.Mkdir(home, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Chown(home, nobody, nobody); err != nil {
		t.Fatal(err)
	}
	cmd, pid := startChild(t, program, home, &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}})
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	cmd.Wait() // an error: it was killed
	s := mustStart(t, home)
	if got := read(t, s); len(got) != 1 {
		t.Errorf("kept %q; want the child's row", got)
	}
	if s.PID() == pid {
		t.Error("the same server")
	}
}

func copyProgram(from, to string) error {
	b, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, b, 0o755)
}
