//go:build unix

package localpg_test

import (
	"context"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/jackc/pgx/v5"

	"hodman/store/localpg"
)

// childDir names the folder that this test binary, run as a child, starts a server in.
const childDir = "HODMAN_LOCALPG_CHILD_DIR"

func TestMain(m *testing.M) {
	if dir := os.Getenv(childDir); dir != "" {
		child(dir)
	}
	os.Exit(m.Run())
}

var quiet = slog.New(slog.DiscardHandler)

// folder is one that any user may pass through, unlike t.TempDir.
func folder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "hodman-pg-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(dir); err != nil {
			t.Error(err)
		}
	})
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	return dir
}

func mustStart(t *testing.T, dir string, options ...localpg.Option) *localpg.Server {
	t.Helper()
	s, err := localpg.Start(t.Context(), dir, quiet, options...)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { mustStop(t, s) })
	return s
}

func mustStop(t *testing.T, s *localpg.Server) {
	t.Helper()
	if err := s.Stop(); err != nil {
		t.Error(err)
	}
}

// refused starts where it must not and returns the words.
func refused(t *testing.T, dir string, options ...localpg.Option) string {
	t.Helper()
	s, err := localpg.Start(t.Context(), dir, quiet, options...)
	if err == nil {
		mustStop(t, s)
		t.Fatal("it started")
	}
	return err.Error()
}

func write(ctx context.Context, s *localpg.Server, text string) error {
	c, err := pgx.Connect(ctx, s.URL())
	if err != nil {
		return err
	}
	defer c.Close(ctx)
	if _, err := c.Exec(ctx, `CREATE TABLE IF NOT EXISTS kept (text text)`); err != nil {
		return err
	}
	_, err = c.Exec(ctx, `INSERT INTO kept VALUES ($1)`, text)
	return err
}

func read(t *testing.T, s *localpg.Server) []string {
	t.Helper()
	c, err := pgx.Connect(t.Context(), s.URL())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(t.Context())
	rows, err := c.Query(t.Context(), `SELECT text FROM kept`)
	if err != nil {
		t.Fatal(err)
	}
	texts, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	return texts
}

// The first start makes everything, the second takes it up, and what the first
// left beside it does no harm.
func TestRestartKeepsData(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	side := filepath.Join(dir, "postgres", "data.new")
	if err := os.MkdirAll(filepath.Join(side, "base"), 0o755); err != nil { // a cut-off first start
		t.Fatal(err)
	}
	s := mustStart(t, dir)
	if err := write(t.Context(), s, "first"); err != nil {
		t.Fatal(err)
	}
	mustStop(t, s)
	select {
	case <-s.Done():
	default:
		t.Error("stopped, but not done")
	}
	// Lock files left by a crash, whose process id is now somebody else's.
	stale := fmt.Sprintf("%d\n", os.Getpid())
	for _, name := range []string{"data/postmaster.pid", "run/.s.PGSQL.5432.lock"} {
		if err := os.WriteFile(filepath.Join(dir, "postgres", name), []byte(stale), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s = mustStart(t, dir)
	if d := cmp.Diff([]string{"first"}, read(t, s)); d != "" {
		t.Errorf("-want +got\n%s", d)
	}
	info, err := os.Stat(filepath.Join(dir, "postgres", "password"))
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("password file: %v, %v; want mode 0600", info.Mode(), err)
	}
}

func TestRoleIsNoSuperuser(t *testing.T) {
	t.Parallel()
	s := mustStart(t, folder(t), localpg.Throwaway())
	c, err := pgx.Connect(t.Context(), s.URL())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(t.Context())
	var super, bypass bool
	err = c.QueryRow(t.Context(), `SELECT rolsuper, rolbypassrls FROM pg_roles WHERE rolname = current_user`).Scan(&super, &bypass)
	if err != nil || super || bypass {
		t.Errorf("superuser %v, bypasses row security %v, %v; want neither", super, bypass, err)
	}
	// Without the password there is no way in, even for the user that owns the socket.
	bare := strings.Replace(s.URL(), ":"+passwordOf(t, s.URL())+"@", ":wrong@", 1)
	if c, err := pgx.Connect(t.Context(), bare); err == nil {
		c.Close(t.Context())
		t.Error("a wrong password was let in")
	}
}

func passwordOf(t *testing.T, at string) string {
	t.Helper()
	cfg, err := pgx.ParseConfig(at)
	if err != nil {
		t.Fatal(err)
	}
	return cfg.Password
}

func TestSecondOnTheSameFolderIsRefused(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	s := mustStart(t, dir, localpg.Throwaway())
	says := refused(t, dir)
	if !strings.Contains(says, "another hodman") || !strings.Contains(says, strconv.Itoa(os.Getpid())) {
		t.Errorf("it says %q; want the other process named", says)
	}
	if err := write(t.Context(), s, "still here"); err != nil {
		t.Errorf("the first was disturbed: %v", err)
	}
}

func TestLongPathStillGetsASocket(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(folder(t), strings.Repeat("a-long-name/", 10))
	s := mustStart(t, dir, localpg.Throwaway())
	if err := write(t.Context(), s, "x"); err != nil {
		t.Fatal(err)
	}
	cfg, err := pgx.ParseConfig(s.URL())
	if err != nil {
		t.Fatal(err)
	}
	mustStop(t, s)
	if _, err := os.Stat(cfg.Host); !os.IsNotExist(err) {
		t.Errorf("%s is left behind (%v)", cfg.Host, err)
	}
}

// Data of another version is refused by name and not touched: no file comes,
// goes or changes.
func TestOtherVersionIsRefusedAndUntouched(t *testing.T) {
	t.Parallel()
	for _, version := range []string{"9.6\n", "11\n", "99\n"} {
		dir := folder(t)
		mustStop(t, mustStart(t, dir, localpg.Throwaway()))
		data := filepath.Join(dir, "postgres", "data")
		if err := os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte(version), 0o600); err != nil {
			t.Fatal(err)
		}
		before := contents(t, data)
		says := refused(t, dir, localpg.NoFetch())
		if !strings.Contains(says, strings.TrimSpace(version)) || !strings.Contains(says, "othing was touched") {
			t.Errorf("it says %q; want version %s and that nothing was touched", says, version)
		}
		if d := cmp.Diff(before, contents(t, data)); d != "" {
			t.Errorf("-before +after\n%s", d)
		}
	}
}

// contents lists every file of a folder with its size and time.
func contents(t *testing.T, dir string) (list []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		list = append(list, fmt.Sprint(path, info.Size(), info.Mode(), info.ModTime()))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestNotACluster(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	file := filepath.Join(dir, "postgres", "data", "holiday.jpg")
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	if os.Geteuid() == 0 {
		if err := os.Chown(filepath.Dir(file), 65534, 65534); err != nil {
			t.Fatal(err)
		}
	}
	if says := refused(t, dir); !strings.Contains(says, "not a Postgres cluster") {
		t.Errorf("it says %q", says)
	}
	if _, err := os.Stat(file); err != nil {
		t.Error(err)
	}
}

func TestLostPasswordIsSaid(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	mustStop(t, mustStart(t, dir, localpg.Throwaway()))
	if err := os.Remove(filepath.Join(dir, "postgres", "password")); err != nil {
		t.Fatal(err)
	}
	if says := refused(t, dir); !strings.Contains(says, "password is missing") {
		t.Errorf("it says %q", says)
	}
}

// Where there is no Postgres the three ways out are named.
func TestNoPostgresAtAll(t *testing.T) {
	dir := folder(t)
	t.Setenv("HODMAN_POSTGRES_BIN", filepath.Join(dir, "nothing"))
	says := refused(t, dir)
	for _, way := range []string{"HODMAN_DATABASE_URL", "install PostgreSQL", "fetch"} {
		if !strings.Contains(says, way) {
			t.Errorf("it says %q; want %q in it", says, way)
		}
	}
}

// As root Postgres runs as another user, who must be able to reach the data.
func TestClosedFolderAboveIsSaid(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	if os.Geteuid() != 0 {
		// A plain user runs Postgres himself: a closed folder of his own is no hindrance.
		if err := os.Chmod(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		mustStart(t, filepath.Join(dir, "data"), localpg.Throwaway())
		return
	}
	if err := os.Chmod(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if says := refused(t, filepath.Join(dir, "data")); !strings.Contains(says, "chmod o+x "+dir) {
		t.Errorf("it says %q; want the remedy", says)
	}
}

func TestDefaultDir(t *testing.T) {
	t.Parallel()
	env := func(m map[string]string) func(string) string { return func(k string) string { return m[k] } }
	if got := localpg.DefaultDir(env(map[string]string{"HODMAN_DATA_DIR": "/srv/h"})); got != "/srv/h" {
		t.Errorf("HODMAN_DATA_DIR gives %s", got)
	}
	want := "/var/lib/hodman"
	if os.Geteuid() != 0 {
		want = "/home/x/.local/share/hodman"
	}
	if got := localpg.DefaultDir(env(map[string]string{"HOME": "/home/x"})); got != want {
		t.Errorf("default is %s, want %s", got, want)
	}
}

// A start that is called off comes back soon and leaves nothing running.
func TestStartCalledOff(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	dir := folder(t)
	if s, err := localpg.Start(ctx, dir, quiet); err == nil {
		mustStop(t, s)
		t.Fatal("it started within 100 ms, initdb and all")
	}
	mustStart(t, dir, localpg.Throwaway()) // and the folder is free again
}
