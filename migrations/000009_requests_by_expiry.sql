-- +goose Up
-- Expired requests are cleared away a few at a time by the requests that follow.
CREATE INDEX IF NOT EXISTS requests_by_expiry ON requests (tenant_id, expires_at);
