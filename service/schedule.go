package service

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"strconv"
	"time"

	"github.com/google/uuid"

	"hodman/service/schedule"
)

// Revision is one wall schedule of a job. It never changes once it is kept: a
// changed drawing is the next revision.
type Revision struct {
	ID       uuid.UUID `json:"id"`
	JobID    uuid.UUID `json:"job_id"`
	Revision int       `json:"revision"` // from 1
	// Reference is the schedule's own.
	Reference string `json:"reference"`
	// Digest is the SHA-256 of Document in hexadecimal.
	Digest string `json:"sha256"`
	// Document is what was sent, byte for byte. Lists leave it out.
	Document  []byte    `json:"-"`
	CreatedAt time.Time `json:"created_at"`
	By        string    `json:"by"` // name of the access key
}

// MaxDocument is the most bytes of a schedule that are kept.
const MaxDocument = 4 << 20

// AddRevision checks a schedule and keeps it as the job's next revision. raw is
// the document as it was sent and sched what was read from it.
func (s *Service) AddRevision(ctx context.Context, p Principal, job uuid.UUID, raw []byte, sched *schedule.Schedule, once Idempotency) (Revision, bool, error) {
	if len(raw) > MaxDocument {
		return Revision{}, false, &Error{Kind: TooLarge, Code: "too_large",
			Message: fmt.Sprintf("A schedule may have %d bytes; this has %d. Split it by building.", MaxDocument, len(raw))}
	}
	if err := invalid(sched.Check(s.catalogue)); err != nil {
		return Revision{}, false, err
	}
	digest, now := sha256.Sum256(raw), s.instant()
	r := Revision{ID: s.newID(), JobID: job, Reference: sched.Reference, Digest: hex.EncodeToString(digest[:]),
		Document: raw, CreatedAt: now, By: p.Name}
	e := Event{ID: s.newID(), JobID: job, At: now, Kind: ScheduleAdded, By: p.Name, ByKey: p.KeyID,
		Summary: "Schedule added: " + r.Reference, Subject: r.ID}
	return s.store.InsertRevision(ctx, p, r, e, once)
}

// Revision returns one schedule of a job with its document; number 0 is the latest.
func (s *Service) Revision(ctx context.Context, p Principal, job uuid.UUID, number int) (Revision, error) {
	return s.store.Revision(ctx, p.Tenant, job, number)
}

// Revisions lists the schedules of a job, newest first, without their documents.
func (s *Service) Revisions(ctx context.Context, p Principal, job uuid.UUID, page Page) (List[Revision], error) {
	before, err := page.beforeNumber(math.MaxInt32)
	if err != nil {
		return List[Revision]{}, err
	}
	items, err := s.store.Revisions(ctx, p.Tenant, job, int(before), page.limit()+1)
	return listed(items, page.limit(), func(r *Revision) string { return strconv.Itoa(r.Revision) }), err
}
