package store

import (
	"context"
	"errors"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hodman/service"
)

// InsertRevision keeps a schedule as the job's next revision.
func (s *Store) InsertRevision(ctx context.Context, p service.Principal, r service.Revision, e service.Event, key service.Idempotency) (made service.Revision, replayed bool, err error) {
	defer wrap(&err, "insert revision", r.JobID)
	err = s.tx(ctx, func(tx pgx.Tx) (err error) {
		made, replayed, err = once(ctx, tx, p, key, e.At, func() (service.Revision, error) {
			return insertRevision(ctx, tx, p.Tenant, r, e)
		})
		if err == nil && replayed {
			made, err = readRevision(ctx, tx, p.Tenant, made.JobID, made.Revision)
		}
		return err
	})
	return made, replayed, err
}

func insertRevision(ctx context.Context, tx pgx.Tx, tenant uuid.UUID, r service.Revision, e service.Event) (service.Revision, error) {
	var err error
	if r.Revision, err = nextRevision(ctx, tx, tenant, r.JobID, e.At); err != nil {
		return r, err
	}
	_, err = tx.Exec(ctx, `
		INSERT INTO schedules (tenant_id, id, job_id, revision, reference, sha256, document, created_at, by_name)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
		tenant, r.ID, r.JobID, r.Revision, r.Reference, r.Digest, r.Document, r.CreatedAt, r.By)
	if err != nil {
		return r, err
	}
	e.Revision = r.Revision
	return r, insertEvent(ctx, tx, tenant, e)
}

// nextRevision numbers the next schedule, which changes the job as its reader sees it.
func nextRevision(ctx context.Context, tx pgx.Tx, tenant, job uuid.UUID, at time.Time) (n int, err error) {
	err = tx.QueryRow(ctx, `
		UPDATE jobs SET latest_revision = latest_revision + 1, version = version + 1, updated_at = $3
		WHERE tenant_id = $1 AND id = $2
		RETURNING latest_revision`, tenant, job, at).Scan(&n)
	return n, found(err, "job")
}

// Revision reads one schedule with its document; number 0 is the latest.
func (s *Store) Revision(ctx context.Context, tenant, job uuid.UUID, number int) (r service.Revision, err error) {
	defer wrap(&err, "revision", job, number)
	r, err = readRevision(ctx, s.pool, tenant, job, number)
	if !errors.Is(err, pgx.ErrNoRows) {
		return r, err
	}
	if err := s.jobThere(ctx, tenant, job); err != nil {
		return r, err
	}
	if number == 0 {
		return r, &service.Error{Kind: service.NotFound, Code: "not_found", Message: "The job has no schedule yet. Send one to its schedules first."}
	}
	return r, notFound("schedule of this job")
}

func readRevision(ctx context.Context, q querier, tenant, job uuid.UUID, number int) (r service.Revision, err error) {
	err = q.QueryRow(ctx, `
		SELECT s.id, s.job_id, s.revision, s.reference, s.sha256, s.document, s.created_at, s.by_name
		FROM schedules s JOIN jobs j ON j.tenant_id = s.tenant_id AND j.id = s.job_id
		WHERE s.tenant_id = $1 AND s.job_id = $2
			AND s.revision = CASE WHEN $3::integer = 0 THEN j.latest_revision ELSE $3::integer END`,
		tenant, job, number).
		Scan(&r.ID, &r.JobID, &r.Revision, &r.Reference, &r.Digest, &r.Document, &r.CreatedAt, &r.By)
	r.CreatedAt = r.CreatedAt.UTC()
	return r, err
}

// Revisions reads a page of a job's schedules, newest first, without documents.
func (s *Store) Revisions(ctx context.Context, tenant, job uuid.UUID, before, limit int) (list []service.Revision, err error) {
	defer wrap(&err, "revisions", job, before, limit)
	rows, err := s.pool.Query(ctx, `
		SELECT id, job_id, revision, reference, sha256, created_at, by_name
		FROM schedules WHERE tenant_id = $1 AND job_id = $2 AND revision < $3
		ORDER BY revision DESC LIMIT $4`, tenant, job, before, limit)
	if err != nil {
		return nil, err
	}
	list, err = pgx.CollectRows(rows, func(row pgx.CollectableRow) (r service.Revision, err error) {
		err = row.Scan(&r.ID, &r.JobID, &r.Revision, &r.Reference, &r.Digest, &r.CreatedAt, &r.By)
		r.CreatedAt = r.CreatedAt.UTC()
		return r, err
	})
	if err == nil && len(list) == 0 {
		err = s.jobThere(ctx, tenant, job)
	}
	return list, err
}
