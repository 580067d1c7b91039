-- +goose Up
-- What can be found of each case: derived from the events, made anew when needed.
CREATE TABLE page (
    row     INTEGER PRIMARY KEY AUTOINCREMENT, -- that of page_text; later pages have higher ones
    case_id TEXT    NOT NULL UNIQUE,
    shown   TEXT    NOT NULL, -- JSON
    keys    TEXT    NOT NULL
) STRICT;

CREATE TABLE page_mark (one INTEGER PRIMARY KEY CHECK (one = 1), mark INTEGER NOT NULL, form TEXT NOT NULL) STRICT;

CREATE VIRTUAL TABLE page_text USING fts5(words, keys, tokenize = 'unicode61 remove_diacritics 2', prefix = '1 2 3 4');

-- +goose Down
DROP TABLE page_text;
DROP TABLE page_mark;
DROP TABLE page;
