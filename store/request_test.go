package store_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hodman/service"
	"hodman/store"
	"hodman/store/storetest"
)

func TestSameKeySameAnswer(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	once := service.Idempotency{Key: "key-of-the-request", Fingerprint: "f1"}
	first := draft("first")
	made, replayed, err := s.InsertJob(t.Context(), p, first, event(p, first.ID, service.JobCreated), once)
	if err != nil || replayed {
		t.Fatal(replayed, err)
	}
	// The job changes in between; the answer is still the first one.
	if _, _, err := addRevision(t.Context(), s, p, made.ID, "{}", service.Idempotency{}); err != nil {
		t.Fatal(err)
	}
	second := draft("second")
	again, replayed, err := s.InsertJob(t.Context(), p, second, event(p, second.ID, service.JobCreated), once)
	if err != nil || !replayed {
		t.Fatalf("replayed %v, %v; want a replay", replayed, err)
	}
	same(t, again, made)
	if jobs, err := s.Jobs(t.Context(), p.Tenant, uuid.Max, 9); err != nil || len(jobs) != 1 {
		t.Errorf("%d jobs, %v; want 1", len(jobs), err)
	}
	once.Fingerprint = "f2"
	_, _, err = s.InsertJob(t.Context(), p, second, event(p, second.ID, service.JobCreated), once)
	if e := isKind(t, err, service.Invalid); e.Code != "idempotency_mismatch" {
		t.Errorf("code %s, want idempotency_mismatch", e.Code)
	}
}

// The same word of another access key is another request.
func TestKeysOfDifferentCallersAreApart(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	once := service.Idempotency{Key: "key-of-the-request", Fingerprint: "f1"}
	for _, p := range []service.Principal{merchant(t, s, "main"), merchant(t, s, "main"), merchant(t, s, "other")} {
		j := draft("job")
		if _, replayed, err := s.InsertJob(t.Context(), p, j, event(p, j.ID, service.JobCreated), once); err != nil || replayed {
			t.Errorf("replayed %v, %v; want a request of its own", replayed, err)
		}
	}
}

func TestReplayedScheduleAndTakeoffHaveTheirBytes(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	onceR := service.Idempotency{Key: "a-schedule-request", Fingerprint: "f"}
	r, _, err := addRevision(t.Context(), s, p, j.ID, `{"a": 1}`, onceR)
	if err != nil {
		t.Fatal(err)
	}
	again, replayed, err := addRevision(t.Context(), s, p, j.ID, `{"b": 1}`, onceR)
	if err != nil || !replayed {
		t.Fatal(replayed, err)
	}
	same(t, again, r)

	onceT := service.Idempotency{Key: "a-takeoff-request", Fingerprint: "f"}
	if _, ok, err := s.ReplayedTakeoff(t.Context(), p, noon, onceT); ok || err != nil {
		t.Fatalf("replayed %v, %v before anything was made", ok, err)
	}
	to, _, err := addTakeoff(t.Context(), s, p, j.ID, 1, `{"t": 1}`, onceT)
	if err != nil {
		t.Fatal(err)
	}
	same2, replayed, err := addTakeoff(t.Context(), s, p, j.ID, 1, `{"t": 2}`, onceT)
	if err != nil || !replayed {
		t.Fatal(replayed, err)
	}
	same(t, same2, to)
	found, ok, err := s.ReplayedTakeoff(t.Context(), p, noon, onceT)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	same(t, found, to)
}

// What failed is not remembered: the same key may try again.
func TestFailureLeavesNoKey(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	once := service.Idempotency{Key: "key-of-the-request", Fingerprint: "f"}
	_, _, err := addRevision(t.Context(), s, p, newID(), "{}", once)
	isKind(t, err, service.NotFound)
	j := mustJob(t, s, p)
	if _, replayed, err := addRevision(t.Context(), s, p, j.ID, "{}", once); err != nil || replayed {
		t.Errorf("replayed %v, %v; want a fresh try", replayed, err)
	}
}

// Many send the same request at once: it happens once, and all get the same answer.
func TestSameKeyAtOnceHasOneEffect(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	once := service.Idempotency{Key: "key-of-the-request", Fingerprint: "f"}
	ids := make(chan uuid.UUID, 10)
	same(t, atOnce(10, func(int) error {
		j := draft("job")
		made, _, err := s.InsertJob(t.Context(), p, j, event(p, j.ID, service.JobCreated), once)
		ids <- made.ID
		return err
	}), map[string]int{"": 10})
	jobs, err := s.Jobs(t.Context(), p.Tenant, uuid.Max, 99)
	if err != nil || len(jobs) != 1 {
		t.Fatalf("%d jobs, %v; want 1", len(jobs), err)
	}
	close(ids)
	for id := range ids {
		if id != jobs[0].ID {
			t.Errorf("answered %s, but the job is %s", id, jobs[0].ID)
		}
	}
}

// A request that is still being worked on when the wait is over is told to come back.
func TestInFlight(t *testing.T) {
	t.Parallel()
	at := storetest.URL(t)
	s, err := store.Open(t.Context(), at)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	p := merchant(t, s, "main")
	c, err := pgx.Connect(t.Context(), at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(t.Context())
	tx, err := c.Begin(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := tx.Exec(t.Context(), `INSERT INTO requests (tenant_id, key_id, key, fingerprint, expires_at) VALUES ($1, $2, 'slow', 'f', $3)`,
		p.Tenant, p.KeyID, noon.Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	j := draft("job")
	once := service.Idempotency{Key: "slow", Fingerprint: "f"}
	_, _, err = s.InsertJob(t.Context(), p, j, event(p, j.ID, service.JobCreated), once)
	if e := isKind(t, err, service.Conflict); e.Code != "in_flight" || e.RetryAfter != time.Second {
		t.Errorf("code %s, wait %v; want in_flight and 1s", e.Code, e.RetryAfter)
	}
	if err := tx.Rollback(t.Context()); err != nil {
		t.Fatal(err)
	}
	if _, replayed, err := s.InsertJob(t.Context(), p, j, event(p, j.ID, service.JobCreated), once); err != nil || replayed {
		t.Errorf("after the other gave up: replayed %v, %v; want it done", replayed, err)
	}
}

// After its time a key starts anew, and rows that have expired go away.
func TestExpiry(t *testing.T) {
	t.Parallel()
	at := storetest.URL(t)
	s, err := store.Open(t.Context(), at)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	p := merchant(t, s, "main")
	send := func(key string, when time.Time) bool {
		t.Helper()
		j := draft("job")
		e := event(p, j.ID, service.JobCreated)
		e.At = when
		_, replayed, err := s.InsertJob(t.Context(), p, j, e, service.Idempotency{Key: key, Fingerprint: when.String()[:10]})
		if err != nil {
			t.Fatal(err)
		}
		return replayed
	}
	send("first", noon)
	send("left behind", noon)
	if send("first", noon.Add(service.IdempotencyKept)) { // with another fingerprint even
		t.Error("an expired request was replayed")
	}
	c, err := pgx.Connect(t.Context(), at)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(t.Context())
	var rows int
	if err := c.QueryRow(t.Context(), `SELECT count(*) FROM requests WHERE tenant_id = $1`, p.Tenant).Scan(&rows); err != nil {
		t.Fatal(err)
	}
	if rows != 1 {
		t.Errorf("%d requests kept, want only the last", rows)
	}
}
