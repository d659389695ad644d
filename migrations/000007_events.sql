-- +goose Up
-- What happened to a job. Rows are only ever added, in the transaction of the
-- change that they tell of; number is the order and has no gaps.
CREATE TABLE IF NOT EXISTS events (
    tenant_id uuid        NOT NULL,
    id        uuid        NOT NULL,
    job_id    uuid        NOT NULL,
    number    bigint      NOT NULL CHECK (number >= 1),
    at        timestamptz NOT NULL,
    kind      text        NOT NULL CHECK (kind IN ('job_created', 'job_changed', 'schedule_added', 'takeoff_made')),
    by_key    uuid        NOT NULL,
    by_name   text        NOT NULL,
    summary   text        NOT NULL,
    subject   uuid        NOT NULL,
    revision  integer     NOT NULL CHECK (revision >= 0),
    PRIMARY KEY (tenant_id, id),
    UNIQUE (tenant_id, job_id, number),
    FOREIGN KEY (tenant_id, job_id) REFERENCES jobs (tenant_id, id)
);
