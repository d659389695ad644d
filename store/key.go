package store

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"hodman/service"
)

// InsertKey keeps a key, and its merchant where there is none of that name yet.
func (s *Store) InsertKey(ctx context.Context, merchant string, k service.Key) (made service.Key, err error) {
	defer wrap(&err, "insert key", k.Prefix)
	err = s.tx(ctx, func(tx pgx.Tx) (err error) {
		made = k
		if made.Tenant, err = tenantNamed(ctx, tx, merchant, k.Tenant, k.CreatedAt); err != nil {
			return err
		}
		_, err = tx.Exec(ctx, `
			INSERT INTO access_keys (tenant_id, id, prefix, digest, name, created_at, expires_at)
			VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			made.Tenant, k.ID, k.Prefix, k.Digest, k.Name, k.CreatedAt, k.ExpiresAt)
		return err
	})
	return made, err
}

func tenantNamed(ctx context.Context, tx pgx.Tx, name string, id uuid.UUID, now time.Time) (uuid.UUID, error) {
	_, err := tx.Exec(ctx, `
		INSERT INTO tenants (tenant_id, name, created_at) VALUES ($1, $2, $3)
		ON CONFLICT (name) DO NOTHING`, id, name, now)
	if err != nil {
		return id, err
	}
	err = tx.QueryRow(ctx, `SELECT tenant_id FROM tenants WHERE name = $1`, name).Scan(&id)
	return id, err
}

func scanKey(row pgx.CollectableRow) (k service.Key, err error) {
	err = row.Scan(&k.ID, &k.Tenant, &k.Merchant, &k.Prefix, &k.Digest, &k.Name,
		&k.CreatedAt, &k.ExpiresAt, &k.RevokedAt, &k.LastUsed)
	k.CreatedAt = k.CreatedAt.UTC()
	for _, t := range []*time.Time{k.ExpiresAt, k.RevokedAt, k.LastUsed} {
		if t != nil {
			*t = t.UTC()
		}
	}
	return k, err
}

// KeyByPrefix finds a key. It is one of the two reads without a tenant: the key says which.
func (s *Store) KeyByPrefix(ctx context.Context, prefix string) (k service.Key, err error) {
	defer wrap(&err, "key", prefix)
	rows, err := s.pool.Query(ctx, `
		SELECT k.id, k.tenant_id, t.name, k.prefix, k.digest, k.name, k.created_at, k.expires_at, k.revoked_at, k.last_used_at
		FROM access_keys k JOIN tenants t ON t.tenant_id = k.tenant_id
		WHERE k.prefix = $1`, prefix)
	if err != nil {
		return k, err
	}
	k, err = pgx.CollectExactlyOneRow(rows, scanKey)
	return k, found(err, "key")
}

// Keys reads all keys of all merchants, oldest first, for whoever runs the service.
func (s *Store) Keys(ctx context.Context) (keys []service.Key, err error) {
	defer wrap(&err, "keys")
	rows, err := s.pool.Query(ctx, `
		SELECT k.id, k.tenant_id, t.name, k.prefix, k.digest, k.name, k.created_at, k.expires_at, k.revoked_at, k.last_used_at
		FROM access_keys k JOIN tenants t ON t.tenant_id = k.tenant_id
		ORDER BY k.id`)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, scanKey)
}

// RevokeKey ends a key; the first time stands.
func (s *Store) RevokeKey(ctx context.Context, prefix string, at time.Time) (err error) {
	defer wrap(&err, "revoke key", prefix)
	tag, err := s.pool.Exec(ctx, `
		UPDATE access_keys SET revoked_at = coalesce(revoked_at, $2) WHERE prefix = $1`, prefix, at)
	if err == nil && tag.RowsAffected() == 0 {
		err = notFound("key")
	}
	return err
}

// TouchKey notes the last use, which never goes back.
func (s *Store) TouchKey(ctx context.Context, prefix string, at time.Time) (err error) {
	defer wrap(&err, "touch key", prefix)
	_, err = s.pool.Exec(ctx, `
		UPDATE access_keys SET last_used_at = $2
		WHERE prefix = $1 AND (last_used_at IS NULL OR last_used_at < $2)`, prefix, at)
	return err
}
