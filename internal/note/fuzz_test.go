package note_test

import (
	"context"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"fettler/internal/note"
)

// Whatever stands in a file, the reader answers with problems or a model and does not panic.
func FuzzLoad(f *testing.F) {
	base := docNotes(f)
	for _, file := range base {
		f.Add(file.Data)
	}
	bad, _ := filepath.Glob("testdata/bad/*.txtar")
	for _, name := range bad {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for _, member := range txtar.Parse(data).Files {
			f.Add(member.Data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		ctx := context.Background()
		mine := fstest.MapFS{"mine.yaml": {Data: data}}
		for _, layer := range []fs.FS{mine, note.Trusted(mine)} {
			lib, _ := note.Load(ctx, base, layer)
			for _, d := range lib.Devices() {
				m, err := lib.Model(d.ID)
				if err == nil {
					sound(t, m)
				}
			}
			if _, err := lib.Check(ctx); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// fataler is a test, or one draw of a property.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// sound fails if a model breaks what the package promises of every one.
func sound(t fataler, m *note.Model) {
	t.Helper()
	sum := 0.0
	for i, x := range m.Modes {
		sum += math.Log1p(x.Odds)
		for _, c := range x.Causes {
			if c.Mode >= i || !(c.Chance > 0 && c.Chance < 1) {
				t.Fatalf("cause %+v of mode %d", c, i)
			}
		}
		for _, e := range x.Effects {
			if e.State < 0 || e.State >= len(m.Conditions[e.Cond].States) {
				t.Fatalf("effect %+v", e)
			}
		}
	}
	if !(math.Abs(sum-0.26) < 1e-9) {
		t.Fatalf("Σ ln(1+odds) = %g", sum)
	}
	for i, c := range m.Conditions {
		for _, l := range c.From {
			if l.Cond >= i || len(l.Map) != len(m.Conditions[l.Cond].States) {
				t.Fatalf("link %+v of condition %d", l, i)
			}
		}
	}
	for _, f := range m.Findings {
		if !(f.Leak >= 0.001 && f.Leak <= 1) {
			t.Fatalf("leak %g", f.Leak)
		}
		for _, row := range f.Table {
			s := 0.0
			for _, p := range row {
				s += p
			}
			if len(row) != len(f.Answers) || !(math.Abs(s-1) < 1e-9) {
				t.Fatalf("row %v", row)
			}
		}
		if f.Kind == note.Reading && len(f.Dist) != len(m.Conditions[f.Cond].States) {
			t.Fatalf("%d distributions", len(f.Dist))
		}
	}
	for _, c := range m.Checks {
		for _, f := range c.Findings {
			if m.Findings[f].Check < 0 || m.Checks[m.Findings[f].Check].ID != c.ID {
				t.Fatalf("finding %d is not of check %s", f, c.ID)
			}
		}
	}
}
