package localpg

import (
	"os"
	"path/filepath"
	"strconv"
	"syscall"
)

// dieWithParent has the system signal the child when we die, even by SIGKILL.
func dieWithParent(a *syscall.SysProcAttr, s syscall.Signal) { a.Pdeathsig = s }

// working lists the processes that work in a folder, as every process of a Postgres
// does in its data. known is false where the system does not tell.
func working(dir string) (pids []int, known bool) {
	dir, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil, false
	}
	links, err := filepath.Glob("/proc/[0-9]*/cwd")
	if err != nil || len(links) == 0 {
		return nil, false
	}
	for _, l := range links {
		if at, err := os.Readlink(l); err == nil && at == dir {
			pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(l))) // the pattern lets only digits through
			pids = append(pids, pid)
		}
	}
	return pids, true
}
