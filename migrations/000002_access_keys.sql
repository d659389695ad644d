-- +goose Up
-- Who may come in. Only the SHA-256 of a secret is kept, so a stolen copy of
-- this table opens nothing. The prefix is unique among all tenants, against the
-- rule that uniques lead with the tenant: the key is what says which tenant it is.
CREATE TABLE IF NOT EXISTS access_keys (
    tenant_id    uuid        NOT NULL REFERENCES tenants (tenant_id),
    id           uuid        NOT NULL,
    prefix       text        NOT NULL UNIQUE CHECK (char_length(prefix) = 8),
    digest       bytea       NOT NULL CHECK (octet_length(digest) = 32),
    name         text        NOT NULL CHECK (char_length(name) BETWEEN 1 AND 100),
    created_at   timestamptz NOT NULL,
    expires_at   timestamptz,
    revoked_at   timestamptz,
    last_used_at timestamptz,
    PRIMARY KEY (tenant_id, id)
);
