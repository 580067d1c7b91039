package sqlite

import (
	"context"
	"fmt"
	"time"

	"fettler/internal/casework"
)

// Changed implements casework.Tracker.
func (s *Store) Changed(ctx context.Context, mark int64) ([]casework.Event, int64, error) {
	rows, err := s.read.QueryContext(ctx, `
		SELECT t.n, t.case_id, t.seq, e.at, e.kind, e.who, e.version, e.data
		FROM tail t JOIN event e ON e.case_id = t.case_id AND e.seq = t.seq
		WHERE t.n > ? AND t.case_id <> ? ORDER BY t.n`, mark, casework.BenchCase)
	if err != nil {
		return nil, mark, fmt.Errorf("reading the journal: %w", err)
	}
	defer rows.Close()
	var out []casework.Event
	for rows.Next() {
		var e casework.Event
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
