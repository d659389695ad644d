package service

import (
	"context"
	"strconv"
	"time"

	"github.com/google/uuid"

	"hodman/service/product"
)

// Service is hodman. The zero value is of no use; see [New].
type Service struct {
	store     Store
	now       func() time.Time
	newID     func() uuid.UUID
	catalogue *product.Catalogue
}

// Option changes one thing that a service is made with.
type Option func(*Service)

// WithClock sets where the time comes from.
func WithClock(now func() time.Time) Option { return func(s *Service) { s.now = now } }

// New makes a service. Without a store (nil) it only computes: whatever would be
// kept is answered with [Unavailable].
func New(store Store, options ...Option) *Service {
	s := &Service{
		store:     store,
		now:       time.Now,
		newID:     func() uuid.UUID { return uuid.Must(uuid.NewV7()) }, // fails only where the system has no random numbers
		catalogue: product.Demo(),
	}
	for _, o := range options {
		o(s)
	}
	if s.store == nil {
		s.store = nowhere{}
	}
	return s
}

// Catalogue is what this service counts with. It is shared: do not change it.
func (s *Service) Catalogue() *product.Catalogue { return s.catalogue }

// Ready says whether requests that need the store can be served now: nil, or [Unavailable].
// A service that only computes is always ready.
func (s *Service) Ready(ctx context.Context) error {
	if _, ok := s.store.(nowhere); ok {
		return nil
	}
	return s.store.Ready(ctx)
}

// Store keeps jobs and what belongs to them. Every method is one transaction:
// all of it happens or none. What belongs to another tenant is [NotFound].
// All errors are [*Error].
//
// A method that takes an [Idempotency] with a key does its work at most once for
// that key: asked again, it returns what it returned first and true.
type Store interface {
	// Ready is nil where the database answers and has the tables that we expect.
	Ready(ctx context.Context) error

	InsertJob(ctx context.Context, p Principal, j Job, e Event, once Idempotency) (Job, bool, error)
	Job(ctx context.Context, tenant, id uuid.UUID) (Job, error)
	// Jobs returns up to limit jobs with ids below before, newest first.
	Jobs(ctx context.Context, tenant, before uuid.UUID, limit int) ([]Job, error)
	// UpdateJob applies change to the job if it still has that version, else [Stale].
	// change may run more than once and must have no other effect.
	UpdateJob(ctx context.Context, tenant, id uuid.UUID, version int64, change func(*Job) (Event, error)) (Job, error)

	// InsertRevision numbers the revision next after the job's latest.
	InsertRevision(ctx context.Context, p Principal, r Revision, e Event, once Idempotency) (Revision, bool, error)
	Revision(ctx context.Context, tenant, job uuid.UUID, number int) (Revision, error)
	// Revisions returns up to limit revisions numbered below before, newest first, without their documents.
	Revisions(ctx context.Context, tenant, job uuid.UUID, before, limit int) ([]Revision, error)

	InsertTakeoff(ctx context.Context, p Principal, t StoredTakeoff, e Event, once Idempotency) (StoredTakeoff, bool, error)
	// ReplayedTakeoff is the takeoff first made for that key, and whether there is one.
	ReplayedTakeoff(ctx context.Context, p Principal, now time.Time, once Idempotency) (StoredTakeoff, bool, error)
	Takeoff(ctx context.Context, tenant, job, id uuid.UUID) (StoredTakeoff, error)
	// Takeoffs returns up to limit takeoffs with ids below before, newest first, without their documents.
	Takeoffs(ctx context.Context, tenant, job, before uuid.UUID, limit int) ([]StoredTakeoff, error)

	// History returns up to limit events numbered below before, newest first.
	History(ctx context.Context, tenant, job uuid.UUID, before int64, limit int) ([]Event, error)

	// InsertKey makes the merchant of that name too where there is none yet, with k.Tenant
	// for its id, and returns the key with the tenant that it really has.
	InsertKey(ctx context.Context, merchant string, k Key) (Key, error)
	// KeyByPrefix finds a key whoever it belongs to, revoked or not.
	KeyByPrefix(ctx context.Context, prefix string) (Key, error)
	Keys(ctx context.Context) ([]Key, error)
	RevokeKey(ctx context.Context, prefix string, at time.Time) error
	// TouchKey notes when a key was last used.
	TouchKey(ctx context.Context, prefix string, at time.Time) error
}

// Idempotency makes a request that is sent twice happen once. Key is the caller's
// own word, unique to the access key; Fingerprint is a digest of all that was
// asked. The zero value asks for nothing. Keys are kept for [IdempotencyKept].
type Idempotency struct {
	Key         string
	Fingerprint string
}

// IdempotencyKept is how long a request that is sent again is known again. After
// that the same key starts a new request.
const IdempotencyKept = 48 * time.Hour

// Page asks for part of a list. After is the Next of the part before, empty for
// the first. Limit runs from 1 to [MostListed]; nought is [UsuallyListed].
type Page struct {
	After string
	Limit int
}

const (
	UsuallyListed = 50
	MostListed    = 200
)

// List is part of a list, newest first. Next asks for the part after it and is empty at the end.
type List[T any] struct {
	Items []T
	Next  string
}

// limit is the page's limit put within bounds.
func (p Page) limit() int {
	if p.Limit == 0 {
		return UsuallyListed
	}
	return max(1, min(p.Limit, MostListed))
}

// listed cuts what was read, one more than the limit, down to the page.
func listed[T any](items []T, limit int, key func(*T) string) List[T] {
	if len(items) <= limit {
		return List[T]{Items: items}
	}
	return List[T]{Items: items[:limit], Next: key(&items[limit-1])}
}

// beforeID reads where a page of things with ids goes on.
func (p Page) beforeID() (uuid.UUID, error) {
	if p.After == "" {
		return uuid.Max, nil
	}
	id, err := uuid.Parse(p.After)
	if err != nil {
		return id, badCursor
	}
	return id, nil
}

// beforeNumber reads where a page of numbered things goes on.
func (p Page) beforeNumber(most int64) (int64, error) {
	if p.After == "" {
		return most, nil
	}
	n, err := strconv.ParseInt(p.After, 10, 64)
	if err != nil || n < 1 || n > most {
		return 0, badCursor
	}
	return n, nil
}

var badCursor = &Error{Kind: BadRequest, Code: "cursor_mismatch", Message: "The cursor is not one of this list. Start again without it."}

// instant is the time now, as exactly as the database keeps it, so that what is
// answered first is what is read back.
func (s *Service) instant() time.Time { return s.now().UTC().Truncate(time.Microsecond) }
