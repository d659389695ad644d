//go:build unix

package localpg

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// owner is the user that Postgres runs as.
type owner struct {
	name     string
	uid, gid int
	// other says that this is not the user that hodman runs as.
	other bool
}

// ownerOf chooses who runs Postgres: ourselves, or for root whoever the data
// belongs to, else user "postgres", else "nobody".
func ownerOf(data string) (*owner, error) {
	me := os.Geteuid()
	info, err := os.Stat(data)
	switch {
	case err == nil:
		st := info.Sys().(*syscall.Stat_t) // always so on Unix
		if int(st.Uid) == me && me == 0 {
			return nil, fmt.Errorf("%s belongs to root, and Postgres does not run as root: chown it to the user it was made by", data)
		}
		if int(st.Uid) != me && me != 0 {
			return nil, fmt.Errorf("%s belongs to user %d: start hodman as that user, or set HODMAN_DATA_DIR to a folder of your own", data, st.Uid)
		}
		return named(strconv.Itoa(int(st.Uid)), int(st.Uid), int(st.Gid), me), nil
	case errors.Is(err, os.ErrPermission):
		return nil, fmt.Errorf("%w: start hodman as the user that the folder belongs to, or set HODMAN_DATA_DIR to a folder of your own", err)
	case !errors.Is(err, os.ErrNotExist):
		return nil, err
	case me != 0:
		return named(strconv.Itoa(me), me, os.Getegid(), me), nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		if u, err := user.Lookup(name); err == nil {
			uid, err1 := strconv.Atoi(u.Uid)
			gid, err2 := strconv.Atoi(u.Gid)
			if err := errors.Join(err1, err2); err != nil {
				return nil, err
			}
			return &owner{name: name, uid: uid, gid: gid, other: true}, nil
		}
	}
	return nil, errors.New("Postgres does not run as root and there is no user postgres or nobody: start hodman as another user")
}

func named(name string, uid, gid, me int) *owner {
	if u, err := user.LookupId(strconv.Itoa(uid)); err == nil {
		name = u.Username
	}
	return &owner{name: name, uid: uid, gid: gid, other: uid != me}
}

// take gives a file or folder of ours to the user; never what a link points at.
func (o *owner) take(path string) error {
	if !o.other {
		return nil
	}
	return os.Lchown(path, o.uid, o.gid)
}

// canReach says whether the user may pass through dir and all folders above it.
func (o *owner) canReach(dir string) error {
	if !o.other {
		return nil
	}
	for d := dir; ; d = filepath.Dir(d) {
		info, err := os.Stat(d)
		if err != nil {
			return err
		}
		if !o.passes(info) {
			return fmt.Errorf("Postgres runs as user %s, who may not pass through %s: set HODMAN_DATA_DIR to a folder that is open on the way down, such as /var/lib/hodman, or chmod o+x %s", o.name, d, d)
		}
		if d == filepath.Dir(d) {
			return nil
		}
	}
}

func (o *owner) passes(info os.FileInfo) bool {
	st := info.Sys().(*syscall.Stat_t) // always so on Unix
	switch mode := info.Mode(); {
	case int(st.Uid) == o.uid:
		return mode&0o100 != 0
	case int(st.Gid) == o.gid:
		return mode&0o010 != 0
	default:
		return mode&0o001 != 0
	}
}

// command is a program run by the user, with nothing of our environment that
// Postgres would read (PGDATA, PGPORT and the like).
func (o *owner) command(program string, args ...string) *exec.Cmd {
	cmd := exec.Command(program, args...)
	cmd.Dir = "/" // ours may be closed to the user
	cmd.Env = []string{"PATH=" + os.Getenv("PATH"), "LC_ALL=C"}
	cmd.SysProcAttr = &syscall.SysProcAttr{}
	if o.other {
		cmd.SysProcAttr.Credential = &syscall.Credential{Uid: uint32(o.uid), Gid: uint32(o.gid)}
	}
	return cmd
}

// DefaultDir is where data is kept unless HODMAN_DATA_DIR says otherwise:
// /var/lib/hodman for root, else hodman in the user's data home (XDG).
func DefaultDir(getenv func(string) string) string {
	if dir := getenv("HODMAN_DATA_DIR"); dir != "" {
		return dir
	}
	if os.Geteuid() == 0 {
		return "/var/lib/hodman"
	}
	if dir := getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "hodman")
	}
	return filepath.Join(getenv("HOME"), ".local", "share", "hodman")
}
