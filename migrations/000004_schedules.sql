-- +goose Up
-- A revision of a job's wall schedule. document is what was sent, byte for byte,
-- so bytea and not jsonb, which would order and re-write it.
CREATE TABLE IF NOT EXISTS schedules (
    tenant_id  uuid        NOT NULL,
    id         uuid        NOT NULL,
    job_id     uuid        NOT NULL,
    revision   integer     NOT NULL CHECK (revision >= 1),
    reference  text        NOT NULL CHECK (char_length(reference) <= 200),
    sha256     text        NOT NULL CHECK (char_length(sha256) = 64),
    document   bytea       NOT NULL CHECK (octet_length(document) <= 4194304),
    created_at timestamptz NOT NULL,
    by_name    text        NOT NULL,
    PRIMARY KEY (tenant_id, id),
    UNIQUE (tenant_id, job_id, revision),
    FOREIGN KEY (tenant_id, job_id) REFERENCES jobs (tenant_id, id)
);
