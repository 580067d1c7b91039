package heat

import (
	"context"
	"math"
	"testing"
)

// Long steps where little changes must not show: against steps of one length all along,
// what is read off moves by less than the step itself costs (2 % of the melting time).
func TestLongStepsDoNotShow(t *testing.T) {
	air := Tool{HotAir: &HotAir{SetTemp: 370, Nozzle: 5, Distance: 15, Flow: 20}}
	for _, c := range []struct {
		name, pkg string
		tool      Tool
		board     Board
	}{
		{"air", "SOIC-8", air, Board{Width: 60, Height: 50, Thickness: 1.6, Layers: 2, CopperShare: 0.4}},
		{"preheated plane", "DPAK", Tool{HotAir: &HotAir{SetTemp: 400, Nozzle: 8, Distance: 12, Flow: 30}, Preheat: &Preheat{Temp: 180, Soak: 90}},
			Board{Width: 60, Height: 50, Thickness: 1.6, Layers: 4, CopperShare: 0.5, PlaneUnder: true}},
		{"iron", "TO-220", Tool{Iron: &Iron{TipTemp: 350, Contact: 0.2, Power: 60}}, Board{Width: 60, Height: 50, Thickness: 1.6, Layers: 2, CopperShare: 0.8}},
	} {
		p, err := PartFor("U1", c.pkg, 30, 25)
		if err != nil {
			t.Fatal(err)
		}
		j, err := Job{Board: c.board, Part: p, Tool: c.tool, Neighbours: []Neighbour{{Name: "C9", Kind: "electrolytic capacitor", Distance: 6}}}.withDefaults()
		if err != nil {
			t.Fatal(err)
		}
		s, err := Settings{MaxTime: 90, Full: true, Cool: 30, Frames: 10, Workers: 1}.withDefaults(j)
		if err != nil {
			t.Fatal(err)
		}
		march := func(most int) *Result {
			r := newRun(newModel(j, s))
			r.most = most
			if err := r.phases(context.Background(), nil); err != nil {
				t.Fatal(err)
			}
			return r.finish()
		}
		long, even := march(stretchMost), march(1)
		worst := 0.0
		for i, f := range long.History.Frames {
			e := even.History.Frames[i]
			if math.Abs(f.Time-e.Time) > 1e-6 {
				t.Fatalf("%s: frame %d at %.2f s and %.2f s", c.name, i, f.Time, e.Time)
			}
			for q := range f.Top {
				worst = max(worst, math.Abs(float64(f.Top[q]-e.Top[q])), math.Abs(float64(f.Bottom[q]-e.Bottom[q])))
			}
		}
		t.Logf("%s: %d steps instead of %d; molten %.2f and %.2f s, C9 %.1f and %.1f °C, board %.1f and %.1f °C, frames within %.2f K; balance %.1g", c.name,
			long.Steps, even.Steps, long.Molten, even.Molten, long.Neighbours[0].Peak, even.Neighbours[0].Peak, long.Board.Peak, even.Board.Peak, worst, long.Energy.Residual)
		if math.Abs(long.Molten-even.Molten) > 0.01*math.Abs(even.Molten) || math.Abs(long.Neighbours[0].Peak-even.Neighbours[0].Peak) > 0.5 ||
			math.Abs(long.Board.Peak-even.Board.Peak) > 0.5 || worst > 1 || !(long.Energy.Residual <= 1e-3) {
			t.Errorf("%s: long steps show", c.name)
		}
	}
}
