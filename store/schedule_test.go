package store_test

import (
	"errors"
	"testing"

	"github.com/google/uuid"

	"hodman/service"
	"hodman/store/storetest"
)

func TestRevisionsAreNumberedAndKeepTheirBytes(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	docs := []string{`{ "b": 1,  "a": 2.50 }`, `{"second":true}`}
	for i, doc := range docs {
		r, _, err := addRevision(t.Context(), s, p, j.ID, doc, service.Idempotency{})
		if err != nil || r.Revision != i+1 {
			t.Fatalf("revision %d, %v; want %d", r.Revision, err, i+1)
		}
	}
	for number, want := range map[int]string{1: docs[0], 2: docs[1], 0: docs[1]} {
		r, err := s.Revision(t.Context(), p.Tenant, j.ID, number)
		if err != nil || string(r.Document) != want {
			t.Errorf("revision %d is %s, %v; want %s", number, r.Document, err, want)
		}
	}
	_, err := s.Revision(t.Context(), p.Tenant, j.ID, 3)
	isKind(t, err, service.NotFound)
	got, err := s.Job(t.Context(), p.Tenant, j.ID)
	if err != nil || got.LatestRevision != 2 || got.Version != 3 {
		t.Errorf("job has latest revision %d and version %d, %v; want 2 and 3", got.LatestRevision, got.Version, err)
	}
	list, err := s.Revisions(t.Context(), p.Tenant, j.ID, 2, 10)
	if err != nil || len(list) != 1 || list[0].Revision != 1 || list[0].Document != nil {
		t.Errorf("below 2: %+v, %v; want revision 1 without its document", list, err)
	}
	_, _, err = addRevision(t.Context(), s, p, newID(), "{}", service.Idempotency{})
	isKind(t, err, service.NotFound)
}

// Numbers have no gaps and none comes twice, however many add at once.
// A schedule that is not there is told of by what is missing: the job, the first
// schedule, or that one.
func TestRevisionThatIsNotThere(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	for _, each := range []struct {
		job    uuid.UUID
		number int
		want   string
	}{
		{newID(), 0, "There is no such job."},
		{newID(), 1, "There is no such job."},
		{j.ID, 0, "The job has no schedule yet. Send one to its schedules first."},
		{j.ID, 1, "There is no such schedule of this job."},
	} {
		_, err := s.Revision(t.Context(), p.Tenant, each.job, each.number)
		isKind(t, err, service.NotFound)
		var e *service.Error
		if errors.As(err, &e) && e.Message != each.want {
			t.Errorf("%s; want %s", e.Message, each.want)
		}
	}
}

func TestRevisionsAtOnce(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	same(t, atOnce(8, func(int) error {
		_, _, err := addRevision(t.Context(), s, p, j.ID, "{}", service.Idempotency{})
		return err
	}), map[string]int{"": 8})
	list, err := s.Revisions(t.Context(), p.Tenant, j.ID, 100, 100)
	if err != nil {
		t.Fatal(err)
	}
	var got []int
	for _, r := range list {
		got = append(got, r.Revision)
	}
	same(t, got, []int{8, 7, 6, 5, 4, 3, 2, 1})
}

func TestTakeoffKeepsItsBytes(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p := merchant(t, s, "main")
	j := mustJob(t, s, p)
	_, _, err := addTakeoff(t.Context(), s, p, j.ID, 1, "{}", service.Idempotency{})
	if err == nil {
		t.Error("a takeoff of a schedule that is not there was kept")
	}
	if _, _, err := addRevision(t.Context(), s, p, j.ID, "{}", service.Idempotency{}); err != nil {
		t.Fatal(err)
	}
	const doc = `{"z":1, "lines":[ 1.50 ]}`
	made, _, err := addTakeoff(t.Context(), s, p, j.ID, 1, doc, service.Idempotency{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Takeoff(t.Context(), p.Tenant, j.ID, made.ID)
	if err != nil {
		t.Fatal(err)
	}
	same(t, got, made)
	if string(got.Document) != doc {
		t.Errorf("document is %s, want %s", got.Document, doc)
	}
	list, err := s.Takeoffs(t.Context(), p.Tenant, j.ID, uuid.Max, 10)
	if err != nil || len(list) != 1 || list[0].Document != nil {
		t.Errorf("list is %+v, %v; want one without its document", list, err)
	}
	list, err = s.Takeoffs(t.Context(), p.Tenant, j.ID, made.ID, 10)
	if err != nil || len(list) != 0 {
		t.Errorf("list below the only one is %+v, %v; want none", list, err)
	}
	other := mustJob(t, s, p)
	_, err = s.Takeoff(t.Context(), p.Tenant, other.ID, made.ID)
	isKind(t, err, service.NotFound)
}
