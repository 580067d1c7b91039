package heat_test

import (
	"fmt"
	"testing"
	"time"

	"fettler/internal/heat"
)

// reference is the run the speed is stated for: 100 × 80 mm, 120 s of hot air.
func reference(cell float64, explicit bool, seconds float64) (heat.Job, heat.Settings) {
	p, _ := heat.PartFor("U1", "SOIC-8", 50, 40)
	j := heat.Job{
		Board: heat.Board{Width: 100, Height: 80, Thickness: 1.6, Layers: 2, CopperShare: 0.4},
		Part:  p,
		Neighbours: []heat.Neighbour{
			{Name: "C9", Kind: "electrolytic capacitor", Distance: 8},
			{Name: "J1", Kind: "plastic connector", X: 50, Y: 52},
		},
		Tool:  heat.Tool{HotAir: &heat.HotAir{SetTemp: 370, Nozzle: 5, Distance: 15, Flow: 20}},
		Alloy: "Sn96.5Ag3Cu0.5",
	}
	return j, heat.Settings{Cell: cell, MaxTime: seconds, Full: true, Cool: 0.01, Explicit: explicit}
}

// BenchmarkReference is the stated case: 120 s, 0.5 mm, default step; with cells that grow
// away from the part, as by default, and with 0.5 mm all over.
func BenchmarkReference(b *testing.B) {
	b.Run("growing", func(b *testing.B) { run(b, scheme{}, 0.5, 120) })
	b.Run("equal", func(b *testing.B) { run(b, scheme{equal: true}, 0.5, 120) })
}

// A scheme is how the cells are laid and the time is stepped.
type scheme struct{ equal, explicit bool }

func (w scheme) simulate(b *testing.B, cell, seconds float64) *heat.Result {
	j, s := reference(cell, w.explicit, seconds)
	s.Uniform = w.equal
	r, err := heat.Simulate(b.Context(), j, s)
	if err != nil {
		b.Fatal(err)
	}
	return r
}

// BenchmarkAgainstExplicit runs the stated case in every way, one after the other, so that
// whatever else the machine does falls on all: its figures are how many times longer
// the forward scheme takes on equal cells.
func BenchmarkAgainstExplicit(b *testing.B) {
	took := func(w scheme) float64 {
		from := time.Now()
		w.simulate(b, 0.5, 120)
		return time.Since(from).Seconds()
	}
	var growing, equal, forward float64
	for b.Loop() {
		growing += took(scheme{})
		equal += took(scheme{equal: true})
		forward += took(scheme{equal: true, explicit: true})
	}
	b.ReportMetric(forward/equal, "explicit/equal")
	b.ReportMetric(forward/growing, "explicit/growing")
	b.ReportMetric(growing/float64(b.N), "s-growing")
	b.ReportMetric(equal/float64(b.N), "s-equal")
}

// BenchmarkGrid shows the growth with the number of nodes, 20 s of heating.
func BenchmarkGrid(b *testing.B) {
	for _, x := range []struct {
		name  string
		how   scheme
		cells []float64
	}{{"growing", scheme{}, []float64{4, 2, 1, 0.5, 0.25}}, {"equal", scheme{equal: true}, []float64{4, 2, 1, 0.5, 0.25}}, {"explicit", scheme{equal: true, explicit: true}, []float64{4, 2, 1, 0.5}}} {
		for _, cell := range x.cells {
			b.Run(fmt.Sprintf("%s/cell=%gmm", x.name, cell), func(b *testing.B) { run(b, x.how, cell, 20) })
		}
	}
}

func run(b *testing.B, how scheme, cell, seconds float64) {
	var r *heat.Result
	for b.Loop() {
		r = how.simulate(b, cell, seconds)
	}
	b.ReportMetric(float64(r.Steps), "steps")
	b.ReportMetric(float64(r.Nodes), "nodes")
}

// BenchmarkAdvise is a whole advice as a bench asks for it, on one worker: a SOIC with hot
// air, and an iron on a pin that a ground plane holds, on four layers and on two.
func BenchmarkAdvise(b *testing.B) {
	soic, _ := reference(1, false, 0)
	plane := soic
	plane.Board.Layers, plane.Board.PlaneUnder = 4, true
	plane.Part, _ = heat.PartFor("C5", "radial electrolytic", 50, 40)
	plane.Part.Pads[0].Vias = 4
	plane.Tool = heat.Tool{Iron: &heat.Iron{TipTemp: 350, Contact: 0.15, Power: 60}}
	warm := plane
	warm.Board.Layers = 2
	for _, x := range []struct {
		name string
		job  heat.Job
	}{{"SOIC, hot air", soic}, {"ground plane, iron", plane}, {"two layers with a plane, iron", warm}} {
		b.Run(x.name, func(b *testing.B) {
			var a *heat.Advice
			for b.Loop() {
				var err error
				if a, err = heat.Advise(b.Context(), x.job, heat.AdviceSettings{Run: heat.Settings{Workers: 1}}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(len(a.Options)), "options")
			b.Logf("%s; window %.2f, %.2f to %.2f, %.2f to %.2f", a.Summary, a.Window.Nominal, a.Window.Early, a.Window.Late, a.Window.Earliest, a.Window.Latest)
		})
	}
}
