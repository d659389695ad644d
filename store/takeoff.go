package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hodman/service"
)

// InsertTakeoff keeps a takeoff as it is answered.
func (s *Store) InsertTakeoff(ctx context.Context, p service.Principal, t service.StoredTakeoff, e service.Event, key service.Idempotency) (made service.StoredTakeoff, replayed bool, err error) {
	defer wrap(&err, "insert takeoff", t.JobID)
	err = s.tx(ctx, func(tx pgx.Tx) (err error) {
		made, replayed, err = once(ctx, tx, p, key, e.At, func() (service.StoredTakeoff, error) {
			_, err := tx.Exec(ctx, `
				INSERT INTO takeoffs (tenant_id, id, job_id, schedule_revision, rulebook, catalogue, document, created_at, by_name)
				VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
				p.Tenant, t.ID, t.JobID, t.ScheduleRevision, t.Rulebook, t.Catalogue, t.Document, t.CreatedAt, t.By)
			if err != nil {
				return t, err
			}
			return t, insertEvent(ctx, tx, p.Tenant, e)
		})
		if err == nil && replayed {
			made, err = readTakeoff(ctx, tx, p.Tenant, made.JobID, made.ID)
		}
		return err
	})
	return made, replayed, err
}

// ReplayedTakeoff reads the takeoff that was made for that key before, if any.
func (s *Store) ReplayedTakeoff(ctx context.Context, p service.Principal, now time.Time, key service.Idempotency) (t service.StoredTakeoff, ok bool, err error) {
	defer wrap(&err, "replayed takeoff", key.Key)
	if key.Key == "" {
		return t, false, nil
	}
	t, ok, err = replay[service.StoredTakeoff](ctx, s.pool, p, key, now)
	if err != nil || !ok {
		return t, false, err
	}
	t, err = readTakeoff(ctx, s.pool, p.Tenant, t.JobID, t.ID)
	return t, true, err
}

// Takeoff reads one takeoff of a job with its document.
func (s *Store) Takeoff(ctx context.Context, tenant, job, id uuid.UUID) (t service.StoredTakeoff, err error) {
	defer wrap(&err, "takeoff", job, id)
	return readTakeoff(ctx, s.pool, tenant, job, id)
}

func readTakeoff(ctx context.Context, q querier, tenant, job, id uuid.UUID) (t service.StoredTakeoff, err error) {
	err = q.QueryRow(ctx, `
		SELECT id, job_id, schedule_revision, rulebook, catalogue, document, created_at, by_name
		FROM takeoffs WHERE tenant_id = $1 AND id = $2 AND job_id = $3`, tenant, id, job).
		Scan(&t.ID, &t.JobID, &t.ScheduleRevision, &t.Rulebook, &t.Catalogue, &t.Document, &t.CreatedAt, &t.By)
	t.CreatedAt = t.CreatedAt.UTC()
	return t, found(err, "takeoff of this job")
}

// Takeoffs reads a page of a job's takeoffs, newest first, without documents.
func (s *Store) Takeoffs(ctx context.Context, tenant, job, before uuid.UUID, limit int) (list []service.StoredTakeoff, err error) {
	defer wrap(&err, "takeoffs", job, before, limit)
	rows, err := s.pool.Query(ctx, `
		SELECT id, job_id, schedule_revision, rulebook, catalogue, created_at, by_name
		FROM takeoffs WHERE tenant_id = $1 AND job_id = $2 AND id < $3
		ORDER BY id DESC LIMIT $4`, tenant, job, before, limit)
	if err != nil {
		return nil, err
	}
	list, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (t service.StoredTakeoff, err error) {
		err = row.Scan(&t.ID, &t.JobID, &t.ScheduleRevision, &t.Rulebook, &t.Catalogue, &t.CreatedAt, &t.By)
		t.CreatedAt = t.CreatedAt.UTC()
		return t, err
	})
	if err == nil && len(list) == 0 {
		err = s.jobThere(ctx, tenant, job)
	}
	return list, err
}
