-- +goose Up
-- A takeoff as it was answered, byte for byte. It names the rulebook and the
-- catalogue that made it, so that it can be made again and compared.
CREATE TABLE IF NOT EXISTS takeoffs (
    tenant_id         uuid        NOT NULL,
    id                uuid        NOT NULL,
    job_id            uuid        NOT NULL,
    schedule_revision integer     NOT NULL,
    rulebook          text        NOT NULL,
    catalogue         text        NOT NULL,
    document          bytea       NOT NULL,
    created_at        timestamptz NOT NULL,
    by_name           text        NOT NULL,
    PRIMARY KEY (tenant_id, id),
    FOREIGN KEY (tenant_id, job_id, schedule_revision) REFERENCES schedules (tenant_id, job_id, revision)
);
