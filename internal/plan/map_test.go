package plan_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"math"
	"os"
	"testing"

	"fettler/internal/plan"
)

// The map of a shipped device: chances add up at every spot, and the drawing is well-formed XML.
// FETTLER_DRAW names a file to write it to.
func TestMap(t *testing.T) {
	e, b, _ := complained(t, shipped(t, "powered-loudspeaker"), 1)
	p, err := plan.New(e, bench)
	if err != nil {
		t.Fatal(err)
	}
	m, err := p.Map(context.Background(), b, plan.Situation{}, 3)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range m.Spots {
		sum, children := 0.0, 0
		for _, c := range m.Spots {
			if c.Parent == i {
				sum += c.P
				children++
			}
		}
		if s.Level < 2 && children > 0 && math.Abs(sum-s.P) > 1e-3 {
			t.Errorf("%q: chance %.4f, its results add up to %.4f", s.Do, s.P, sum)
		}
		if s.Level > 2 || s.Do == "" || s.Parent >= i {
			t.Errorf("spot %d: %+v", i, s)
		}
	}
	var out bytes.Buffer
	if err := m.SVG(&out); err != nil {
		t.Fatal(err)
	}
	if name := os.Getenv("FETTLER_DRAW"); name != "" {
		if err := os.WriteFile(name, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for d := xml.NewDecoder(&out); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("the drawing is not well-formed: %v", err)
		}
	}
}
