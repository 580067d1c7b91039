-- +goose Up
CREATE TABLE event (
    case_id TEXT    NOT NULL,
    seq     INTEGER NOT NULL CHECK (seq > 0),
    at      INTEGER NOT NULL, -- microseconds since 1970, UTC
    kind    TEXT    NOT NULL,
    who     TEXT    NOT NULL,
    version INTEGER NOT NULL,
    data    TEXT    NOT NULL, -- JSON
    PRIMARY KEY (case_id, seq)
) STRICT, WITHOUT ROWID;

-- The journal only grows.
-- +goose StatementBegin
CREATE TRIGGER event_never_changes BEFORE UPDATE ON event
BEGIN
    SELECT RAISE(ABORT, 'events are never changed');
END;
-- +goose StatementEnd
-- +goose StatementBegin
CREATE TRIGGER event_never_goes BEFORE DELETE ON event
BEGIN
    SELECT RAISE(ABORT, 'events are never removed');
END;
-- +goose StatementEnd

-- +goose Down
DROP TABLE event;
