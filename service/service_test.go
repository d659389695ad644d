package service_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"hodman/service"
	"hodman/service/finding"
	"hodman/service/product"
	"hodman/service/schedule"
	"hodman/store/storetest"
	"hodman/testdata"
)

// desk is a service with a clock that stands still until it is moved.
type desk struct {
	*service.Service
	now time.Time
}

func newDesk(t *testing.T) *desk {
	t.Helper()
	d := &desk{now: time.Date(2026, 3, 2, 12, 0, 0, 123456789, time.UTC)}
	d.Service = service.New(storetest.New(t), service.WithClock(func() time.Time { return d.now }))
	return d
}

// clerk makes a key for a merchant and comes in with it.
func (d *desk) clerk(t *testing.T, merchant string) service.Principal {
	t.Helper()
	_, secret, err := d.CreateKey(t.Context(), service.KeyDraft{Merchant: merchant, Name: "counter"})
	if err != nil {
		t.Fatal(err)
	}
	p, err := d.Authenticate(t.Context(), secret)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func isKind(t *testing.T, err error, kind service.Kind) *service.Error {
	t.Helper()
	var e *service.Error
	if !errors.As(err, &e) || e.Kind != kind {
		t.Fatalf("error is %v, want a service error of kind %d", err, kind)
	}
	return e
}

func pointers(f finding.Faults) (all []string) {
	for _, x := range f {
		all = append(all, x.Pointer+" "+x.Code)
	}
	return all
}

func same(t *testing.T, got, want any) {
	t.Helper()
	if d := cmp.Diff(want, got); d != "" {
		t.Fatalf("-want +got\n%s", d)
	}
}

func TestKeyLetsInUntilItEnds(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	expires := d.now.Add(time.Hour)
	k, secret, err := d.CreateKey(t.Context(), service.KeyDraft{Name: "counter", Expires: &expires})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(secret, "hod_"+k.Prefix+"_") || len(secret) != 56 || strings.Contains(string(k.Digest), secret[13:]) {
		t.Errorf("secret of %d characters, prefix %s", len(secret), k.Prefix)
	}
	p, err := d.Authenticate(t.Context(), secret)
	if err != nil {
		t.Fatal(err)
	}
	same(t, p, service.Principal{Tenant: k.Tenant, KeyID: k.ID, Name: "counter"})

	other := secret[:len(secret)-1] + "A"
	if strings.HasSuffix(secret, "A") {
		other = secret[:len(secret)-1] + "Q"
	}
	for name, bad := range map[string]string{
		"another secret":  other,
		"another prefix":  "hod_zzzzzzzz" + secret[12:],
		"nothing":         "",
		"short":           "hod_",
		"no key of ours":  strings.Repeat("x", 56),
		"NUL in prefix":   "hod_\x00" + secret[5:],
		"not UTF-8":       "hod_\xff" + secret[5:],
		"longer":          secret + "x",
		"SQL in it":       "hod_' OR '1_" + secret[13:],
		"wrong separator": strings.Replace(secret, "hod_", "hod-", 1),
	} {
		if _, err := d.Authenticate(t.Context(), bad); isKind(t, err, service.Unauthorised).Code != "invalid_token" {
			t.Errorf("%s: %v", name, err)
		}
	}

	d.now = expires.Add(-time.Microsecond)
	if _, err := d.Authenticate(t.Context(), secret); err != nil {
		t.Errorf("a moment before the end: %v", err)
	}
	d.now = expires
	_, err = d.Authenticate(t.Context(), secret)
	isKind(t, err, service.Unauthorised)

	_, secret, err = d.CreateKey(t.Context(), service.KeyDraft{Name: "till"})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.RevokeKey(t.Context(), secret[4:12]); err != nil {
		t.Fatal(err)
	}
	_, err = d.Authenticate(t.Context(), secret)
	isKind(t, err, service.Unauthorised)
	_, _, err = d.CreateKey(t.Context(), service.KeyDraft{Expires: &expires})
	same(t, pointers(isKind(t, err, service.Invalid).Faults), []string{"/name required", "/expires range"})
}

// The last use is written down at most once a minute.
func TestLastUseIsNotedOnceAMinute(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	_, secret, err := d.CreateKey(t.Context(), service.KeyDraft{Name: "counter"})
	if err != nil {
		t.Fatal(err)
	}
	began := d.now.Truncate(time.Microsecond)
	for _, step := range []struct{ after, noted time.Duration }{
		{0, 0},
		{59 * time.Second, 0},
		{60 * time.Second, 60 * time.Second},
		{90 * time.Second, 60 * time.Second},
	} {
		d.now = began.Add(step.after)
		if _, err := d.Authenticate(t.Context(), secret); err != nil {
			t.Fatal(err)
		}
		keys, err := d.Keys(t.Context())
		if err != nil || len(keys) != 1 || keys[0].LastUsed == nil {
			t.Fatalf("%+v, %v", keys, err)
		}
		if got := keys[0].LastUsed.Sub(began); got != step.noted {
			t.Errorf("used after %v, noted %v; want %v", step.after, got, step.noted)
		}
	}
}

func TestJobMistakesComeAllAtOnce(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	p := d.clerk(t, "")
	_, _, err := d.CreateJob(t.Context(), p, service.JobDraft{
		Customer: strings.Repeat("é", service.MaxCustomer+1),
		Site:     service.Site{Name: "nul\x00", Address: "bad \xff", AccessNotes: strings.Repeat("é", service.MaxAccess)},
		Notes:    strings.Repeat("n", service.MaxNotes+1),
	}, service.Idempotency{})
	same(t, pointers(isKind(t, err, service.Invalid).Faults),
		[]string{"/reference required", "/customer length", "/site/name pattern", "/site/address pattern", "/notes length"})
}

func TestChangeJob(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	p := d.clerk(t, "")
	j, _, err := d.CreateJob(t.Context(), p, service.JobDraft{Reference: "one", Customer: "A", Notes: "n"}, service.Idempotency{})
	if err != nil {
		t.Fatal(err)
	}
	d.now = d.now.Add(time.Minute)
	customer, empty, reference := "B", "", "one"
	changed, err := d.ChangeJob(t.Context(), p, j.ID, j.Version, service.JobPatch{Customer: &customer, Notes: &empty, Reference: &reference})
	if err != nil {
		t.Fatal(err)
	}
	want := j
	want.Customer, want.Notes, want.Version, want.UpdatedAt = "B", "", 2, d.now.Truncate(time.Microsecond)
	same(t, changed, want)
	// The same again changes nothing, not even the version.
	again, err := d.ChangeJob(t.Context(), p, j.ID, 2, service.JobPatch{Customer: &customer})
	if err != nil {
		t.Fatal(err)
	}
	same(t, again, want)
	_, err = d.ChangeJob(t.Context(), p, j.ID, 2, service.JobPatch{Reference: &empty})
	same(t, pointers(isKind(t, err, service.Invalid).Faults), []string{"/reference required"})
	_, err = d.ChangeJob(t.Context(), p, j.ID, 1, service.JobPatch{Customer: &customer})
	isKind(t, err, service.Stale)
	got, err := d.Job(t.Context(), p, j.ID)
	if err != nil {
		t.Fatal(err)
	}
	same(t, got, want)
	history, err := d.History(t.Context(), p, j.ID, service.Page{})
	if err != nil {
		t.Fatal(err)
	}
	var summaries []string
	for _, e := range history.Items {
		summaries = append(summaries, e.Summary)
	}
	same(t, summaries, []string{"Changed: customer, notes", "Job created: one"})
}

func TestPagesWalkTheWholeList(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	p := d.clerk(t, "")
	var want []string
	for i := range 7 {
		name := fmt.Sprint("job ", i)
		if _, _, err := d.CreateJob(t.Context(), p, service.JobDraft{Reference: name}, service.Idempotency{}); err != nil {
			t.Fatal(err)
		}
		want = append([]string{name}, want...)
	}
	for _, limit := range []int{0, 1, 2, 3, 7, 8, 1000} {
		var got []string
		for page := (service.Page{Limit: limit}); ; {
			part, err := d.Jobs(t.Context(), p, page)
			if err != nil {
				t.Fatal(err)
			}
			for _, j := range part.Items {
				got = append(got, j.Reference)
			}
			if page.After = part.Next; page.After == "" {
				break
			}
		}
		same(t, got, want)
	}
	_, err := d.Jobs(t.Context(), p, service.Page{After: "nonsense"})
	isKind(t, err, service.BadRequest)
	_, err = d.History(t.Context(), p, uuid.New(), service.Page{After: "-1"})
	isKind(t, err, service.BadRequest)
	_, err = d.History(t.Context(), p, uuid.New(), service.Page{})
	isKind(t, err, service.NotFound)
}

// demo is the demo schedule, as bytes and as read.
func demo(t *testing.T) ([]byte, *schedule.Schedule) {
	t.Helper()
	s := new(schedule.Schedule)
	if err := json.Unmarshal(testdata.RearWing, s, json.RejectUnknownMembers(true)); err != nil {
		t.Fatal(err)
	}
	return testdata.RearWing, s
}

func TestScheduleIsKeptAsSent(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	p := d.clerk(t, "")
	j, _, err := d.CreateJob(t.Context(), p, service.JobDraft{Reference: "one"}, service.Idempotency{})
	if err != nil {
		t.Fatal(err)
	}
	raw, sched := demo(t)
	made, _, err := d.AddRevision(t.Context(), p, j.ID, raw, sched, service.Idempotency{})
	if err != nil {
		t.Fatal(err)
	}
	got, err := d.Revision(t.Context(), p, j.ID, 0)
	if err != nil {
		t.Fatal(err)
	}
	same(t, got, made)
	same(t, string(got.Document), string(raw))
	list, err := d.Revisions(t.Context(), p, j.ID, service.Page{})
	if err != nil || len(list.Items) != 1 || list.Next != "" {
		t.Errorf("%d revisions, %v; want 1", len(list.Items), err)
	}

	sched.Walls[0].Type = "no such type"
	_, _, err = d.AddRevision(t.Context(), p, j.ID, raw, sched, service.Idempotency{})
	if e := isKind(t, err, service.Invalid); len(e.Faults) == 0 || e.Faults[0].Pointer != "/walls/0/type" {
		t.Errorf("faults are %v; want one at the wall's type", e.Faults)
	}
	_, _, err = d.AddRevision(t.Context(), p, j.ID, make([]byte, service.MaxDocument+1), sched, service.Idempotency{})
	isKind(t, err, service.TooLarge)
}

// A takeoff reads back as it was answered, is what computing alone answers, and
// the same request again gives the first answer.
func TestTakeoffIsKeptAsAnswered(t *testing.T) {
	t.Parallel()
	d := newDesk(t)
	p := d.clerk(t, "")
	j, _, err := d.CreateJob(t.Context(), p, service.JobDraft{Reference: "one"}, service.Idempotency{})
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = d.MakeTakeoff(t.Context(), p, j.ID, 0, service.Idempotency{})
	isKind(t, err, service.NotFound) // no schedule yet
	raw, sched := demo(t)
	if _, _, err := d.AddRevision(t.Context(), p, j.ID, raw, sched, service.Idempotency{}); err != nil {
		t.Fatal(err)
	}
	once := service.Idempotency{Key: "a-takeoff-request", Fingerprint: "f"}
	made, replayed, err := d.MakeTakeoff(t.Context(), p, j.ID, 0, once)
	if err != nil || replayed {
		t.Fatal(replayed, err)
	}
	alone, err := service.New(nil).ComputeTakeoff(t.Context(), sched)
	if err != nil {
		t.Fatal(err)
	}
	bytes, err := service.Encode(alone)
	if err != nil {
		t.Fatal(err)
	}
	same(t, string(made.Document), string(bytes))
	got, err := d.Takeoff(t.Context(), p, j.ID, made.ID)
	if err != nil {
		t.Fatal(err)
	}
	same(t, got, made)
	again, replayed, err := d.MakeTakeoff(t.Context(), p, j.ID, 0, once)
	if err != nil || !replayed {
		t.Fatal(replayed, err)
	}
	same(t, again, made)
	once.Fingerprint = "g"
	_, _, err = d.MakeTakeoff(t.Context(), p, j.ID, 1, once)
	if e := isKind(t, err, service.Invalid); e.Code != "idempotency_mismatch" {
		t.Errorf("code %s", e.Code)
	}
	list, err := d.Takeoffs(t.Context(), p, j.ID, service.Page{})
	if err != nil || len(list.Items) != 1 {
		t.Errorf("%d takeoffs, %v; want 1", len(list.Items), err)
	}
	history, err := d.History(t.Context(), p, j.ID, service.Page{})
	if err != nil || len(history.Items) != 3 || history.Items[0].Subject != made.ID || history.Items[0].Revision != 1 {
		t.Errorf("history %+v, %v; want the takeoff on top of three", history.Items, err)
	}
}

func TestWithoutStoreItOnlyComputes(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	if err := s.Ready(t.Context()); err != nil {
		t.Error(err)
	}
	if _, err := s.Rulebook("gb"); err != nil {
		t.Error(err)
	}
	_, err := s.Rulebook("atlantis")
	isKind(t, err, service.NotFound)
	p := service.Principal{}
	_, _, err = s.CreateJob(t.Context(), p, service.JobDraft{Reference: "one"}, service.Idempotency{})
	isKind(t, err, service.Unavailable)
	_, err = s.Jobs(t.Context(), p, service.Page{})
	isKind(t, err, service.Unavailable)
	_, _, err = s.MakeTakeoff(t.Context(), p, uuid.New(), 0, service.Idempotency{})
	isKind(t, err, service.Unavailable)
	_, err = s.Authenticate(t.Context(), "hod_abcdefgh_"+strings.Repeat("x", 43))
	isKind(t, err, service.Unavailable)
}

func TestProductsWalk(t *testing.T) {
	t.Parallel()
	s := service.New(nil)
	for _, kind := range []product.Kind{"", product.Brick, product.Lintel} {
		var want, got []string
		for _, p := range product.Demo().Products {
			if kind == "" || p.Kind == kind {
				want = append(want, p.Code)
			}
		}
		for page := (service.Page{Limit: 3}); ; {
			part, err := s.Products(kind, page)
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range part.Items {
				got = append(got, p.Code)
			}
			if page.After = part.Next; page.After == "" {
				break
			}
		}
		same(t, got, want)
	}
	_, err := s.Products("", service.Page{After: "no such code"})
	isKind(t, err, service.BadRequest)
}
