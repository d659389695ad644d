package store

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hodman/service"
)

func scanJob(row pgx.CollectableRow) (j service.Job, err error) {
	err = row.Scan(&j.ID, &j.Reference, &j.Customer, &j.Site.Name, &j.Site.Address, &j.Site.AccessNotes,
		&j.Notes, &j.CreatedAt, &j.UpdatedAt, &j.Version, &j.LatestRevision)
	j.CreatedAt, j.UpdatedAt = j.CreatedAt.UTC(), j.UpdatedAt.UTC()
	return j, err
}

// InsertJob keeps a new job and the event of it.
func (s *Store) InsertJob(ctx context.Context, p service.Principal, j service.Job, e service.Event, key service.Idempotency) (made service.Job, replayed bool, err error) {
	defer wrap(&err, "insert job", j.ID)
	err = s.tx(ctx, func(tx pgx.Tx) (err error) {
		made, replayed, err = once(ctx, tx, p, key, e.At, func() (service.Job, error) {
			_, err := tx.Exec(ctx, `
				INSERT INTO jobs (tenant_id, id, reference, customer, site_name, site_address, site_access,
					notes, created_at, updated_at, version, latest_revision, events)
				VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, 0)`,
				p.Tenant, j.ID, j.Reference, j.Customer, j.Site.Name, j.Site.Address, j.Site.AccessNotes,
				j.Notes, j.CreatedAt, j.UpdatedAt, j.Version, j.LatestRevision)
			if err != nil {
				return j, err
			}
			return j, insertEvent(ctx, tx, p.Tenant, e)
		})
		return err
	})
	return made, replayed, err
}

// Job reads one job.
func (s *Store) Job(ctx context.Context, tenant, id uuid.UUID) (j service.Job, err error) {
	defer wrap(&err, "job", id)
	rows, err := s.pool.Query(ctx, `
		SELECT id, reference, customer, site_name, site_address, site_access,
			notes, created_at, updated_at, version, latest_revision
		FROM jobs WHERE tenant_id = $1 AND id = $2`, tenant, id)
	if err != nil {
		return j, err
	}
	j, err = pgx.CollectExactlyOneRow(rows, scanJob)
	return j, found(err, "job")
}

// Jobs reads a page of jobs, newest first.
func (s *Store) Jobs(ctx context.Context, tenant, before uuid.UUID, limit int) (jobs []service.Job, err error) {
	defer wrap(&err, "jobs", before, limit)
	rows, err := s.pool.Query(ctx, `
		SELECT id, reference, customer, site_name, site_address, site_access,
			notes, created_at, updated_at, version, latest_revision
		FROM jobs WHERE tenant_id = $1 AND id < $2
		ORDER BY id DESC LIMIT $3`, tenant, before, limit)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, scanJob)
}

// UpdateJob changes a job that still has that version, with its event.
func (s *Store) UpdateJob(ctx context.Context, tenant, id uuid.UUID, version int64, change func(*service.Job) (service.Event, error)) (j service.Job, err error) {
	defer wrap(&err, "update job", id, version)
	err = s.tx(ctx, func(tx pgx.Tx) (err error) {
		if j, err = lockJob(ctx, tx, tenant, id); err != nil {
			return err
		}
		if j.Version != version {
			return &service.Error{Kind: service.Stale, Code: "stale", Current: service.ETag(j.Version),
				Message: "The job was changed since you read it. Read it again and repeat the change."}
		}
		e, err := change(&j)
		if err != nil || j.Version == version {
			return err
		}
		_, err = tx.Exec(ctx, `
			UPDATE jobs SET reference = $3, customer = $4, site_name = $5, site_address = $6, site_access = $7,
				notes = $8, updated_at = $9, version = $10
			WHERE tenant_id = $1 AND id = $2`,
			tenant, id, j.Reference, j.Customer, j.Site.Name, j.Site.Address, j.Site.AccessNotes,
			j.Notes, j.UpdatedAt, j.Version)
		if err != nil {
			return err
		}
		return insertEvent(ctx, tx, tenant, e)
	})
	return j, err
}

func lockJob(ctx context.Context, tx pgx.Tx, tenant, id uuid.UUID) (service.Job, error) {
	rows, err := tx.Query(ctx, `
		SELECT id, reference, customer, site_name, site_address, site_access,
			notes, created_at, updated_at, version, latest_revision
		FROM jobs WHERE tenant_id = $1 AND id = $2
		FOR UPDATE`, tenant, id)
	if err != nil {
		return service.Job{}, err
	}
	j, err := pgx.CollectExactlyOneRow(rows, scanJob)
	return j, found(err, "job")
}
