//go:build unix

package localpg

import (
	"os/exec"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"time"
)

// process is a child that ends when we do.
type process struct {
	cmd  *exec.Cmd
	tail *tail
	done chan struct{} // closed when it has ended
	err  error         // how it ended; set before done is closed
}

// start runs cmd. If we die, the child is sent ifOrphaned. The system sends that
// when the *thread* that started the child ends, so one thread starts it and
// waits for it.
func start(cmd *exec.Cmd, ifOrphaned syscall.Signal) (*process, error) {
	p := &process{cmd: cmd, tail: new(tail), done: make(chan struct{})}
	cmd.Stdout, cmd.Stderr = p.tail, p.tail
	cmd.WaitDelay = 5 * time.Second // a grandchild may hold the pipe
	// Its own group: Ctrl-C at the terminal is for us, who then stop it in good order.
	cmd.SysProcAttr.Setpgid = true
	dieWithParent(cmd.SysProcAttr, ifOrphaned)
	started := make(chan error)
	go func() {
		runtime.LockOSThread() // and never unlocked: the thread ends with this function
		err := cmd.Start()
		started <- err
		if err != nil {
			return
		}
		p.err = cmd.Wait()
		close(p.done)
	}()
	if err := <-started; err != nil {
		return nil, err
	}
	return p, nil
}

func (p *process) signal(s syscall.Signal) { p.cmd.Process.Signal(s) }

// end signals the process and says whether it ended in time. It signals again
// and again: a shell starts what runs in its background with SIGINT ignored, and so a
// Postgres that has only just begun does not hear the first. More than one does no harm.
func (p *process) end(s syscall.Signal, limit time.Duration) bool {
	again := time.NewTicker(signalAgain)
	defer again.Stop()
	over := time.After(limit)
	for {
		p.signal(s)
		select {
		case <-p.done:
			return true
		case <-over:
			return false
		case <-again.C:
		}
	}
}

const signalAgain = 200 * time.Millisecond

// tail keeps the last of what a process said, for when it fails.
type tail struct {
	mu   sync.Mutex
	text []byte
}

const tailBytes = 4 << 10

func (t *tail) Write(b []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.text = append(t.text, b...)
	if over := len(t.text) - tailBytes; over > 0 {
		t.text = append(t.text[:0], t.text[over:]...)
	}
	return len(b), nil
}

func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return strings.TrimSpace(string(t.text))
}
