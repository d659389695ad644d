-- +goose Up
-- latest_revision and events are counters: the row's lock hands out the next
-- number of a schedule or an event without gaps, and no sequence is needed.
-- Ids are UUIDv7, so the primary key is also the order of creation that lists are read in.
CREATE TABLE IF NOT EXISTS jobs (
    tenant_id       uuid        NOT NULL REFERENCES tenants (tenant_id),
    id              uuid        NOT NULL,
    reference       text        NOT NULL CHECK (char_length(reference) BETWEEN 1 AND 200),
    customer        text        NOT NULL CHECK (char_length(customer) <= 200),
    site_name       text        NOT NULL CHECK (char_length(site_name) <= 200),
    site_address    text        NOT NULL CHECK (char_length(site_address) <= 1000),
    site_access     text        NOT NULL CHECK (char_length(site_access) <= 2000),
    notes           text        NOT NULL CHECK (char_length(notes) <= 10000),
    created_at      timestamptz NOT NULL,
    updated_at      timestamptz NOT NULL,
    version         bigint      NOT NULL CHECK (version >= 1),
    latest_revision integer     NOT NULL CHECK (latest_revision >= 0),
    events          bigint      NOT NULL CHECK (events >= 0),
    PRIMARY KEY (tenant_id, id)
);
