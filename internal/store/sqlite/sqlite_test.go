package sqlite_test

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"fettler/internal/journal"
	"fettler/internal/store/sqlite"
	"fettler/internal/store/storetest"
)

func open(t testing.TB, file string) *sqlite.Store {
	t.Helper()
	s, err := sqlite.Open(context.Background(), file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func TestConformance(t *testing.T) {
	storetest.Run(t, func(t *testing.T) journal.Journal { return open(t, filepath.Join(t.TempDir(), "journal.db")) })
}

func remark(text string) journal.Event {
	data, _ := json.Marshal(map[string]string{"text": text})
	return journal.Event{At: time.Date(2024, 1, 2, 3, 4, 5, 0, time.UTC), Kind: "remarked", Version: 1, Data: data}
}

// Names that mean something in a URI are names all the same, and the file lies where it was asked for.
func TestPaths(t *testing.T) {
	for _, name := range []string{"plain.db", "with space.db", "hash#1.db", "100%25.db", "a&b=c.db", "ünï.db", "new/folder/x.db", "semi;colon.db"} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(t.TempDir(), filepath.FromSlash(name))
			s := open(t, file)
			if err := s.Append(context.Background(), "a", 0, remark("here")); err != nil {
				t.Fatal(err)
			}
			if err := s.Close(); err != nil {
				t.Fatal(err)
			}
			if _, err := os.Stat(file); err != nil {
				t.Fatalf("the file is not where it should be: %v", err)
			}
			if got := count(t, open(t, file), "a"); got != 1 {
				t.Errorf("%d events after opening it again, want 1", got)
			}
		})
	}
}

func count(t testing.TB, s *sqlite.Store, id string) int {
	t.Helper()
	events, err := s.Events(context.Background(), id, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range events {
		if e.Seq != i+1 {
			t.Fatalf("event %d in place %d", e.Seq, i+1)
		}
	}
	return len(events)
}

// A file that is no journal is refused with a sentence and left as it was.
func TestNotAJournal(t *testing.T) {
	file := filepath.Join(t.TempDir(), "letter.txt")
	text := strings.Repeat("Dear neighbour, ", 200)
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := sqlite.Open(context.Background(), file)
	if err == nil || !strings.Contains(err.Error(), "another sort of file") {
		t.Errorf("error %v", err)
	}
	if now, _ := os.ReadFile(file); string(now) != text {
		t.Error("the file was altered")
	}
}

// There are names in it: the file is its owner's alone to read.
func TestRights(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("rights are kept otherwise there")
	}
	file := filepath.Join(t.TempDir(), "journal.db")
	s := open(t, file)
	if err := s.Append(context.Background(), "a", 0, remark("x")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{file, file + "-wal"} {
		info, err := os.Stat(name)
		if err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("%s: %v, %v", filepath.Base(name), info, err)
		}
	}
}

func TestCopy(t *testing.T) {
	dir := t.TempDir()
	s := open(t, filepath.Join(dir, "journal.db"))
	ctx := context.Background()
	if err := s.Append(ctx, "a", 0, remark("1"), remark("2")); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(dir, "copy of it.db")
	if err := s.Copy(ctx, to); err != nil {
		t.Fatal(err)
	}
	if got := count(t, open(t, to), "a"); got != 2 {
		t.Errorf("the copy holds %d events, want 2", got)
	}
	if err := s.Copy(ctx, to); err == nil {
		t.Error("a copy was written over a file")
	}
	if info, err := os.Stat(to); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("others can read the copy: %v, %v", info, err)
	}
	over, stop := context.WithCancel(ctx)
	stop()
	left := filepath.Join(dir, "half.db")
	if err := s.Copy(over, left); err == nil {
		t.Error("an ended context copied")
	}
	if _, err := os.Stat(left); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("half of a copy was left behind: %v", err)
	}
}

// BenchmarkAppend is one event, synced to disk.
func BenchmarkAppend(b *testing.B) {
	s := open(b, filepath.Join(b.TempDir(), "journal.db"))
	n := 0
	for b.Loop() {
		if err := s.Append(context.Background(), "a", n, remark("x")); err != nil {
			b.Fatal(err)
		}
		n++
	}
}

// BenchmarkRead10000 reads a journal of 10 000 events.
func BenchmarkRead10000(b *testing.B) {
	s := open(b, filepath.Join(b.TempDir(), "journal.db"))
	var events []journal.Event
	for range 10_000 {
		events = append(events, remark("a remark of the usual length, about what was seen"))
	}
	if err := s.Append(context.Background(), "a", 0, events...); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if got, err := s.Events(context.Background(), "a", 0); err != nil || len(got) != 10_000 {
			b.Fatal(len(got), err)
		}
	}
}
