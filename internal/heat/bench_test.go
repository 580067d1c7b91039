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

// BenchmarkReference is the stated case: 120 s, 0.5 mm, default step.
func BenchmarkReference(b *testing.B) {
	run(b, 0.5, false, 120)
}

// BenchmarkAgainstExplicit runs the stated case both ways, one after the other, so that
// whatever else the machine does falls on both: its figure is how many times longer the
// forward scheme takes.
func BenchmarkAgainstExplicit(b *testing.B) {
	took := func(explicit bool) time.Duration {
		j, s := reference(0.5, explicit, 120)
		from := time.Now()
		if _, err := heat.Simulate(b.Context(), j, s); err != nil {
			b.Fatal(err)
		}
		return time.Since(from)
	}
	var factored, forward time.Duration
	for b.Loop() {
		factored += took(false)
		forward += took(true)
	}
	b.ReportMetric(float64(forward)/float64(factored), "explicit/factored")
	b.ReportMetric(factored.Seconds()/float64(b.N), "s-factored")
}

// BenchmarkGrid shows the growth with the number of nodes, 20 s of heating.
func BenchmarkGrid(b *testing.B) {
	for _, cell := range []float64{4, 2, 1, 0.5, 0.25} {
		b.Run(fmt.Sprintf("factored/cell=%gmm", cell), func(b *testing.B) { run(b, cell, false, 20) })
	}
	for _, cell := range []float64{4, 2, 1, 0.5} {
		b.Run(fmt.Sprintf("explicit/cell=%gmm", cell), func(b *testing.B) { run(b, cell, true, 20) })
	}
}

func run(b *testing.B, cell float64, explicit bool, seconds float64) {
	j, s := reference(cell, explicit, seconds)
	steps := 0
	for b.Loop() {
		r, err := heat.Simulate(b.Context(), j, s)
		if err != nil {
			b.Fatal(err)
		}
		steps = r.Steps
	}
	b.ReportMetric(float64(steps), "steps")
	b.ReportMetric(100/cell*80/cell*3, "nodes")
}
