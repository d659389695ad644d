-- +goose Up
-- Requests that may be sent again. The row is written in the transaction of the
-- work itself: both are there or neither. answer is what was created, as first
-- answered; it is null only inside that transaction.
CREATE TABLE IF NOT EXISTS requests (
    tenant_id   uuid        NOT NULL,
    key_id      uuid        NOT NULL,
    key         text        NOT NULL CHECK (char_length(key) BETWEEN 1 AND 255),
    fingerprint text        NOT NULL,
    answer      bytea,
    expires_at  timestamptz NOT NULL,
    PRIMARY KEY (tenant_id, key_id, key),
    FOREIGN KEY (tenant_id, key_id) REFERENCES access_keys (tenant_id, id)
);
