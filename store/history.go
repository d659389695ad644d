package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hodman/service"
)

// insertEvent numbers an event and adds it. The job's row stays locked until
// the transaction ends, so numbers are in the order of commits.
func insertEvent(ctx context.Context, tx pgx.Tx, tenant uuid.UUID, e service.Event) error {
	tag, err := tx.Exec(ctx, `
		WITH job AS (
			UPDATE jobs SET events = events + 1
			WHERE tenant_id = $1 AND id = $3
			RETURNING events)
		INSERT INTO events (tenant_id, id, job_id, number, at, kind, by_key, by_name, summary, subject, revision)
		SELECT $1, $2, $3, events, $4, $5, $6, $7, $8, $9, $10 FROM job`,
		tenant, e.ID, e.JobID, e.At, string(e.Kind), e.ByKey, e.By, e.Summary, e.Subject, e.Revision)
	if err == nil && tag.RowsAffected() == 0 {
		err = notFound("job")
	}
	return err
}

// History reads a page of a job's events, newest first.
func (s *Store) History(ctx context.Context, tenant, job uuid.UUID, before int64, limit int) (list []service.Event, err error) {
	defer wrap(&err, "history", job, before, limit)
	rows, err := s.pool.Query(ctx, `
		SELECT id, job_id, number, at, kind, by_key, by_name, summary, subject, revision
		FROM events WHERE tenant_id = $1 AND job_id = $2 AND number < $3
		ORDER BY number DESC LIMIT $4`, tenant, job, before, limit)
	if err != nil {
		return nil, err
	}
	list, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (e service.Event, err error) {
		err = row.Scan(&e.ID, &e.JobID, &e.Number, &e.At, &e.Kind, &e.ByKey, &e.By, &e.Summary, &e.Subject, &e.Revision)
		e.At = e.At.UTC()
		return e, err
	})
	if err == nil && len(list) == 0 {
		err = s.jobThere(ctx, tenant, job)
	}
	return list, err
}
