package heatdesk_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/failure"
	"fettler/internal/heat"
	"fettler/internal/heatdesk"
)

// small is a question that is answered quickly.
func small() heatdesk.Ask {
	return heatdesk.Ask{Width: 30, Height: 25, Package: "SOIC-8", Part: "U3", Alloy: "Sn63Pb37", NoPreheat: true,
		Neighbours: []heatdesk.Near{{Name: "C9", Kind: "electrolytic capacitor", Distance: 6}, {Name: "J1", Kind: "plastic connector", Distance: 2}}}
}

// 370 °C hot air takes a small SOIC off a two-layer board in well under a minute:
// common practice, no source.
func TestHeatAnswer(t *testing.T) {
	var d heatdesk.Desk
	a := ok[*heatdesk.Answer](t)(d.Answer(t.Context(), small()))
	if a.Window.Nominal < 2 || a.Window.Nominal > 60 || a.Window.Early > a.Window.Nominal || !strings.Contains(a.Window.Words, " to ") {
		t.Errorf("window %+v", a.Window)
	}
	if a.Alloy.Liquidus != 183 || a.Family != "gull-wing" || len(a.Neighbours) != 2 {
		t.Errorf("%+v %s %+v", a.Alloy, a.Family, a.Neighbours)
	}
	if c, j := a.Neighbours[0], a.Neighbours[1]; c.Limit != 125 || c.Peak > c.Worst || !j.Shielded && j.Peak < c.Peak {
		t.Errorf("neighbours %+v", a.Neighbours)
	}
	all := strings.Join(a.Cautions, " ")
	for _, want := range []string{"fumes", "burn", "vents", "discharged"} {
		if !strings.Contains(all, want) {
			t.Errorf("cautions lack %q: %s", want, all)
		}
	}
	pictureHolds(t, a)

	// The same question once more is the same answer, not reckoned again.
	if again := ok[*heatdesk.Answer](t)(d.Answer(t.Context(), small())); again != a {
		t.Error("the same question was reckoned twice")
	}
}

// ok fails the test on an error.
func ok[T any](t *testing.T) func(T, error) T {
	return func(r T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

func pictureHolds(t *testing.T, a *heatdesk.Answer) {
	t.Helper()
	p := a.Picture
	if len(p.Moments) < 5 || len(p.Boxes) != 8+1+2 || p.Width != 30 {
		t.Fatalf("%d moments, %d boxes", len(p.Moments), len(p.Boxes))
	}
	lifted := false
	for i, m := range p.Moments {
		if i > 0 && m.Time <= p.Moments[i-1].Time || len(m.Values) != m.Nx*m.Ny {
			t.Errorf("moment %d at %g s, %d values", i, m.Time, len(m.Values))
		}
		lifted = lifted || strings.Contains(m.Note, "lift")
		for _, l := range m.Lines {
			if !strings.HasSuffix(l.Label, "°C") || math.IsNaN(l.LabelAt[0]) || len(l.Points) < 2 {
				t.Errorf("line %+v", l)
			}
		}
	}
	if !lifted || p.Hottest < 183 {
		t.Errorf("no moment says lift, or hottest %g °C", p.Hottest)
	}
}

func TestHeatIsTakenInTurn(t *testing.T) {
	var d heatdesk.Desk
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := d.Answer(gone, small()); err != nil && !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	first := ok[heatdesk.State](t)(d.Soon(t.Context(), small(), 0))
	other := small()
	other.Package = "0805"
	second := ok[heatdesk.State](t)(d.Soon(t.Context(), other, 0))
	if first.Key == "" || first.Key == second.Key {
		t.Errorf("keys %q and %q", first.Key, second.Key)
	}
	done := ok[heatdesk.State](t)(d.Soon(t.Context(), other, time.Minute))
	if !done.Ready || done.Answer == nil || done.Answer.Ask.Package != "0805" {
		t.Errorf("%+v", done)
	}
	// One is reckoned at a time, in order: the first must be there too.
	if st := ok[heatdesk.State](t)(d.Soon(t.Context(), small(), 0)); !st.Ready {
		t.Error("the second was answered before the first")
	}
}

func TestHeatIsAskedWell(t *testing.T) {
	var d heatdesk.Desk
	for name, change := range map[string]func(*heatdesk.Ask){
		"package":    func(a *heatdesk.Ask) { a.Package = "brick" },
		"copper":     func(a *heatdesk.Ask) { a.Copper = "lots" },
		"tool":       func(a *heatdesk.Ask) { a.Tool = "torch" },
		"alloy":      func(a *heatdesk.Ask) { a.Alloy = "gold" },
		"air":        func(a *heatdesk.Ask) { a.Air = 4000 },
		"not number": func(a *heatdesk.Ask) { a.Air = math.NaN() },
		"too thick":  func(a *heatdesk.Ask) { a.Thickness = 90 },
		"kind":       func(a *heatdesk.Ask) { a.Neighbours[0].Kind = "cat" },
		"gap":        func(a *heatdesk.Ask) { a.Neighbours[0].Distance = 0 },
		"side":       func(a *heatdesk.Ask) { a.Neighbours[0].Side = "inside" },
		"many":       func(a *heatdesk.Ask) { a.Neighbours = make([]heatdesk.Near, 40) },
		"year":       func(a *heatdesk.Ask) { a.Alloy, a.Year = "", 1 },
		"tiny board": func(a *heatdesk.Ask) { a.Width, a.Height = 6, 6 },
		"plane":      func(a *heatdesk.Ask) { a.Layers, a.Plane = 1, true },
	} {
		a := small()
		change(&a)
		if _, err := d.Answer(t.Context(), a); failure.CodeOf(err) != failure.BadInput {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The tables shown are those of package heat; 260 °C for a thin small body, lead-free:
// J-STD-020, table 4-2, as quoted in data sheets.
func TestAlloysAndLimits(t *testing.T) {
	g := ok[*heatdesk.Tables](t)(heatdesk.AlloysAndLimits(true, 1994, "e1"))
	if len(g.Alloys) != len(heat.Alloys()) || len(g.Near) != len(heat.NeighbourKinds()) || g.Guess.Alloy != "Sn96.5Ag3Cu0.5" {
		t.Errorf("%d alloys, %d neighbours, guess %+v", len(g.Alloys), len(g.Near), g.Guess)
	}
	want := heatdesk.ClassRow{Thickness: "under 1.6 mm", Volume: "under 350 mm³", LeadFree: true, Limit: 260, Trust: "read in a source"}
	if diff := cmp.Diff(want, g.Classes[0]); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if len(g.Classes) != 9+4 {
		t.Errorf("%d cells", len(g.Classes))
	}
	if _, err := heatdesk.AlloysAndLimits(true, 12, ""); failure.CodeOf(err) != failure.BadInput {
		t.Errorf("%v", err)
	}
}
