package heat_test

import (
	"flag"
	"math"
	"testing"

	"fettler/internal/heat"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// anyJob draws a job within the allowed ranges on a small board.
func anyJob(t *rapid.T) heat.Job {
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	size := f("size", 26, 34)
	p, err := heat.PartFor("U1", rapid.SampledFrom([]string{"SOT-23", "SOIC-8", "QFN-16 3x3", "DPAK", "0805", "DIP-8"}).Draw(t, "package"), size/2, size/2)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Pads {
		p.Pads[i].Vias = rapid.IntRange(0, 9).Draw(t, "vias")
	}
	layers := rapid.IntRange(1, 8).Draw(t, "layers")
	j := heat.Job{
		Board: heat.Board{Width: size, Height: size, Thickness: f("thickness", 0.4, 3), Layers: layers,
			CopperShare: f("copper", 0.02, 1), CopperThickness: f("foil", 9, 105), PlaneUnder: layers > 1 && rapid.Bool().Draw(t, "plane")},
		Part:    p,
		Alloy:   rapid.SampledFrom([]string{"Sn63Pb37", heat.DefaultAlloy, "Bi58Sn42", "SAC with low-melt alloy"}).Draw(t, "alloy"),
		Ambient: f("ambient", 5, 35),
	}
	if rapid.Bool().Draw(t, "neighbour") {
		j.Neighbours = []heat.Neighbour{{Name: "C9", Kind: rapid.SampledFrom([]string{"electrolytic capacitor", "ceramic capacitor", "LED"}).Draw(t, "kind"),
			Distance: f("distance", 1, 3), Shielded: rapid.Bool().Draw(t, "shielded")}}
	}
	air := rapid.Bool().Draw(t, "air")
	if air {
		j.Tool.HotAir = &heat.HotAir{SetTemp: f("set", 150, 500), Nozzle: f("nozzle", 2, 15), Distance: f("height", 3, 60), Flow: f("flow", 5, 100), Orbit: f("orbit", 0, 8)}
	}
	if !air || rapid.Bool().Draw(t, "iron") {
		j.Tool.Iron = &heat.Iron{TipTemp: f("tip", 200, 450), Contact: f("contact", 0.02, 2), Power: f("power", 15, 150)}
	}
	if rapid.Bool().Draw(t, "preheat") {
		j.Tool.Preheat = &heat.Preheat{Temp: f("pre", 60, 250), H: f("h", 5, 60), Soak: f("soak", 0, 4)}
	}
	return j
}

// Whatever the job: the energy balance closes to 0.1 %, nothing is hotter than the
// hottest source or colder than the room by more than 5 % of the rise (a tip of very
// good contact overshoots by a few percent in its first milliseconds), and the number
// of workers does not matter.
func TestRunsAreSound(t *testing.T) {
	if f := flag.Lookup("rapid.checks"); f != nil && f.Value.String() == f.DefValue {
		if err := f.Value.Set("30"); err != nil { // a light default; ask for more by the flag
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = f.Value.Set(f.DefValue) })
	}
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob(t)
		s := heat.Settings{Cell: rapid.SampledFrom([]float64{1, 1.5, 2}).Draw(t, "cell"), MaxTime: 6, Cool: 1, Workers: 1}
		r, err := heat.Simulate(t.Context(), j, s)
		if err != nil {
			t.Fatal(err)
		}
		if !(r.Energy.Residual <= 1e-3) {
			t.Errorf("residual %v", r.Energy.Residual)
		}
		top := j.Ambient
		if a := j.Tool.HotAir; a != nil {
			top = max(top, a.SetTemp)
		}
		if i := j.Tool.Iron; i != nil {
			top = max(top, i.TipTemp)
		}
		if p := j.Tool.Preheat; p != nil {
			top = max(top, p.Temp)
		}
		over := 0.05 * (top - j.Ambient)
		if !(r.Board.Peak <= top+over) || !(r.Die.Temp <= top+over) || !(r.Case.Temp <= top+over) {
			t.Errorf("board %.1f, die %.1f, case %.1f °C from sources of %.1f °C", r.Board.Peak, r.Die.Temp, r.Case.Temp, top)
		}
		for _, f := range r.History.Frames {
			for _, v := range append(f.Top, f.Bottom...) {
				if !(float64(v) >= j.Ambient-over) {
					t.Fatalf("%.1f °C in a room of %.1f °C", v, j.Ambient)
				}
			}
		}
		s.Workers = 3
		again, err := heat.Simulate(t.Context(), j, s)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(r.History, again.History); d != "" || r.Molten != again.Molten || r.Energy != again.Energy {
			t.Errorf("three workers differ from one: %s", d)
		}
	})
}

// An iron on a pad with vias, on thin laminate with a plane close under it, with solder that
// melts at one temperature: nothing gets hotter than the tip, and steps ten times shorter
// say the same. The factored step used to make 215 °C of a tip of 200 °C here.
func TestMeltingDoesNotOvershoot(t *testing.T) {
	p, err := heat.PartFor("U1", "SOT-23", 13, 13)
	if err != nil {
		t.Fatal(err)
	}
	p.Pads[0].Vias, p.Pads[1].Vias = 9, 3
	for _, contact := range []float64{0.02, 0.1} {
		j := heat.Job{Board: heat.Board{Width: 26, Height: 26, Thickness: 0.4, Layers: 2, CopperShare: 0.4355450054130202, CopperThickness: 9, PlaneUnder: true}, Part: p,
			Tool: heat.Tool{Iron: &heat.Iron{TipTemp: 200, Contact: contact, Power: 15}}, Alloy: "Bi58Sn42", Ambient: 24.8}
		s := heat.Settings{Cell: 1, MaxTime: 6, Cool: 1, Workers: 1, Full: true}
		r, err := heat.Simulate(t.Context(), j, s)
		if err != nil {
			t.Fatal(err)
		}
		s.Step = 0.005
		fine, err := heat.Simulate(t.Context(), j, s)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%g W/K: board %.1f °C, with short steps %.1f °C", contact, r.Board.Peak, fine.Board.Peak)
		if !(r.Board.Peak <= 200) || math.Abs(r.Board.Peak-fine.Board.Peak) > 3 {
			t.Errorf("%g W/K: board at %.1f °C from a tip of 200 °C; with short steps %.1f °C", contact, r.Board.Peak, fine.Board.Peak)
		}
	}
}
