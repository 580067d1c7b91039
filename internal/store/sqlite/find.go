package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"fettler/internal/journal"
)

// closedKey marks closed cases in the index; keys never have this form.
const closedKey = "zclosed"

// Kept implements journal.Finder.
func (s *Store) Kept(ctx context.Context) (mark int64, form string, err error) {
	err = s.read.QueryRowContext(ctx, `SELECT mark, form FROM page_mark`).Scan(&mark, &form)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, "", nil
	}
	if err != nil {
		return 0, "", fmt.Errorf("reading the index: %w", err)
	}
	return mark, form, nil
}

// Keep implements journal.Finder.
func (s *Store) Keep(ctx context.Context, form string, mark int64, pages []journal.Page) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("writing the index: %w", err)
	}
	defer tx.Rollback() // nothing to take back after Commit
	if err := keep(ctx, tx, form, mark, pages); err != nil {
		return fmt.Errorf("writing the index: %w", err)
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("writing the index: %w", err)
	}
	return nil
}

func keep(ctx context.Context, tx *sql.Tx, form string, mark int64, pages []journal.Page) error {
	var was string
	err := tx.QueryRowContext(ctx, `SELECT form FROM page_mark`).Scan(&was)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if was != form {
		for _, q := range []string{`DELETE FROM page_text`, `DELETE FROM page`} {
			if _, err := tx.ExecContext(ctx, q); err != nil {
				return err
			}
		}
	}
	if err := keepPages(ctx, tx, pages); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT OR REPLACE INTO page_mark (one, mark, form) VALUES (1, ?, ?)`, mark, form)
	return err
}

// keepPages replaces pages, with statements that are read once for all of them.
func keepPages(ctx context.Context, tx *sql.Tx, pages []journal.Page) error {
	var out, in, words *sql.Stmt
	for _, x := range []struct {
		to   **sql.Stmt
		text string
	}{
		{&out, `DELETE FROM page_text WHERE rowid = (SELECT row FROM page WHERE case_id = ?)`},
		{&in, `INSERT OR REPLACE INTO page (case_id, shown, keys) VALUES (?, ?, ?)`},
		{&words, `INSERT INTO page_text (rowid, words, keys) VALUES (?, ?, ?)`},
	} {
		st, err := tx.PrepareContext(ctx, x.text)
		if err != nil {
			return err
		}
		defer st.Close()
		*x.to = st
	}
	for _, p := range pages {
		keys := strings.Join(p.Keys, " ")
		if p.Closed {
			keys += " " + closedKey
		}
		if _, err := out.ExecContext(ctx, p.Case); err != nil {
			return err
		}
		res, err := in.ExecContext(ctx, p.Case, string(p.Shown), keys)
		if err != nil {
			return err
		}
		row, err := res.LastInsertId()
		if err != nil {
			return err
		}
		if _, err := words.ExecContext(ctx, row, p.Text, keys); err != nil {
			return err
		}
	}
	return nil
}

// Find implements journal.Finder. The index gives the rows latest first, so the
// cost is bounded by Most however many fit.
func (s *Store) Find(ctx context.Context, q journal.Query) ([]journal.Page, error) {
	match := expression(q)
	if match == "" || q.Most <= 0 {
		return nil, nil
	}
	rows, err := s.read.QueryContext(ctx, `
		SELECT p.case_id, p.shown, p.keys
		FROM (SELECT rowid AS row FROM page_text WHERE page_text MATCH ? ORDER BY rowid DESC LIMIT ?) t
		JOIN page p ON p.row = t.row ORDER BY p.row DESC`, match, q.Most)
	if err != nil {
		return nil, fmt.Errorf("searching: %w", err)
	}
	defer rows.Close()
	var out []journal.Page
	for rows.Next() {
		var p journal.Page
		var keys string
		if err := rows.Scan(&p.Case, (*[]byte)(&p.Shown), &keys); err != nil {
			return nil, fmt.Errorf("searching: %w", err)
		}
		keys, p.Closed = strings.CutSuffix(keys, " "+closedKey)
		p.Keys = strings.Fields(keys)
		out = append(out, p)
	}
	if err := rows.Err(); err != nil {
		return nil, fmt.Errorf("searching: %w", err)
	}
	return out, nil
}

// quoted makes a string of FTS5 of any text; a NUL would end the whole expression.
var quoted = strings.NewReplacer(`"`, `""`, "\x00", " ")

// expression is the query in the language of FTS5, every term quoted.
func expression(q journal.Query) string {
	quote := func(s string) string { return `"` + quoted.Replace(s) + `"` }
	var all []string
	for i, w := range q.Words {
		t := "words : " + quote(w)
		if i == len(q.Words)-1 {
			t += " *"
		}
		all = append(all, t)
	}
	for _, k := range q.Must {
		all = append(all, "keys : "+quote(k))
	}
	if q.Closed {
		all = append(all, "keys : "+quote(closedKey))
	}
	if len(q.Any) > 0 {
		var any []string
		for _, k := range q.Any {
			any = append(any, "keys : "+quote(k))
		}
		all = append(all, "("+strings.Join(any, " OR ")+")")
	}
	return strings.Join(all, " AND ")
}
