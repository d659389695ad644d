package store_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"hodman/service"
	"hodman/store"
	"hodman/store/storetest"
)

// model is what a merchant's jobs should be after any run of calls: the plainest
// thing that could be right.
type model struct {
	s *store.Store
	p service.Principal

	jobs     []service.Job // oldest first
	kinds    map[uuid.UUID][]service.EventKind
	docs     map[uuid.UUID][]string // of the schedules
	takeoffs map[uuid.UUID][]service.StoredTakeoff
	asked    map[string]asked
}

// asked is a request that was answered, by its key.
type asked struct {
	fingerprint string
	answer      any
}

// once draws a key, often one that was used before, and a fingerprint that as in
// the service says what was asked for.
func (m *model) once(t *rapid.T, what string) service.Idempotency {
	key := rapid.SampledFrom([]string{"", "", "k1", "k2", "k3", "k4"}).Draw(t, "key")
	return service.Idempotency{Key: key, Fingerprint: what + rapid.SampledFrom([]string{"f", "f", "f", "g"}).Draw(t, "fingerprint")}
}

// settle compares a call's outcome with the model's and says whether it was new.
func (m *model) settle(t *rapid.T, once service.Idempotency, got any, replayed bool, err error) bool {
	before, known := m.asked[once.Key]
	switch {
	case known && before.fingerprint != once.Fingerprint:
		if e, ok := err.(*service.Error); !ok || e.Code != "idempotency_mismatch" {
			t.Fatalf("key %s for another request: %v", once.Key, err)
		}
		return false
	case err != nil:
		t.Fatal(err)
	case known:
		if !replayed || !cmp.Equal(got, before.answer) {
			t.Fatalf("key %s again: replayed %v\n%s", once.Key, replayed, cmp.Diff(before.answer, got))
		}
		return false
	case replayed:
		t.Fatalf("key %q is new, but replayed", once.Key)
	}
	if once.Key != "" {
		m.asked[once.Key] = asked{once.Fingerprint, got}
	}
	return true
}

func (m *model) job(t *rapid.T) *service.Job {
	if len(m.jobs) == 0 {
		t.Skip("no job yet")
	}
	return &m.jobs[rapid.IntRange(0, len(m.jobs)-1).Draw(t, "job")]
}

func (m *model) create(t *rapid.T) {
	once := m.once(t, "job")
	j := draft(fmt.Sprint("job ", len(m.jobs)))
	made, replayed, err := m.s.InsertJob(t.Context(), m.p, j, event(m.p, j.ID, service.JobCreated), once)
	if m.settle(t, once, made, replayed, err) {
		m.jobs = append(m.jobs, j)
		m.kinds[j.ID] = append(m.kinds[j.ID], service.JobCreated)
	}
}

func (m *model) change(t *rapid.T) {
	j := m.job(t)
	version := rapid.Int64Range(max(1, j.Version-1), j.Version).Draw(t, "version")
	notes := rapid.String().Filter(func(s string) bool { return len(s) < 1000 && !strings.ContainsRune(s, 0) }).Draw(t, "notes")
	got, err := m.s.UpdateJob(t.Context(), m.p.Tenant, j.ID, version, func(j *service.Job) (service.Event, error) {
		j.Notes = notes
		j.Version++
		return event(m.p, j.ID, service.JobChanged), nil
	})
	if version != j.Version {
		if e, ok := err.(*service.Error); !ok || e.Kind != service.Stale {
			t.Fatalf("changed at version %d of %d: %v", version, j.Version, err)
		}
		return
	}
	j.Notes = notes
	j.Version++
	if err != nil || !cmp.Equal(got, *j) {
		t.Fatalf("%v\n%s", err, cmp.Diff(*j, got))
	}
	m.kinds[j.ID] = append(m.kinds[j.ID], service.JobChanged)
}

func (m *model) revise(t *rapid.T) {
	j := m.job(t)
	once := m.once(t, "schedule of "+j.ID.String())
	doc := fmt.Sprintf("{%d}", len(m.docs[j.ID]))
	made, replayed, err := addRevision(t.Context(), m.s, m.p, j.ID, doc, once)
	if m.settle(t, once, made, replayed, err) {
		m.docs[j.ID] = append(m.docs[j.ID], doc)
		m.kinds[j.ID] = append(m.kinds[j.ID], service.ScheduleAdded)
		j.LatestRevision++
		j.Version++
		if made.Revision != j.LatestRevision {
			t.Fatalf("revision %d, want %d", made.Revision, j.LatestRevision)
		}
	}
}

func (m *model) takeOff(t *rapid.T) {
	j := m.job(t)
	if j.LatestRevision == 0 {
		t.Skip("no schedule yet")
	}
	once := m.once(t, "takeoff of "+j.ID.String())
	made, replayed, err := addTakeoff(t.Context(), m.s, m.p, j.ID, rapid.IntRange(1, j.LatestRevision).Draw(t, "revision"), "{t}", once)
	if m.settle(t, once, made, replayed, err) {
		m.takeoffs[j.ID] = append(m.takeoffs[j.ID], made)
		m.kinds[j.ID] = append(m.kinds[j.ID], service.TakeoffMade)
	}
}

// check reads the list of jobs, and all that belongs to one of them, and compares.
func (m *model) check(t *rapid.T) {
	jobs, err := m.s.Jobs(t.Context(), m.p.Tenant, uuid.Max, 1000)
	if err != nil || len(jobs) != len(m.jobs) {
		t.Fatalf("%d jobs, %v; want %d", len(jobs), err, len(m.jobs))
	}
	for i, want := range m.jobs {
		if got := jobs[len(jobs)-1-i]; !cmp.Equal(got, want) {
			t.Fatalf("job %d\n%s", i, cmp.Diff(want, got))
		}
	}
	if len(jobs) > 0 {
		m.checkJob(t, m.job(t).ID)
	}
}

func (m *model) checkJob(t *rapid.T, id uuid.UUID) {
	events, err := m.s.History(t.Context(), m.p.Tenant, id, 1<<40, 1000)
	if err != nil || len(events) != len(m.kinds[id]) {
		t.Fatalf("%d events, %v; want %d", len(events), err, len(m.kinds[id]))
	}
	for n, kind := range m.kinds[id] {
		if e := events[len(events)-1-n]; e.Kind != kind || e.Number != int64(n+1) {
			t.Fatalf("event %d is number %d, %s; want %s", n+1, e.Number, e.Kind, kind)
		}
	}
	for n, doc := range m.docs[id] {
		if r, err := m.s.Revision(t.Context(), m.p.Tenant, id, n+1); err != nil || string(r.Document) != doc {
			t.Fatalf("revision %d is %s, %v; want %s", n+1, r.Document, err, doc)
		}
	}
	for _, want := range m.takeoffs[id] {
		if got, err := m.s.Takeoff(t.Context(), m.p.Tenant, id, want.ID); err != nil || !cmp.Equal(got, want) {
			t.Fatalf("%v\n%s", err, cmp.Diff(want, got))
		}
	}
}

// Any run of calls, with keys used again and changes made too late among them,
// leaves what the model has.
func TestStoreIsAsTheModel(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	n := 0
	rapid.Check(t, func(r *rapid.T) {
		n++
		m := &model{s: s, p: merchant(t, s, fmt.Sprint("merchant ", n)),
			kinds: map[uuid.UUID][]service.EventKind{}, docs: map[uuid.UUID][]string{},
			takeoffs: map[uuid.UUID][]service.StoredTakeoff{}, asked: map[string]asked{}}
		r.Repeat(map[string]func(*rapid.T){
			"create": m.create, "change": m.change, "revise": m.revise, "take off": m.takeOff, "": m.check,
		})
	})
}
