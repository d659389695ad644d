-- +goose Up
-- A tenant is one merchant. This is a directory: it is what the tenant of
-- everything else is looked up in, so its name is unique among all of them.
CREATE TABLE IF NOT EXISTS tenants (
    tenant_id  uuid        NOT NULL PRIMARY KEY,
    name       text        NOT NULL UNIQUE CHECK (char_length(name) BETWEEN 1 AND 100),
    created_at timestamptz NOT NULL
);
