package heat

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the board and the place of the part: the cells fill the board, none is smaller
// than half or larger than the most allowed, a rectangle is spread without loss, and what
// a frame reads are means.
func TestMeshFillsTheBoard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		length, cell := f("length", 5, 300), f("cell", 0.3, 3)
		centre, half := f("centre", 0, length), f("half", 2, 20)
		edges := graded(length, cell, centre-half, centre+half)
		if edges[0] != 0 || math.Abs(edges[len(edges)-1]-length/1000) > 1e-12 || !slices.IsSorted(edges) {
			t.Fatalf("edges %v of %g mm", edges, length)
		}
		for i := range len(edges) - 1 {
			if w := 1000 * (edges[i+1] - edges[i]); w < 0.24*min(cell, length/2) || w > 2*max(cell, min(meshMost*cell, meshWide)) {
				t.Fatalf("a cell of %g mm of %d, asked for %g", w, len(edges)-1, cell)
			}
		}
		a, b := f("a", 0, length), f("b", 0, length)
		sum := 0.0
		for _, w := range cover(edges, min(a, b)/1000, max(a, b)/1000) {
			sum += w.len
		}
		if math.Abs(sum-math.Abs(a-b)/1000) > 1e-9 {
			t.Fatalf("%g to %g mm cover %g m", a, b, sum)
		}
		for _, parts := range sampled(edges, rapid.IntRange(1, 80).Draw(t, "n")) {
			sum := 0.0
			for _, w := range parts {
				sum += w.len
			}
			if math.Abs(sum-1) > 1e-9 || parts[0].cell < 0 || parts[len(parts)-1].cell > len(edges)-2 {
				t.Fatalf("a frame's cell is %v", parts)
			}
		}
	})
}

// Cells that grow away from the part must not show either: against equal cells of 0.5 mm
// all over, the melting time moves by less than 2 %, neighbours by less than 1 K.
func TestGrowingCellsDoNotShow(t *testing.T) {
	for _, c := range []struct {
		name, pkg string
		tool      Tool
		board     Board
	}{
		{"air", "SOIC-8", Tool{HotAir: &HotAir{SetTemp: 370, Nozzle: 5, Distance: 15, Flow: 20}}, Board{Width: 100, Height: 80, Thickness: 1.6, Layers: 2, CopperShare: 0.4}},
		{"plane", "DPAK", Tool{HotAir: &HotAir{SetTemp: 420, Nozzle: 8, Distance: 12, Flow: 40}}, Board{Width: 80, Height: 60, Thickness: 1.6, Layers: 4, CopperShare: 0.5, PlaneUnder: true}},
		{"iron", "radial electrolytic", Tool{Iron: &Iron{TipTemp: 350, Contact: 0.2, Power: 60}}, Board{Width: 80, Height: 60, Thickness: 1.6, Layers: 2, CopperShare: 0.4}},
	} {
		p, err := PartFor("U1", c.pkg, c.board.Width/2, c.board.Height/2)
		if err != nil {
			t.Fatal(err)
		}
		j := Job{Board: c.board, Part: p, Tool: c.tool, Neighbours: []Neighbour{{Name: "C9", Kind: "electrolytic capacitor", Distance: 8}, {Name: "J1", Kind: "plastic connector", X: c.board.Width / 2, Y: c.board.Height/2 + 18}}}
		run := func(uniform bool) *Result {
			r, err := Simulate(context.Background(), j, Settings{Cell: 0.5, MaxTime: 30, Full: true, Cool: 5, Frames: 5, Uniform: uniform})
			if err != nil {
				t.Fatal(err)
			}
			return r
		}
		a, b := run(false), run(true)
		worst := 0.0
		for i, f := range a.History.Frames {
			for q := range f.Top {
				worst = max(worst, math.Abs(float64(f.Top[q]-b.History.Frames[i].Top[q])))
			}
		}
		t.Logf("%s: molten %.2f and %.2f s, C9 %.1f and %.1f °C, J1 %.1f and %.1f °C, board %.1f and %.1f °C, picture within %.1f K", c.name, a.Molten, b.Molten,
			a.Neighbours[0].Peak, b.Neighbours[0].Peak, a.Neighbours[1].Peak, b.Neighbours[1].Peak, a.Board.Peak, b.Board.Peak, worst)
		if math.Abs(a.Molten-b.Molten) > 0.02*math.Abs(b.Molten) || math.Abs(a.Neighbours[0].Peak-b.Neighbours[0].Peak) > 1 || math.Abs(a.Neighbours[1].Peak-b.Neighbours[1].Peak) > 1 ||
			math.Abs(a.Board.Peak-b.Board.Peak) > 2 || worst > 4 {
			t.Errorf("%s: growing cells show", c.name)
		}
	}
}
