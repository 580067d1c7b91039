package casework_test

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/casework"
	"fettler/internal/heat"
)

// small is a question that is answered quickly.
func small() casework.HeatAsk {
	return casework.HeatAsk{Width: 30, Height: 25, Package: "SOIC-8", Part: "U3", Alloy: "Sn63Pb37", NoPreheat: true,
		Neighbours: []casework.HeatNear{{Name: "C9", Kind: "electrolytic capacitor", Distance: 6}, {Name: "J1", Kind: "plastic connector", Distance: 2}}}
}

// 370 °C hot air takes a small SOIC off a two-layer board in well under a minute:
// common practice, no source.
func TestHeatAnswer(t *testing.T) {
	b, _ := newBench(t)
	a := ok[*casework.HeatAnswer](t)(b.Heat(ctx, small()))
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
	if again := ok[*casework.HeatAnswer](t)(b.Heat(ctx, small())); again != a {
		t.Error("the same question was reckoned twice")
	}
}

func pictureHolds(t *testing.T, a *casework.HeatAnswer) {
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
	b, _ := newBench(t)
	gone, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := b.Heat(gone, small()); err != nil && !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	first := ok[casework.HeatState](t)(b.HeatSoon(ctx, small(), 0))
	other := small()
	other.Package = "0805"
	second := ok[casework.HeatState](t)(b.HeatSoon(ctx, other, 0))
	if first.Key == "" || first.Key == second.Key {
		t.Errorf("keys %q and %q", first.Key, second.Key)
	}
	done := ok[casework.HeatState](t)(b.HeatSoon(ctx, other, time.Minute))
	if !done.Ready || done.Answer == nil || done.Answer.Ask.Package != "0805" {
		t.Errorf("%+v", done)
	}
	// One is reckoned at a time, in order: the first must be there too.
	if st := ok[casework.HeatState](t)(b.HeatSoon(ctx, small(), 0)); !st.Ready {
		t.Error("the second was answered before the first")
	}
}

func TestHeatIsAskedWell(t *testing.T) {
	b, _ := newBench(t)
	for name, change := range map[string]func(*casework.HeatAsk){
		"package":    func(a *casework.HeatAsk) { a.Package = "brick" },
		"copper":     func(a *casework.HeatAsk) { a.Copper = "lots" },
		"tool":       func(a *casework.HeatAsk) { a.Tool = "torch" },
		"alloy":      func(a *casework.HeatAsk) { a.Alloy = "gold" },
		"air":        func(a *casework.HeatAsk) { a.Air = 4000 },
		"not number": func(a *casework.HeatAsk) { a.Air = math.NaN() },
		"too thick":  func(a *casework.HeatAsk) { a.Thickness = 90 },
		"kind":       func(a *casework.HeatAsk) { a.Neighbours[0].Kind = "cat" },
		"gap":        func(a *casework.HeatAsk) { a.Neighbours[0].Distance = 0 },
		"side":       func(a *casework.HeatAsk) { a.Neighbours[0].Side = "inside" },
		"many":       func(a *casework.HeatAsk) { a.Neighbours = make([]casework.HeatNear, 40) },
		"year":       func(a *casework.HeatAsk) { a.Alloy, a.Year = "", 1 },
		"tiny board": func(a *casework.HeatAsk) { a.Width, a.Height = 6, 6 },
		"plane":      func(a *casework.HeatAsk) { a.Layers, a.Plane = 1, true },
	} {
		a := small()
		change(&a)
		if _, err := b.Heat(ctx, a); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The tables shown are those of package heat; 260 °C for a thin small body, lead-free:
// J-STD-020, table 4-2, as quoted in data sheets.
func TestAlloysAndLimits(t *testing.T) {
	g := ok[*casework.HeatTables](t)(casework.AlloysAndLimits(true, 1994, "e1"))
	if len(g.Alloys) != len(heat.Alloys()) || len(g.Near) != len(heat.NeighbourKinds()) || g.Guess.Alloy != "Sn96.5Ag3Cu0.5" {
		t.Errorf("%d alloys, %d neighbours, guess %+v", len(g.Alloys), len(g.Near), g.Guess)
	}
	want := casework.ClassRow{Thickness: "under 1.6 mm", Volume: "under 350 mm³", LeadFree: true, Limit: 260, Trust: "read in a source"}
	if diff := cmp.Diff(want, g.Classes[0]); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if len(g.Classes) != 9+4 {
		t.Errorf("%d cells", len(g.Classes))
	}
	if _, err := casework.AlloysAndLimits(true, 12, ""); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("%v", err)
	}
}
