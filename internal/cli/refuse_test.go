package cli_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/cli"
	"fettler/internal/store/sqlite"
)

// refused runs a command that must end with exit and say all of these.
func (b *bench) refused(exit cli.Exit, says []string, args ...string) {
	b.t.Helper()
	out, errs, got := b.run(args...)
	if got != exit {
		b.t.Errorf("fettler %q: exit %d, want %d", args, got, exit)
	}
	for _, s := range says {
		if !strings.Contains(strings.Join(strings.Fields(out+errs), " "), s) {
			b.t.Errorf("fettler %q does not say %q:\n%s%s", args, s, out, errs)
		}
	}
}

// No picture is written over a file that is there.
func TestPicturesLeaveFilesAlone(t *testing.T) {
	b := newBench(t)
	for name, args := range map[string][]string{
		"heat":         {"heat", "SOIC-8", "--picture"},
		"note picture": {"note", "picture", "kettle", "--out"},
	} {
		file := filepath.Join(t.TempDir(), "kept.svg")
		if err := os.WriteFile(file, []byte("mine"), 0o600); err != nil {
			t.Fatal(err)
		}
		b.refused(cli.Usage, []string{"already", "left as it is"}, append(args, file)...)
		if got, err := os.ReadFile(file); err != nil || string(got) != "mine" {
			t.Errorf("%s: the file holds %q now, %v", name, got, err)
		}
	}
}

func TestDevicesThatNothingFits(t *testing.T) {
	newBench(t).refused(cli.No, []string{"no note for “zzzqqq”"}, "devices", "zzzqqq")
}

// An event that is not there cannot have been seen.
func TestSeenBeyondTheEnd(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "kettle", "--label", "Hall kettle")
	b.refused(cli.Conflict, []string{"event 99", "look at it again"}, "remark", "--seen", "99", "x")
	b.must("remark", "--seen", "1", "x")
}

// A label is one line, whatever was pasted.
func TestLabelOfSeveralLines(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "kettle", "--label", "Hall\nkettle\t 2")
	if out := b.must("cases"); !strings.Contains(out, "Hall kettle 2\n") {
		t.Errorf("listed as:\n%s", out)
	}
	b.must("show", "Hall kettle 2")
	out := b.must("--json", "shelf", "labels", "--own", "top\nshelf")
	if !strings.Contains(out, `"title": "top shelf"`) {
		t.Errorf("the label is %.300s", out)
	}
}

// A journal that has lost its content is not taken for a new bench, except while it is being made.
func TestEmptyJournal(t *testing.T) {
	b := newBench(t)
	file := filepath.Join(b.folder, "journal.sqlite")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-time.Hour)
	if err := os.Chtimes(file, old, old); err != nil {
		t.Fatal(err)
	}
	b.refused(cli.StoreFailed, []string{"empty file", "copy", "delete it"}, "cases")
	if err := os.Chtimes(file, time.Now(), time.Now()); err != nil {
		t.Fatal(err)
	}
	b.must("cases")
}

// A damaged case is listed with what to do, beside the good ones.
func TestDamagedCaseIsListed(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "kettle", "--label", "Hall kettle")
	b.must("take-in", "kettle", "--label", "Torn")
	ctx := context.Background()
	s, err := sqlite.Open(ctx, filepath.Join(b.folder, "journal.sqlite"))
	if err != nil {
		t.Fatal(err)
	}
	heads, err := s.Heads(ctx)
	if err != nil {
		t.Fatal(err)
	}
	torn := casework.Event{At: time.Now(), Kind: casework.KindClosed, Version: 1, Data: []byte(`{"verdict": 7}`)}
	if err := s.Append(ctx, heads[0].Case, heads[0].Seq, torn); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	out := b.must("cases")
	for _, says := range []string{"Hall kettle", "cannot be read", "restore the file from a copy"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), says) {
			t.Errorf("the list does not say %q:\n%s", says, out)
		}
	}
	b.must("show")
	b.must("next", "Hall kettle")
}
