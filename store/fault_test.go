package store_test

import (
	"errors"
	"fmt"
	"net"
	"net/url"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hodman/service"
	"hodman/store"
	"hodman/store/storetest"
)

// cutter stands between the pool and Postgres and cuts the line at one message.
type cutter struct {
	network, address string // of Postgres

	mu    sync.Mutex
	left  int  // messages from the pool until the cut; not armed at nought
	after bool // let Postgres have the message, and keep its answer back
	cut   bool
}

// newCutter returns a cutter and the URL that leads through it.
func newCutter(t *testing.T, at string) (*cutter, string) {
	t.Helper()
	cfg, err := pgx.ParseConfig(at)
	if err != nil {
		t.Fatal(err)
	}
	c := &cutter{network: "tcp", address: net.JoinHostPort(cfg.Host, fmt.Sprint(cfg.Port))}
	if filepath.IsAbs(cfg.Host) {
		c.network, c.address = "unix", filepath.Join(cfg.Host, fmt.Sprintf(".s.PGSQL.%d", cfg.Port))
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	go func() {
		for {
			conn, err := l.Accept()
			if err != nil {
				return
			}
			go c.serve(conn)
		}
	}()
	u := url.URL{Scheme: "postgres", User: url.UserPassword(cfg.User, cfg.Password), Host: l.Addr().String(),
		Path: "/" + cfg.Database, RawQuery: "sslmode=disable&pool_max_conns=1"}
	return c, u.String()
}

func (c *cutter) arm(at int, after bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.left, c.after, c.cut = at, after, false
}

// disarm says whether the line was cut.
func (c *cutter) disarm() bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.left = 0
	return c.cut
}

// message counts one and says whether to cut here, and how.
func (c *cutter) message() (cut, after bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.left == 0 {
		return false, false
	}
	c.left--
	c.cut = c.left == 0
	return c.cut, c.after
}

func (c *cutter) serve(pool net.Conn) {
	server, err := net.Dial(c.network, c.address)
	if err != nil {
		pool.Close()
		return
	}
	hang := func() {
		pool.Close()
		server.Close()
	}
	defer hang()
	var hush atomic.Bool // the next answer is not passed on
	go func() {
		defer hang()
		b := make([]byte, 64<<10)
		for {
			n, err := pool.Read(b)
			if err != nil {
				return
			}
			cut, after := c.message()
			if cut && !after {
				return
			}
			hush.Store(cut)
			if _, err := server.Write(b[:n]); err != nil {
				return
			}
		}
	}()
	b := make([]byte, 64<<10)
	for {
		n, err := server.Read(b)
		if err != nil || hush.Load() { // an answer that is kept back: Postgres has done it
			return
		}
		if _, err := pool.Write(b[:n]); err != nil {
			return
		}
	}
}

// The line is cut at every message of a request in turn, before Postgres hears it
// and after Postgres did it. Whatever came of it, the same request sent again
// leaves exactly one effect, with its event.
func TestLineCutAtEveryMessage(t *testing.T) {
	t.Parallel()
	at := storetest.URL(t)
	c, through := newCutter(t, at)
	s, err := store.Open(t.Context(), through)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	p := merchant(t, s, "main")
	cuts, lost := 0, 0
	for _, after := range []bool{false, true} {
		for k := 1; ; k++ {
			once := service.Idempotency{Key: fmt.Sprintf("request %d %v", k, after), Fingerprint: "f"}
			j := draft(once.Key)
			send := func() (service.Job, bool, error) {
				return s.InsertJob(t.Context(), p, j, event(p, j.ID, service.JobCreated), once)
			}
			if err := s.Ready(t.Context()); err != nil { // a connection is there
				t.Fatal(err)
			}
			c.arm(k, after)
			_, _, err := send()
			cut := c.disarm()
			if !cut {
				if err != nil {
					t.Fatalf("not cut, but %v", err)
				}
				break
			}
			cuts++
			isKind(t, err, service.Unavailable)
			made, replayed := again(t, send)
			if replayed {
				lost++
			}
			same(t, made, j)
			jobs, err := s.Jobs(t.Context(), p.Tenant, uuid.Max, 1000)
			if err != nil {
				t.Fatal(err)
			}
			n := 0
			for _, x := range jobs {
				if x.Reference == once.Key {
					n++
				}
			}
			events, err := s.History(t.Context(), p.Tenant, j.ID, 1<<40, 10)
			if err != nil || n != 1 || len(events) != 1 {
				t.Errorf("cut at %d (after: %v): %d jobs, %d events, %v; want one of each", k, after, n, len(events), err)
			}
		}
	}
	// begin, the key, the job, its event, the answer, commit: each was cut twice at
	// least, and once the answer to the commit was lost.
	if cuts < 12 || lost == 0 {
		t.Errorf("%d cuts, %d after the commit: the sweep did not sweep", cuts, lost)
	}
}

// again sends until the pool has noticed its broken connection.
func again(t *testing.T, send func() (service.Job, bool, error)) (service.Job, bool) {
	t.Helper()
	for range 3 {
		made, replayed, err := send()
		var e *service.Error
		if errors.As(err, &e) && e.Kind == service.Unavailable {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		return made, replayed
	}
	t.Fatal("still unavailable")
	return service.Job{}, false
}
