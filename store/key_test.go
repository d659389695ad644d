package store_test

import (
	"testing"
	"time"

	"github.com/google/uuid"

	"hodman/service"
	"hodman/store/storetest"
)

// Whatever belongs to another merchant is not there.
func TestOtherTenantFindsNothing(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	p, thief := merchant(t, s, "main"), merchant(t, s, "other")
	if p.Tenant == thief.Tenant {
		t.Fatal("two merchants have one tenant")
	}
	j := mustJob(t, s, p)
	if _, _, err := addRevision(t.Context(), s, p, j.ID, "{}", service.Idempotency{}); err != nil {
		t.Fatal(err)
	}
	to, _, err := addTakeoff(t.Context(), s, p, j.ID, 1, "{}", service.Idempotency{})
	if err != nil {
		t.Fatal(err)
	}
	ctx := t.Context()
	for name, call := range map[string]func() error{
		"job": func() error { _, err := s.Job(ctx, thief.Tenant, j.ID); return err },
		"update": func() error {
			_, err := s.UpdateJob(ctx, thief.Tenant, j.ID, 2, func(*service.Job) (service.Event, error) {
				t.Error("another merchant's job was handed out")
				return service.Event{}, nil
			})
			return err
		},
		"add revision": func() error {
			_, _, err := addRevision(ctx, s, thief, j.ID, "{}", service.Idempotency{})
			return err
		},
		"revision":  func() error { _, err := s.Revision(ctx, thief.Tenant, j.ID, 1); return err },
		"revisions": func() error { _, err := s.Revisions(ctx, thief.Tenant, j.ID, 9, 9); return err },
		"takeoff":   func() error { _, err := s.Takeoff(ctx, thief.Tenant, j.ID, to.ID); return err },
		"takeoffs":  func() error { _, err := s.Takeoffs(ctx, thief.Tenant, j.ID, uuid.Max, 9); return err },
		"history":   func() error { _, err := s.History(ctx, thief.Tenant, j.ID, 9, 9); return err },
	} {
		t.Run(name, func(t *testing.T) { isKind(t, call(), service.NotFound) })
	}
	if jobs, err := s.Jobs(ctx, thief.Tenant, uuid.Max, 9); err != nil || len(jobs) != 0 {
		t.Errorf("another merchant lists %d jobs, %v", len(jobs), err)
	}
	if _, _, err := addTakeoff(ctx, s, thief, j.ID, 1, "{}", service.Idempotency{}); err == nil {
		t.Error("another merchant's takeoff was hung on the job")
	}
}

func TestKeys(t *testing.T) {
	t.Parallel()
	s := storetest.New(t)
	ctx := t.Context()
	p := merchant(t, s, "main")
	if again := merchant(t, s, "main"); again.Tenant != p.Tenant {
		t.Error("the second key of a merchant made a second merchant")
	}
	keys, err := s.Keys(ctx)
	if err != nil || len(keys) != 2 {
		t.Fatalf("%d keys, %v; want 2", len(keys), err)
	}
	prefix := keys[0].Prefix
	later := noon.Add(time.Hour)
	for _, at := range []time.Time{later, noon} { // an earlier use does not overwrite a later one
		if err := s.TouchKey(ctx, prefix, at); err != nil {
			t.Fatal(err)
		}
	}
	for _, at := range []time.Time{noon, later} { // the first revocation stands
		if err := s.RevokeKey(ctx, prefix, at); err != nil {
			t.Fatal(err)
		}
	}
	k, err := s.KeyByPrefix(ctx, prefix)
	if err != nil {
		t.Fatal(err)
	}
	want := service.Key{ID: p.KeyID, Tenant: p.Tenant, Merchant: "main", Prefix: prefix, Digest: make([]byte, 32),
		Name: p.Name, CreatedAt: noon, RevokedAt: &noon, LastUsed: &later}
	same(t, k, want)
	isKind(t, s.RevokeKey(ctx, "nothing!", noon), service.NotFound)
	_, err = s.KeyByPrefix(ctx, "nothing!")
	isKind(t, err, service.NotFound)
}
