-- +goose Up
-- The last event of each case, in the order in which they came: which cases have
-- changed since one last looked is one short query.
CREATE TABLE tail (
    n       INTEGER PRIMARY KEY AUTOINCREMENT,
    case_id TEXT    NOT NULL UNIQUE,
    seq     INTEGER NOT NULL
) STRICT;

INSERT INTO tail (case_id, seq)
SELECT case_id, seq FROM (SELECT case_id, MAX(seq) AS seq, MAX(at) AS at FROM event GROUP BY case_id) ORDER BY at, case_id;

-- +goose StatementBegin
CREATE TRIGGER event_moves_tail AFTER INSERT ON event
BEGIN
    INSERT OR REPLACE INTO tail (case_id, seq) VALUES (NEW.case_id, NEW.seq);
END;
-- +goose StatementEnd

-- +goose Down
DROP TRIGGER event_moves_tail;
DROP TABLE tail;
