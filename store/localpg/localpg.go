//go:build unix

// Package localpg runs a Postgres of hodman's own: the default where no database
// is given. Its data stays in a folder from one run to the next and is never
// deleted here. It listens on a Unix socket only, asks for a password made at
// the first start, and stops when hodman stops, however that comes about.
package localpg

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// Server is a running Postgres.
type Server struct {
	dir      string // <data dir>/postgres
	bin      string // folder of the binaries
	owner    *owner
	password string
	sockets  string // folder of the socket
	log      *slog.Logger
	config   config

	lock *os.File
	main *process
	stop sync.Once
	err  error
}

type config struct {
	throwaway bool
	noFetch   bool
}

// Option changes how a server is started.
type Option func(*config)

// Throwaway trades the safety of the data for speed: for tests only.
func Throwaway() Option { return func(c *config) { c.throwaway = true } }

// NoFetch forbids to fetch binaries where the machine has none.
func NoFetch() Option { return func(c *config) { c.noFetch = true } }

// startLimit is how long a start may take; mending after a crash is part of it.
const startLimit = 3 * time.Minute

// Start runs a Postgres with its data under dir and waits until it answers. The
// first time it makes the data; later it takes up what is there, mending it
// first if the last run was cut off. A folder that another hodman is using, data
// of another version, or a machine without Postgres is an error that says what to do.
//
// As root it runs Postgres as the owner of the data, at first user "postgres" or
// else "nobody", because Postgres refuses to be run by root.
func Start(ctx context.Context, dir string, log *slog.Logger, options ...Option) (_ *Server, err error) {
	ctx, cancel := context.WithTimeout(ctx, startLimit)
	defer cancel()
	if dir, err = filepath.Abs(dir); err != nil {
		return nil, fmt.Errorf("local Postgres: %w", err)
	}
	s := &Server{dir: filepath.Join(dir, "postgres"), log: log}
	for _, o := range options {
		o(&s.config)
	}
	defer func() {
		if err != nil {
			err = fmt.Errorf("local Postgres in %s: %w", s.dir, errors.Join(err, s.Stop()))
		}
	}()
	if err := s.prepare(ctx); err != nil {
		return nil, err
	}
	if err := s.run(ctx); err != nil {
		return nil, err
	}
	return s, s.makeDatabase(ctx)
}

// prepare does everything up to a cluster that can be started.
func (s *Server) prepare(ctx context.Context) (err error) {
	if s.owner, err = ownerOf(s.data()); err != nil {
		return err
	}
	if err := s.makeFolder(); err != nil {
		return err
	}
	if s.lock, err = lockFile(filepath.Join(s.dir, "lock")); err != nil {
		return err
	}
	version, err := dataVersion(s.data())
	if err != nil {
		return err
	}
	if s.bin, err = s.binaries(ctx, version); err != nil {
		return err
	}
	if s.password, err = s.secret(version != 0); err != nil {
		return err
	}
	if s.sockets, err = s.socketFolder(); err != nil {
		return err
	}
	if version == 0 {
		return s.initdb(ctx)
	}
	return s.awaitOrphans(ctx)
}

func (s *Server) data() string { return filepath.Join(s.dir, "data") }

// makeFolder makes our folder, for nobody but the user that Postgres runs as.
func (s *Server) makeFolder() error {
	if err := os.MkdirAll(filepath.Dir(s.dir), 0o755); err != nil {
		return err
	}
	if err := os.Mkdir(s.dir, 0o700); err != nil && !errors.Is(err, os.ErrExist) {
		return err
	}
	if err := s.owner.canReach(filepath.Dir(s.dir)); err != nil {
		return err
	}
	return s.owner.take(s.dir)
}

// initdb makes the cluster in a side folder and renames it when it is whole, so
// that a cut-off start leaves nothing that looks like data.
func (s *Server) initdb(ctx context.Context) error {
	side := s.data() + ".new"
	if err := os.RemoveAll(side); err != nil { // what a cut-off start left; never data that was used
		return err
	}
	args := []string{"-D", side, "-U", superuser, "--pwfile", s.secretFile(), "--auth", "scram-sha-256",
		"--encoding", "UTF8", "--locale", "C"}
	if s.config.throwaway {
		args = append(args, "--no-sync")
	}
	s.log.LogAttrs(ctx, slog.LevelInfo, "making a new database cluster", slog.String("dir", s.data()))
	p, err := start(s.owner.command(filepath.Join(s.bin, "initdb"), args...), syscall.SIGTERM)
	if err != nil {
		return err
	}
	select {
	case <-p.done:
	case <-ctx.Done():
		// Asked first: then it ends its own children and takes away what it made.
		if !p.end(syscall.SIGTERM, immediateLimit) && !p.end(syscall.SIGKILL, immediateLimit) {
			return errors.New("initdb does not stop")
		}
	}
	if p.err != nil {
		return fmt.Errorf("initdb: %w\n%s", p.err, p.tail)
	}
	return os.Rename(side, s.data())
}

// run starts the server and waits until it answers.
func (s *Server) run(ctx context.Context) (err error) {
	args := []string{"-D", s.data(), "-k", s.sockets, "-p", port,
		"-c", "listen_addresses=", "-c", "unix_socket_permissions=0700", "-c", "max_connections=50",
		"-c", "timezone=UTC", "-c", "log_timezone=UTC", "-c", "logging_collector=off", "-c", "log_destination=stderr"}
	if s.config.throwaway {
		args = append(args, "-c", "fsync=off", "-c", "full_page_writes=off", "-c", "synchronous_commit=off")
	}
	// SIGINT is the fast shutdown: it ends sessions and writes everything down.
	if s.main, err = start(s.owner.command(filepath.Join(s.bin, "postgres"), args...), syscall.SIGINT); err != nil {
		return err
	}
	return s.awaitAnswer(ctx)
}

func (s *Server) awaitAnswer(ctx context.Context) error {
	for {
		c, err := pgx.Connect(ctx, s.AdminURL("postgres"))
		if err == nil {
			return c.Close(ctx)
		}
		select {
		case <-s.main.done:
			return fmt.Errorf("postgres ended at once: %v\n%s", s.main.err, s.main.tail)
		case <-ctx.Done():
			return fmt.Errorf("postgres does not answer: %w\n%s", err, s.main.tail)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

const (
	superuser = "postgres"
	appName   = "hodman" // of the role and of the database
	port      = "5432"   // only part of the socket's name
)

// makeDatabase makes the role and the database that hodman uses, where the
// first start did not come that far. The role is no superuser.
func (s *Server) makeDatabase(ctx context.Context) error {
	c, err := pgx.Connect(ctx, s.AdminURL("postgres"))
	if err != nil {
		return err
	}
	defer c.Close(context.WithoutCancel(ctx))
	for _, step := range []struct{ unless, do string }{
		// The password is letters and digits of our own making: nothing to escape.
		{`SELECT 1 FROM pg_roles WHERE rolname = $1`, `CREATE ROLE ` + appName + ` LOGIN PASSWORD '` + s.password + `'`},
		{`SELECT 1 FROM pg_database WHERE datname = $1`, `CREATE DATABASE ` + appName + ` OWNER ` + appName},
	} {
		var one int
		err := c.QueryRow(ctx, step.unless, appName).Scan(&one)
		if errors.Is(err, pgx.ErrNoRows) {
			_, err = c.Exec(ctx, step.do)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// URL is where hodman's own database is reached. It holds the password: do not log it.
func (s *Server) URL() string { return s.url(appName, appName) }

// AdminURL reaches a database as the superuser, for tests and repairs.
func (s *Server) AdminURL(database string) string { return s.url(superuser, database) }

func (s *Server) url(user, database string) string {
	u := url.URL{Scheme: "postgres", User: url.UserPassword(user, s.password), Path: "/" + database,
		RawQuery: url.Values{"host": {s.sockets}, "port": {port}}.Encode()}
	return u.String()
}

// PID is the process id of the server.
func (s *Server) PID() int { return s.main.cmd.Process.Pid }

// Done is closed when the server has ended, asked for or not.
func (s *Server) Done() <-chan struct{} { return s.main.done }

// How long a shutdown may take before it is pressed harder.
const (
	fastLimit      = 30 * time.Second
	immediateLimit = 10 * time.Second
)

// Stop shuts the server down: sessions are ended and everything is written down.
// Only if that takes too long is it cut off, which the next start mends. To stop
// twice is the same as once.
func (s *Server) Stop() error {
	s.stop.Do(func() {
		if s.main != nil && !s.main.end(syscall.SIGINT, fastLimit) && !s.main.end(syscall.SIGQUIT, immediateLimit) {
			s.err = errors.New("postgres does not stop")
			return // and keeps the lock: the data is still in use
		}
		if s.sockets != "" && s.sockets != filepath.Join(s.dir, "run") {
			os.Remove(s.sockets)
		}
		if s.lock != nil {
			s.lock.Close()
		}
	})
	return s.err
}
