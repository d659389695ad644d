package service

import (
	"context"
	"math"
	"strconv"
	"time"

	"github.com/google/uuid"
)

// Event is one thing that happened to a job. It is written in the transaction
// that made it happen and never changed or removed.
type Event struct {
	ID    uuid.UUID `json:"id"`
	JobID uuid.UUID `json:"job_id"`
	// Number runs from 1 in each job without gaps, in the order things happened.
	Number  int64     `json:"number"`
	At      time.Time `json:"at"`
	Kind    EventKind `json:"kind"`
	By      string    `json:"by"` // name of the access key at the time
	ByKey   uuid.UUID `json:"-"`
	Summary string    `json:"summary"`
	// Subject is the id of the job, schedule or takeoff that it is about, and
	// Revision the schedule's number where there is one.
	Subject  uuid.UUID `json:"subject"`
	Revision int       `json:"revision,omitzero"`
}

// EventKind says what happened. The CHECK on table events names the same words.
type EventKind string

const (
	JobCreated    EventKind = "job_created"
	JobChanged    EventKind = "job_changed"
	ScheduleAdded EventKind = "schedule_added"
	TakeoffMade   EventKind = "takeoff_made"
)

// History lists what happened to a job, newest first.
func (s *Service) History(ctx context.Context, p Principal, job uuid.UUID, page Page) (List[Event], error) {
	before, err := page.beforeNumber(math.MaxInt64)
	if err != nil {
		return List[Event]{}, err
	}
	items, err := s.store.History(ctx, p.Tenant, job, before, page.limit()+1)
	return listed(items, page.limit(), func(e *Event) string { return strconv.FormatInt(e.Number, 10) }), err
}
