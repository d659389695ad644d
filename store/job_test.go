package store_test

import (
	"fmt"
	"testing"

	"github.com/google/uuid"

	"hodman/service"
	"hodman/store/storetest"
)

func TestJobReadsBackAsMade(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	want := draft("Fallow Yard, \"quotes\", Länge")
	made, replayed, err := s.InsertJob(t.Context(), p, want, event(p, want.ID, service.JobCreated), service.Idempotency{})
	if err != nil || replayed {
		t.Fatal(replayed, err)
	}
	same(t, made, want)
	got, err := s.Job(t.Context(), p.Tenant, want.ID)
	if err != nil {
		t.Fatal(err)
	}
	same(t, got, want)
}

func TestJobsAreListedNewestFirstByKey(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	var want []uuid.UUID
	for range 5 {
		want = append([]uuid.UUID{mustJob(t, s, p).ID}, want...)
	}
	var got []uuid.UUID
	for before := uuid.Max; ; {
		page, err := s.Jobs(t.Context(), p.Tenant, before, 2)
		if err != nil {
			t.Fatal(err)
		}
		if len(page) == 0 {
			break
		}
		for _, j := range page {
			got = append(got, j.ID)
		}
		before = page[len(page)-1].ID
	}
	same(t, got, want)
}

func TestUpdateNeedsTheVersionThatIsThere(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	rename := func(to string) func(*service.Job) (service.Event, error) {
		return func(j *service.Job) (service.Event, error) {
			j.Reference = to
			j.Version++
			return event(p, j.ID, service.JobChanged), nil
		}
	}
	got, err := s.UpdateJob(t.Context(), p.Tenant, j.ID, 1, rename("second"))
	if err != nil {
		t.Fatal(err)
	}
	j.Reference, j.Version = "second", 2
	same(t, got, j)
	_, err = s.UpdateJob(t.Context(), p.Tenant, j.ID, 1, rename("third"))
	if e := isKind(t, err, service.Stale); e.Current != `"2"` {
		t.Errorf("current tag %s, want \"2\"", e.Current)
	}
	got, err = s.Job(t.Context(), p.Tenant, j.ID)
	if err != nil {
		t.Fatal(err)
	}
	same(t, got, j)
	_, err = s.UpdateJob(t.Context(), p.Tenant, newID(), 1, rename("none"))
	isKind(t, err, service.NotFound)
}

// Ten change the same version at once: one wins, nine are stale.
func TestOneOfManyUpdatesWins(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	kinds := atOnce(10, func(i int) error {
		_, err := s.UpdateJob(t.Context(), p.Tenant, j.ID, 1, func(j *service.Job) (service.Event, error) {
			j.Notes = fmt.Sprint(i)
			j.Version++
			return event(p, j.ID, service.JobChanged), nil
		})
		return err
	})
	same(t, kinds, map[string]int{"": 1, "stale": 9})
	events, err := s.History(t.Context(), p.Tenant, j.ID, 1<<40, 100)
	if err != nil {
		t.Fatal(err)
	}
	if len(events) != 2 { // created and changed once
		t.Errorf("%d events, want 2", len(events))
	}
}

func TestHistoryIsNumberedNewestFirst(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	if _, _, err := addRevision(t.Context(), s, p, j.ID, "{}", service.Idempotency{}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := addTakeoff(t.Context(), s, p, j.ID, 1, "{}", service.Idempotency{}); err != nil {
		t.Fatal(err)
	}
	events, err := s.History(t.Context(), p.Tenant, j.ID, 1<<40, 10)
	if err != nil {
		t.Fatal(err)
	}
	type line struct {
		Number   int64
		Kind     service.EventKind
		Revision int
		By       string
	}
	var got []line
	for _, e := range events {
		got = append(got, line{e.Number, e.Kind, e.Revision, e.By})
	}
	same(t, got, []line{
		{3, service.TakeoffMade, 0, p.Name},
		{2, service.ScheduleAdded, 1, p.Name},
		{1, service.JobCreated, 0, p.Name},
	})
	events, err = s.History(t.Context(), p.Tenant, j.ID, 3, 1)
	if err != nil || len(events) != 1 || events[0].Number != 2 {
		t.Errorf("one below 3 is %+v, %v; want number 2", events, err)
	}
}
