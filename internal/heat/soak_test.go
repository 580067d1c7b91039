package heat

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A run that goes on from another's soak is the same to the last bit as one that soaked
// by itself, whatever the other's tool was set to.
func TestSharedSoaksDoNotShow(t *testing.T) {
	p, err := PartFor("U1", "DPAK", 30, 25)
	if err != nil {
		t.Fatal(err)
	}
	p.Pads[0].Vias = 4
	base := Job{Board: Board{Width: 60, Height: 50, Thickness: 1.6, Layers: 4, CopperShare: 0.5, PlaneUnder: true}, Part: p,
		Neighbours: []Neighbour{{Name: "C9", Kind: "electrolytic capacitor", Distance: 6}}}
	pre := &Preheat{Temp: 190, Soak: 40}
	air := func(set, distance float64) Tool {
		return Tool{HotAir: &HotAir{SetTemp: set, Nozzle: 8, Distance: distance, Flow: 30}, Preheat: pre}
	}
	iron := func(tip float64) Tool {
		return Tool{Iron: &Iron{TipTemp: tip, Contact: 0.2, Power: 60}, Preheat: pre}
	}
	for _, c := range []struct {
		name         string
		first, other Tool
		shield       bool
		vary         Factors
	}{
		{"air", air(350, 15), air(420, 15), true, Factors{}},
		{"air farther off", air(350, 15), air(350, 15), false, Factors{Distance: 1.3}},
		{"more heat from below", air(350, 15), air(350, 15), false, Factors{H: 1.4}},
		{"iron", iron(350), iron(400), false, Factors{}},
	} {
		var all soaks
		s := Settings{Cell: 2, MaxTime: 40, Frames: 10, Workers: 1}
		j := base
		j.Tool = c.first
		if _, err := simulate(t.Context(), j, s, &all); err != nil {
			t.Fatal(err)
		}
		j.Tool, s.Vary = c.other, c.vary
		j.Neighbours = []Neighbour{base.Neighbours[0]}
		j.Neighbours[0].Shielded = c.shield
		shared, err := simulate(t.Context(), j, s, &all)
		if err != nil {
			t.Fatal(err)
		}
		alone, err := Simulate(t.Context(), j, s)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(alone, shared, cmp.AllowUnexported(Jet{})); diff != "" {
			t.Errorf("%s (-alone +shared):\n%s", c.name, diff)
		}
		want := 1
		if c.vary.H != 0 {
			want = 2
		}
		if len(all.kept) != want {
			t.Errorf("%s: %d soaks, want %d", c.name, len(all.kept), want)
		}
	}
}
