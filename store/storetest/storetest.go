// Package storetest gives every test a database of its own, with all tables,
// cloned from one that was made once. Tests may run in parallel.
//
// The Postgres is, in this order, the one at HODMAN_TEST_DATABASE_URL (its user
// must be allowed to make databases), one started from binaries on this machine,
// or a container. HODMAN_TEST_POSTGRES=url, local or container takes just that
// one. What was started is stopped and its files are removed when the test
// process ends, however it ends.
package storetest

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"hodman/migrations"
	"hodman/store"
)

// New opens a fresh, migrated database that is dropped after the test. Without
// any Postgres the test fails: it is never skipped.
func New(t testing.TB) *store.Store {
	t.Helper()
	s, err := store.Open(t.Context(), URL(t))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s
}

// URL is where a fresh, migrated database is, for tests that connect by themselves.
func URL(t testing.TB) string {
	t.Helper()
	s, err := shared()
	if err != nil {
		t.Fatal(err)
	}
	name := "hodman_test_" + strings.ToLower(rand.Text()[:12])
	if err := s.admin(t.Context(), s.clone(name)); err != nil {
		t.Fatalf("make a test database: %v", err)
	}
	t.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
		defer cancel()
		if err := s.admin(ctx, `DROP DATABASE IF EXISTS `+name+` WITH (FORCE)`); err != nil {
			t.Errorf("drop the test database: %v", err)
		}
	})
	return s.url(name)
}

// server is the one Postgres of this test process.
type server struct {
	base *url.URL
	// conn is the one connection that makes and drops databases: a new one costs more than a clone.
	mu       sync.Mutex
	conn     *pgx.Conn
	template string
	version  int
}

var shared = sync.OnceValues(func() (*server, error) {
	ctx, cancel := context.WithTimeout(context.Background(), 4*time.Minute)
	defer cancel()
	at, err := find(ctx)
	if err != nil {
		return nil, fmt.Errorf("no Postgres to test with: %w.\nSet HODMAN_TEST_DATABASE_URL to one whose user may make databases, or install PostgreSQL (Debian: apt-get install postgresql), or start a Docker engine and set HODMAN_TEST_POSTGRES_IMAGE to a Postgres image", err)
	}
	return serverAt(ctx, at)
})

func serverAt(ctx context.Context, at string) (*server, error) {
	base, err := url.Parse(at)
	if err != nil {
		return nil, errors.New("the URL of the test database cannot be read")
	}
	s := &server{base: base}
	if s.conn, err = connect(ctx, at); err != nil {
		return nil, fmt.Errorf("connect to the test Postgres: %w", err)
	}
	if err := s.conn.QueryRow(ctx, `SELECT current_setting('server_version_num')::integer`).Scan(&s.version); err != nil {
		return nil, err
	}
	return s, s.makeTemplate(ctx)
}

// connect is patient: a container's port is open a little before its server answers.
func connect(ctx context.Context, at string) (*pgx.Conn, error) {
	ctx, cancel := context.WithTimeout(ctx, 20*time.Second)
	defer cancel()
	for {
		c, err := pgx.Connect(ctx, at)
		if err == nil || ctx.Err() != nil {
			return c, err
		}
		select {
		case <-ctx.Done():
			return nil, err
		case <-time.After(100 * time.Millisecond):
		}
	}
}

func (s *server) url(database string) string {
	u := *s.base
	u.Path = "/" + database
	return u.String()
}

// admin runs one statement on the shared connection.
func (s *server) admin(ctx context.Context, sql string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, err := s.conn.Exec(ctx, sql)
	return err
}

// clone is the statement that copies the template.
func (s *server) clone(name string) string {
	sql := `CREATE DATABASE ` + name + ` TEMPLATE ` + s.template
	if s.version >= 150000 {
		sql += ` STRATEGY FILE_COPY` // three times faster than the default for a small database
	}
	return sql
}

// makeTemplate makes the migrated database that tests clone. It is named by what
// the migrations say, so a server that is used again has it already. It is made
// under another name first: two test processes may come at once.
func (s *server) makeTemplate(ctx context.Context) error {
	sum, err := digest(migrations.FS)
	if err != nil {
		return err
	}
	s.template = "hodman_template_" + sum
	var have bool
	err = s.conn.QueryRow(ctx, `SELECT EXISTS (SELECT 1 FROM pg_database WHERE datname = $1)`, s.template).Scan(&have)
	if err != nil || have {
		return err
	}
	side := "hodman_making_" + strings.ToLower(rand.Text()[:12])
	if err := s.admin(ctx, `CREATE DATABASE `+side); err != nil {
		return err
	}
	if err := store.Migrate(ctx, s.url(side), slog.New(slog.DiscardHandler)); err != nil {
		return err
	}
	if err := s.admin(ctx, `ALTER DATABASE `+side+` RENAME TO `+s.template); err == nil {
		return nil
	}
	return s.admin(ctx, `DROP DATABASE `+side) // the other process was first
}

// digest is short for everything in the migrations.
func digest(fsys fs.FS) (string, error) {
	h := sha256.New()
	err := fs.WalkDir(fsys, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(fsys, path)
		fmt.Fprintf(h, "%s %d\n%s", path, len(b), b) // a hash never fails to be written
		return err
	})
	return hex.EncodeToString(h.Sum(nil)[:8]), err
}
