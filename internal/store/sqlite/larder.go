package sqlite

import (
	"context"
	"fmt"

	"fettler/internal/journal"
)

// Store implements journal.Larder.
func (s *Store) Store(ctx context.Context, place string, anew bool, jars ...journal.Jar) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("keeping what was worked out: %w", err)
	}
	defer tx.Rollback() // nothing to take back after Commit
	if anew {
		if _, err := tx.ExecContext(ctx, `DELETE FROM larder WHERE place = ?`, place); err != nil {
			return fmt.Errorf("keeping what was worked out: %w", err)
		}
	}
	for _, j := range jars {
		if _, err := tx.ExecContext(ctx, `INSERT OR REPLACE INTO larder (place, key, data) VALUES (?, ?, ?)`, place, j.Key, append([]byte{}, j.Data...)); err != nil {
			return fmt.Errorf("keeping what was worked out: %w", err)
		}
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("keeping what was worked out: %w", err)
	}
	return nil
}

// Fetch implements journal.Larder.
func (s *Store) Fetch(ctx context.Context, place string) ([]journal.Jar, error) {
	rows, err := s.read.QueryContext(ctx, `SELECT key, data FROM larder WHERE place = ? ORDER BY key`, place)
	if err != nil {
		return nil, fmt.Errorf("reading what was kept: %w", err)
	}
	defer rows.Close()
	var out []journal.Jar
	for rows.Next() {
		var j journal.Jar
		if err := rows.Scan(&j.Key, &j.Data); err != nil {
			return nil, fmt.Errorf("reading what was kept: %w", err)
		}
		out = append(out, j)
	}
	if err := rows.Err(); err != nil {
		return nil, fmt.Errorf("reading what was kept: %w", err)
	}
	return out, nil
}
