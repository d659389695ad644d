package service

import (
	"context"
	"time"

	"github.com/google/uuid"
)

// nowhere is the store of a service that only computes: every method says so.
type nowhere struct{}

var errNowhere = &Error{Kind: Unavailable, Code: "no_database",
	Message: "This service only computes and keeps nothing. Start it with a database to keep jobs."}

func (nowhere) Ready(context.Context) error { return errNowhere }

func (nowhere) InsertJob(context.Context, Principal, Job, Event, Idempotency) (Job, bool, error) {
	return Job{}, false, errNowhere
}

func (nowhere) Job(context.Context, uuid.UUID, uuid.UUID) (Job, error) { return Job{}, errNowhere }

func (nowhere) Jobs(context.Context, uuid.UUID, uuid.UUID, int) ([]Job, error) {
	return nil, errNowhere
}

func (nowhere) UpdateJob(context.Context, uuid.UUID, uuid.UUID, int64, func(*Job) (Event, error)) (Job, error) {
	return Job{}, errNowhere
}

func (nowhere) InsertRevision(context.Context, Principal, Revision, Event, Idempotency) (Revision, bool, error) {
	return Revision{}, false, errNowhere
}

func (nowhere) Revision(context.Context, uuid.UUID, uuid.UUID, int) (Revision, error) {
	return Revision{}, errNowhere
}

func (nowhere) Revisions(context.Context, uuid.UUID, uuid.UUID, int, int) ([]Revision, error) {
	return nil, errNowhere
}

func (nowhere) InsertTakeoff(context.Context, Principal, StoredTakeoff, Event, Idempotency) (StoredTakeoff, bool, error) {
	return StoredTakeoff{}, false, errNowhere
}

func (nowhere) ReplayedTakeoff(context.Context, Principal, time.Time, Idempotency) (StoredTakeoff, bool, error) {
	return StoredTakeoff{}, false, errNowhere
}

func (nowhere) Takeoff(context.Context, uuid.UUID, uuid.UUID, uuid.UUID) (StoredTakeoff, error) {
	return StoredTakeoff{}, errNowhere
}

func (nowhere) Takeoffs(context.Context, uuid.UUID, uuid.UUID, uuid.UUID, int) ([]StoredTakeoff, error) {
	return nil, errNowhere
}

func (nowhere) History(context.Context, uuid.UUID, uuid.UUID, int64, int) ([]Event, error) {
	return nil, errNowhere
}

func (nowhere) InsertKey(context.Context, string, Key) (Key, error) { return Key{}, errNowhere }

func (nowhere) KeyByPrefix(context.Context, string) (Key, error) { return Key{}, errNowhere }

func (nowhere) Keys(context.Context) ([]Key, error) { return nil, errNowhere }

func (nowhere) RevokeKey(context.Context, string, time.Time) error { return errNowhere }

func (nowhere) TouchKey(context.Context, string, time.Time) error { return errNowhere }
