//go:build unix

package localpg

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// lockFile takes a lock that ends with our process, however it ends.
func lockFile(path string) (*os.File, error) {
	// The folder is another user's where we are root: no link of his leads us elsewhere.
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		who, _ := os.ReadFile(path) // only to name it
		f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) {
			return nil, fmt.Errorf("another hodman is using this folder (process %s): stop it first, or set HODMAN_DATA_DIR to another folder", strings.TrimSpace(string(who)))
		}
		return nil, fmt.Errorf("lock %s: %w", path, err)
	}
	if err := f.Truncate(0); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	if _, err := f.WriteAt([]byte(strconv.Itoa(os.Getpid())+"\n"), 0); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

// dataVersion is the major version of Postgres that made the data; 0 where there is none.
func dataVersion(data string) (int, error) {
	b, err := os.ReadFile(filepath.Join(data, "PG_VERSION"))
	if errors.Is(err, os.ErrNotExist) {
		if entries, err := os.ReadDir(data); err == nil && len(entries) > 0 {
			return 0, fmt.Errorf("%s holds something that is not a Postgres cluster: move it away", data)
		}
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	version, err := strconv.Atoi(strings.TrimSpace(string(b)))
	if err != nil || version < 1 {
		return 0, fmt.Errorf("%s/PG_VERSION holds %q, which is no version of Postgres that hodman can run; nothing was touched", data, b)
	}
	return version, nil
}

func (s *Server) secretFile() string { return filepath.Join(s.dir, "password") }

// secret is the password made at the first start.
func (s *Server) secret(haveData bool) (string, error) {
	b, err := os.ReadFile(s.secretFile())
	if err == nil && len(b) > 0 {
		return strings.TrimSpace(string(b)), nil
	}
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return "", err
	}
	if haveData {
		return "", fmt.Errorf("%s is missing, and the data cannot be opened without it: put it back from a copy", s.secretFile())
	}
	password := rand.Text()
	side := s.secretFile() + ".new"
	if err := os.Remove(side); err != nil && !errors.Is(err, os.ErrNotExist) { // what a cut-off start left
		return "", err
	}
	f, err := os.OpenFile(side, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600) // through no link, as with the lock
	if err != nil {
		return "", err
	}
	_, err = f.WriteString(password + "\n")
	if err := errors.Join(err, f.Close()); err != nil {
		return "", err
	}
	if err := s.owner.take(side); err != nil { // initdb reads it
		return "", err
	}
	return password, os.Rename(side, s.secretFile())
}

// longestSocket is what the name of a Unix socket may have on Linux; other systems have 103.
const longestSocket = 103

// socketPath is in our folder, or where that makes the socket's name too long, in
// the folder for temporary files under a name that is always the same.
func (s *Server) socketPath() string {
	dir := filepath.Join(s.dir, "run")
	if len(dir)+len("/.s.PGSQL."+port) > longestSocket {
		sum := sha256.Sum256([]byte(s.dir))
		dir = filepath.Join("/tmp", "hodman-"+hex.EncodeToString(sum[:8]))
	}
	return dir
}

// socketFolder makes the socket's folder, for nobody but the user that Postgres runs as.
func (s *Server) socketFolder() (string, error) {
	dir := s.socketPath()
	if err := os.Mkdir(dir, 0o700); err == nil {
		return dir, s.owner.take(dir)
	} else if !errors.Is(err, os.ErrExist) {
		return "", err
	}
	// Anybody may put something under that name in /tmp: only a closed folder of the user's own will do.
	info, err := os.Lstat(dir)
	if err != nil {
		return "", err
	}
	if st := info.Sys().(*syscall.Stat_t); !info.IsDir() || info.Mode().Perm() != 0o700 || int(st.Uid) != s.owner.uid {
		return "", fmt.Errorf("%s should be a folder of user %s that is closed to others: remove it", dir, s.owner.name)
	}
	return dir, nil
}

// How long a Postgres that outlived its hodman may take to stop by itself, and
// then when it is asked to, before we give up.
const (
	orphanLimit = 20 * time.Second
	askedLimit  = 20 * time.Second
)

// awaitOrphans waits for a Postgres that an earlier, killed hodman has left to
// stop, and clears away stale lock files that happen to name a process of today.
func (s *Server) awaitOrphans(ctx context.Context) error {
	began, asked := time.Now(), false
	for {
		pids, known := working(s.data())
		if !known {
			return nil
		}
		if len(pids) == 0 {
			return s.clearStale()
		}
		switch waited := time.Since(began); {
		case waited > orphanLimit+askedLimit:
			return fmt.Errorf("a Postgres of an earlier run (processes %v) does not stop: end it, then start again", pids)
		case waited > orphanLimit && !asked:
			asked = true
			s.log.LogAttrs(ctx, slog.LevelWarn, "stopping a Postgres of an earlier run", slog.Any("processes", pids))
			for _, pid := range pids {
				syscall.Kill(pid, syscall.SIGINT)
			}
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(50 * time.Millisecond):
		}
	}
}

// clearStale removes Postgres's own lock files where their process id now belongs
// to something else, or to a dead process that nobody has buried: Postgres would
// take that for itself and not start. Nobody works in the data and we hold the
// lock, so they guard nothing.
func (s *Server) clearStale() error {
	for _, path := range []string{
		filepath.Join(s.data(), "postmaster.pid"),
		filepath.Join(s.sockets, ".s.PGSQL."+port+".lock"),
	} {
		b, err := os.ReadFile(path)
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err != nil {
			return err
		}
		first, _, _ := strings.Cut(string(b), "\n")
		pid, err := strconv.Atoi(strings.TrimSpace(first))
		if err == nil && errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) {
			continue // Postgres sees by itself that it is stale
		}
		if err := os.Remove(path); err != nil {
			return err
		}
	}
	return nil
}
