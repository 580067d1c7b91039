package web

import (
	"fmt"

	"fettler/internal/casework"
)

// soakPlot draws the chance that it is fixed over what has been seen clean.
func soakPlot(v *casework.SoakBoard) *Graph {
	if v.Plan == nil || len(v.Curve) < 2 {
		return nil
	}
	last := v.Curve[len(v.Curve)-1].X
	low := v.Curve[0].Fixed
	floor := 0.0
	if low > 0.85 {
		floor = 0.8
	}
	unit, name := 1.0, "clean starts"
	if v.Plan.Unit == "minutes" {
		name = "clean minutes"
		if last > 300 {
			unit, name = 60, "clean hours"
		}
	}
	p, x, y := newGraph(280, axis{from: 0, to: last / unit}, axis{from: floor, to: 1}, name, "chance that it is fixed")
	p.ticks(x, y, steps(0, last/unit, 6), steps(floor, 1, 5), tickPlain, tickPercent)
	xs, ys := make([]float64, len(v.Curve)), make([]float64, len(v.Curve))
	for i, c := range v.Curve {
		xs[i], ys[i] = c.X/unit, c.Fixed
	}
	p.line("aim", x, y, []float64{0, last / unit}, []float64{v.Plan.Sure, v.Plan.Sure})
	p.line("aim", x, y, []float64{v.Plan.Need / unit, v.Plan.Need / unit}, []float64{floor, 1})
	p.line("main", x, y, xs, ys)
	p.Words = append(p.Words, GraphWord{x.place(v.Plan.Need/unit) + 6, p.Bottom - 8, "enough", "start"})
	p.Alt = fmt.Sprintf("The chance that it is fixed rises from %s now to %s after %s %s", percent(low), percent(v.Plan.Sure), tickPlain(round1(v.Plan.Need/unit)), name)
	if t := v.Tally; t != nil && t.State != "recurred" {
		if t.Pending > 0 {
			p.Dots = append(p.Dots, GraphDot{x.place((t.Counted + t.Pending) / unit), y.place(t.IfClean), 7, "maybe", "if it was clean since: " + percent(t.IfClean)})
		}
		p.Dots = append(p.Dots, GraphDot{x.place(t.Counted / unit), y.place(t.Fixed), 7, "here", "seen clean: " + percent(t.Fixed)})
		p.Alt += fmt.Sprintf("; it stands at %s.", percent(t.Fixed))
	}
	return p
}
