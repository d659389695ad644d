package service

import (
	"context"
	"fmt"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/google/uuid"

	"hodman/service/schedule"
)

// StoredTakeoff is a takeoff of one revision, kept as it was answered.
type StoredTakeoff struct {
	ID               uuid.UUID `json:"id"`
	JobID            uuid.UUID `json:"job_id"`
	ScheduleRevision int       `json:"schedule_revision"`
	Rulebook         string    `json:"rulebook"`
	Catalogue        string    `json:"catalogue"`
	// Document is the takeoff, byte for byte as it was first answered. Lists leave it out.
	Document  []byte    `json:"-"`
	CreatedAt time.Time `json:"created_at"`
	By        string    `json:"by"` // name of the access key
}

// MakeTakeoff counts a revision of the job's schedule (0: the latest) and keeps the answer.
func (s *Service) MakeTakeoff(ctx context.Context, p Principal, job uuid.UUID, revision int, once Idempotency) (StoredTakeoff, bool, error) {
	now := s.instant()
	// Asked before counting: the same request again need not be counted again.
	if t, done, err := s.store.ReplayedTakeoff(ctx, p, now, once); done || err != nil {
		return t, done, err
	}
	r, err := s.store.Revision(ctx, p.Tenant, job, revision)
	if err != nil {
		return StoredTakeoff{}, false, err
	}
	t, err := s.count(ctx, &r)
	if err != nil {
		return StoredTakeoff{}, false, err
	}
	t.ID, t.JobID, t.ScheduleRevision, t.CreatedAt, t.By = s.newID(), job, r.Revision, now, p.Name
	e := Event{ID: s.newID(), JobID: job, At: now, Kind: TakeoffMade, By: p.Name, ByKey: p.KeyID,
		Summary: fmt.Sprintf("Takeoff made of schedule %d", r.Revision), Subject: t.ID, Revision: r.Revision}
	return s.store.InsertTakeoff(ctx, p, t, e, once)
}

// count reads a revision's document again and takes it off.
func (s *Service) count(ctx context.Context, r *Revision) (StoredTakeoff, error) {
	sched := new(schedule.Schedule)
	if err := json.Unmarshal(r.Document, sched, json.RejectUnknownMembers(true)); err != nil {
		return StoredTakeoff{}, &Error{Kind: Internal, Code: "internal", Message: "internal error",
			Cause: fmt.Errorf("revision %s is kept but cannot be read: %w", r.ID, err)}
	}
	answer, err := s.ComputeTakeoff(ctx, sched)
	if err != nil {
		return StoredTakeoff{}, err
	}
	document, err := Encode(answer)
	return StoredTakeoff{Rulebook: answer.Rulebook, Catalogue: answer.Catalogue, Document: document}, err
}

// Takeoff returns one takeoff of a job with its document.
func (s *Service) Takeoff(ctx context.Context, p Principal, job, id uuid.UUID) (StoredTakeoff, error) {
	return s.store.Takeoff(ctx, p.Tenant, job, id)
}

// Takeoffs lists the takeoffs of a job, newest first, without their documents.
func (s *Service) Takeoffs(ctx context.Context, p Principal, job uuid.UUID, page Page) (List[StoredTakeoff], error) {
	before, err := page.beforeID()
	if err != nil {
		return List[StoredTakeoff]{}, err
	}
	items, err := s.store.Takeoffs(ctx, p.Tenant, job, before, page.limit()+1)
	return listed(items, page.limit(), func(t *StoredTakeoff) string { return t.ID.String() }), err
}
