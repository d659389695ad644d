package store

import (
	"context"
	"time"

	"github.com/go-json-experiment/json"
	"github.com/jackc/pgx/v5"

	"hodman/service"
)

// once runs work in tx unless it was done for the same key before; then it
// returns what was kept of it and true. What is kept is the JSON of the result.
// Of two at the same time the second waits for the first, and after the lock
// time-out is told to come back.
func once[T any](ctx context.Context, tx pgx.Tx, p service.Principal, key service.Idempotency, now time.Time, work func() (T, error)) (T, bool, error) {
	if key.Key == "" {
		t, err := work()
		return t, false, err
	}
	var none T
	// A row that has expired is taken over, so that its key starts anew.
	tag, err := tx.Exec(ctx, `
		INSERT INTO requests (tenant_id, key_id, key, fingerprint, expires_at)
		VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (tenant_id, key_id, key) DO UPDATE
		SET fingerprint = excluded.fingerprint, answer = NULL, expires_at = excluded.expires_at
		WHERE requests.expires_at <= $6`,
		p.Tenant, p.KeyID, key.Key, key.Fingerprint, now.Add(service.IdempotencyKept), now)
	switch {
	case isCode(err, lockNotAvailable):
		return none, false, &service.Error{Kind: service.Conflict, Code: "in_flight",
			Message: "The same request is still being worked on. Send it again in a second.", RetryAfter: time.Second}
	case err != nil:
		return none, false, err
	case tag.RowsAffected() == 0:
		t, _, err := replay[T](ctx, tx, p, key, now)
		return t, true, err
	}
	t, err := work()
	if err != nil {
		return none, false, err
	}
	return t, false, keepAnswer(ctx, tx, p, key, now, t)
}

// replay reads what was kept for a key, and whether there is anything.
func replay[T any](ctx context.Context, q querier, p service.Principal, key service.Idempotency, now time.Time) (t T, ok bool, err error) {
	rows, err := q.Query(ctx, `
		SELECT fingerprint, answer FROM requests
		WHERE tenant_id = $1 AND key_id = $2 AND key = $3 AND expires_at > $4`,
		p.Tenant, p.KeyID, key.Key, now)
	if err != nil {
		return t, false, err
	}
	type kept struct {
		fingerprint string
		answer      []byte
	}
	found, err := pgx.CollectRows(rows, func(r pgx.CollectableRow) (k kept, err error) {
		return k, r.Scan(&k.fingerprint, &k.answer)
	})
	if err != nil || len(found) == 0 {
		return t, false, err
	}
	if found[0].fingerprint != key.Fingerprint {
		return t, false, &service.Error{Kind: service.Invalid, Code: "idempotency_mismatch",
			Message: "This Idempotency-Key was used for another request. Make a new key for a new request."}
	}
	return t, true, json.Unmarshal(found[0].answer, &t)
}

// querier is what a pool and a transaction have in common.
type querier interface {
	Query(ctx context.Context, sql string, args ...any) (pgx.Rows, error)
	QueryRow(ctx context.Context, sql string, args ...any) pgx.Row
}

// keepAnswer notes what was answered, and in the same round trip clears away some
// of the tenant's expired requests: more than one each time, so that they do not
// pile up, and few, so that nobody waits for it.
func keepAnswer(ctx context.Context, tx pgx.Tx, p service.Principal, key service.Idempotency, now time.Time, answer any) error {
	doc, err := json.Marshal(answer)
	if err != nil {
		return err
	}
	var b pgx.Batch
	b.Queue(`
		UPDATE requests SET answer = $4
		WHERE tenant_id = $1 AND key_id = $2 AND key = $3`,
		p.Tenant, p.KeyID, key.Key, doc)
	b.Queue(`
		DELETE FROM requests WHERE tenant_id = $1 AND (key_id, key) IN (
			SELECT key_id, key FROM requests
			WHERE tenant_id = $1 AND expires_at <= $2
			ORDER BY expires_at LIMIT 20
			FOR UPDATE SKIP LOCKED)`,
		p.Tenant, now)
	return tx.SendBatch(ctx, &b).Close() // Close gives the first error of them
}
