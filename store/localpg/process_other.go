//go:build unix && !linux

package localpg

import "syscall"

// dieWithParent does nothing here: after a SIGKILL the child lives on until it is stopped by hand.
func dieWithParent(*syscall.SysProcAttr, syscall.Signal) {}

// working cannot tell here; Postgres's own lock file has to do.
func working(string) (pids []int, known bool) { return nil, false }
