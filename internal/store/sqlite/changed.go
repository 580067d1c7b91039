package sqlite

import (
	"context"
	"fmt"
	"time"

	"fettler/internal/journal"
)

// Changed implements journal.Tracker.
func (s *Store) Changed(ctx context.Context, mark int64) ([]journal.Event, int64, error) {
	rows, err := s.read.QueryContext(ctx, `
		SELECT t.n, t.case_id, t.seq, e.at, e.kind, e.who, e.version, e.data
		FROM tail t JOIN event e ON e.case_id = t.case_id AND e.seq = t.seq
		WHERE t.n > ? AND t.case_id <> ? ORDER BY t.n`, mark, journal.BenchCase)
	if err != nil {
		return nil, mark, fmt.Errorf("reading the journal: %w", err)
	}
	defer rows.Close()
	var out []journal.Event
	for rows.Next() {
		var e journal.Event
		var at int64
		if err := rows.Scan(&mark, &e.Case, &e.Seq, &at, &e.Kind, &e.Who, &e.Version, (*[]byte)(&e.Data)); err != nil {
			return nil, mark, fmt.Errorf("reading the journal: %w", err)
		}
		e.At = time.UnixMicro(at).UTC()
		out = append(out, e)
	}
	if err := rows.Err(); err != nil {
		return nil, mark, fmt.Errorf("reading the journal: %w", err)
	}
	return out, mark, nil
}
