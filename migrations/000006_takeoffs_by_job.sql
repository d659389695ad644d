-- +goose Up
-- The takeoffs of a job are listed newest first; the primary key does not lead with the job.
CREATE INDEX IF NOT EXISTS takeoffs_by_job ON takeoffs (tenant_id, job_id, id);
