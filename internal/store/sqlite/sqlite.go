// Package sqlite keeps the journal in one SQLite file. Start at Open.
//
// The file is in write-ahead mode: any number of readers, one writer at a time,
// in this process or another on the same machine; a writer that finds it busy
// waits up to ten seconds. Every append is one transaction, synced to disk
// before Append returns, so neither a crash nor a power cut takes back what was
// acknowledged, or leaves half of an append. Beside the file lie "-wal" and
// "-shm" while it is open: copy it only when nobody has it open, or with Copy.
// A file on a network share is not safe: the locks of write-ahead mode need one
// machine (sqlite.org/wal.html).
package sqlite

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // the driver

	"fettler/internal/journal"
)

//go:embed migrations/*.sql
var migrations embed.FS

const (
	busyWait    = 10 * time.Second
	mostReaders = 8
)

// A Store is an open file. It is safe for concurrent use.
type Store struct {
	write *sql.DB // one connection
	read  *sql.DB
}

// Open opens the file, making it and its folder if need be, and brings it to
// the present form.
func Open(ctx context.Context, file string) (*Store, error) {
	path, err := filepath.Abs(file)
	if err != nil {
		return nil, fmt.Errorf("the journal %q cannot be found: %w", file, err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, fmt.Errorf("the folder of the journal cannot be made; choose another or free the way: %w", err)
	}
	if err := emptied(path); err != nil {
		return nil, err
	}
	if err := private(path); err != nil {
		return nil, fmt.Errorf("the journal cannot be opened; is the folder writable? %w", err)
	}
	s := &Store{}
	if s.write, err = connect(path, 1, "&_txlock=immediate"); err != nil {
		return nil, err
	}
	if err := migrate(ctx, s.write); err != nil {
		return nil, errors.Join(fmt.Errorf("%q cannot be used as a journal; is it another sort of file, or not writable? %w", file, err), s.write.Close())
	}
	if s.read, err = connect(path, mostReaders, "&_pragma=query_only(1)"); err != nil {
		return nil, errors.Join(err, s.write.Close())
	}
	return s, nil
}

// emptied refuses a journal that has been left without a byte. Only one that is being made
// this moment, here or by another process, may be so.
func emptied(path string) error {
	info, err := os.Stat(path)
	if err != nil || info.Size() > 0 || time.Since(info.ModTime()) < busyWait {
		return nil
	}
	return fmt.Errorf("the journal %q is an empty file, and what was in it is lost; put back a copy of it, or delete it to begin with an empty bench", path)
}

// private makes a new file that only its owner can read: there are names and
// telephone numbers in it. SQLite gives the files beside it the same rights.
func private(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	return f.Close()
}

func connect(path string, most int, more string) (*sql.DB, error) {
	name := filepath.ToSlash(path)
	if !strings.HasPrefix(name, "/") {
		name = "/" + name // C:/… on Windows
	}
	dsn := "file:" + (&url.URL{Path: name}).EscapedPath() +
		fmt.Sprintf("?_pragma=busy_timeout(%d)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)", busyWait.Milliseconds()) + more
	db, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, fmt.Errorf("opening the journal: %w", err)
	}
	db.SetMaxOpenConns(most)
	db.SetMaxIdleConns(most)
	return db, nil
}

// migrate brings the file to the present form. Two processes may do so at once:
// the one that comes second finds it done, or is refused and looks again.
func migrate(ctx context.Context, db *sql.DB) error {
	dir, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	for try := 0; ; try++ {
		p, err := goose.NewProvider(goose.DialectSQLite3, db, dir, goose.WithVerbose(false))
		if err == nil {
			_, err = p.Up(ctx)
		}
		if err == nil || try == 4 || ctx.Err() != nil {
			return err
		}
		select {
		case <-ctx.Done():
		case <-time.After(time.Duration(20<<try) * time.Millisecond):
		}
	}
}

// Close closes the file.
func (s *Store) Close() error { return errors.Join(s.read.Close(), s.write.Close()) }

// Append implements journal.Journal.
func (s *Store) Append(ctx context.Context, caseID string, after int, events ...journal.Event) error {
	if len(events) == 0 {
		return nil
	}
	return s.transact(ctx, func(tx *sql.Tx) error { return appendTo(ctx, tx, caseID, after, events) })
}

// AppendAll implements journal.Batcher.
func (s *Store) AppendAll(ctx context.Context, batches []journal.Batch) (late int, err error) {
	err = s.transact(ctx, func(tx *sql.Tx) error {
		for _, b := range batches {
			err := appendTo(ctx, tx, b.Case, b.After, b.Events)
			var conflict *journal.Conflict
			switch {
			case errors.As(err, &conflict):
				late++
			case err != nil:
				return err
			}
		}
		return nil
	})
	return late, err
}

// transact does something in one transaction.
func (s *Store) transact(ctx context.Context, do func(*sql.Tx) error) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("writing to the journal: %w", err)
	}
	defer tx.Rollback() // nothing to take back after Commit
	if err := do(tx); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("writing to the journal: %w", err)
	}
	return nil
}

func appendTo(ctx context.Context, tx *sql.Tx, caseID string, after int, events []journal.Event) error {
	now := 0
	if err := tx.QueryRowContext(ctx, `SELECT COALESCE(MAX(seq), 0) FROM event WHERE case_id = ?`, caseID).Scan(&now); err != nil {
		return fmt.Errorf("writing to the journal: %w", err)
	}
	if now != after {
		return &journal.Conflict{Case: caseID, After: after, Now: now}
	}
	for i, e := range events {
		_, err := tx.ExecContext(ctx, `INSERT INTO event (case_id, seq, at, kind, who, version, data) VALUES (?, ?, ?, ?, ?, ?, ?)`,
			caseID, after+i+1, e.At.UnixMicro(), string(e.Kind), e.Who, e.Version, string(e.Data))
		if err != nil {
			return fmt.Errorf("writing event %d of case %q: %w", after+i+1, caseID, err)
		}
	}
	return nil
}

// Events implements journal.Journal.
func (s *Store) Events(ctx context.Context, caseID string, after int) ([]journal.Event, error) {
	rows, err := s.read.QueryContext(ctx, `SELECT seq, at, kind, who, version, data FROM event WHERE case_id = ? AND seq > ? ORDER BY seq`, caseID, after)
	if err != nil {
		return nil, fmt.Errorf("reading the journal: %w", err)
	}
	defer rows.Close()
	var out []journal.Event
	for rows.Next() {
		e := journal.Event{Case: caseID}
		var at int64
		if err := rows.Scan(&e.Seq, &at, &e.Kind, &e.Who, &e.Version, (*[]byte)(&e.Data)); err != nil {
			return nil, fmt.Errorf("reading case %q: %w", caseID, err)
		}
		e.At = time.UnixMicro(at).UTC()
		out = append(out, e)
	}
	if err := rows.Err(); err != nil {
		return nil, fmt.Errorf("reading case %q: %w", caseID, err)
	}
	return out, nil
}

// Heads implements journal.Journal.
func (s *Store) Heads(ctx context.Context) ([]journal.Head, error) {
	rows, err := s.read.QueryContext(ctx, `
		SELECT h.case_id, h.seq, f.at, l.at
		FROM (SELECT case_id, MIN(seq) AS first, MAX(seq) AS seq FROM event WHERE case_id <> ? GROUP BY case_id) h
		JOIN event f ON f.case_id = h.case_id AND f.seq = h.first
		JOIN event l ON l.case_id = h.case_id AND l.seq = h.seq
		ORDER BY l.at DESC, h.case_id`, journal.BenchCase)
	if err != nil {
		return nil, fmt.Errorf("reading the journal: %w", err)
	}
	defer rows.Close()
	var out []journal.Head
	for rows.Next() {
		var h journal.Head
		var first, last int64
		if err := rows.Scan(&h.Case, &h.Seq, &first, &last); err != nil {
			return nil, fmt.Errorf("reading the journal: %w", err)
		}
		h.First, h.Changed = time.UnixMicro(first).UTC(), time.UnixMicro(last).UTC()
		out = append(out, h)
	}
	return out, rows.Err()
}

// Copy writes a whole copy to a new file that only its owner can read, while others go on reading and writing.
func (s *Store) Copy(ctx context.Context, file string) error {
	f, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600) // SQLite fills an empty file, and would let everybody read a new one
	if err == nil {
		err = f.Close()
	}
	if err != nil {
		return fmt.Errorf("copying the journal to %q; take a name that is not there yet: %w", file, err)
	}
	if _, err := s.write.ExecContext(ctx, `VACUUM INTO ?`, file); err != nil {
		return errors.Join(fmt.Errorf("copying the journal to %q; see that there is room: %w", file, err), os.Remove(file)) // half of a copy is none
	}
	return nil
}
