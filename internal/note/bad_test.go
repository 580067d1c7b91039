package note_test

import (
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"fettler/internal/note"
)

var update = flag.Bool("update", false, "rewrite what the tests expect")

// Each archive holds a few notes, laid over the examples of the doc, and what the reader says to them.
func TestBad(t *testing.T) {
	files, err := filepath.Glob("testdata/bad/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatal("no archives", err)
	}
	for _, name := range files {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			mine, want := fstest.MapFS{}, ""
			for _, f := range a.Files {
				if f.Name == "want" {
					want = string(f.Data)
					continue
				}
				mine[f.Name] = &fstest.MapFile{Data: f.Data}
			}
			got := said(t, mine)
			if *update {
				rewrite(t, name, a, got)
				return
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// said is all that the reader finds wrong with notes laid over the doc's.
func said(t *testing.T, mine fstest.MapFS) string {
	t.Helper()
	lib, _ := note.Load(context.Background(), docNotes(t), note.Dir("mine", mine))
	if lib == nil {
		t.Fatal("no library")
	}
	problems, err := lib.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, p := range problems {
		b.WriteString(p.String())
		b.WriteByte('\n')
	}
	return b.String()
}

func rewrite(t *testing.T, name string, a *txtar.Archive, got string) {
	t.Helper()
	kept := a.Files[:0]
	for _, f := range a.Files {
		if f.Name != "want" {
			kept = append(kept, f)
		}
	}
	a.Files = append(kept, txtar.File{Name: "want", Data: []byte(got)})
	if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
		t.Fatal(err)
	}
}
