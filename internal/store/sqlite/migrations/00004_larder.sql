-- +goose Up
-- What was worked out from the events and need not be worked out again: may be emptied at any time.
CREATE TABLE larder (
    place TEXT NOT NULL,
    key   TEXT NOT NULL,
    data  BLOB NOT NULL,
    UNIQUE (place, key)
) STRICT;

-- +goose Down
DROP TABLE larder;
