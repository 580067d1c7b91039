package web

import (
	"fmt"
	"math"
	"time"

	"fettler/internal/casework"
)

// calibrationPlot draws how often what was stated came true.
func calibrationPlot(c casework.Calibrated) *Graph {
	if len(c.Bins) == 0 {
		return nil
	}
	p, x, y := newGraph(440, axis{from: 0, to: 1}, axis{from: 0, to: 1}, "chance that was stated", "how often it came true")
	tens := []float64{0, 0.2, 0.4, 0.6, 0.8, 1}
	p.ticks(x, y, tens, tens, tickPercent, tickPercent)
	p.line("aim", x, y, []float64{0, 1}, []float64{0, 1})
	most := 1
	for _, b := range c.Bins {
		most = max(most, b.N)
	}
	for _, b := range c.Bins {
		p.line("reach", x, y, []float64{b.Stated, b.Stated}, []float64{b.Low, b.High})
	}
	for _, b := range c.Bins {
		p.Dots = append(p.Dots, GraphDot{x.place(b.Stated), y.place(b.Came), round1(5 + 9*math.Sqrt(float64(b.N)/float64(most))), "dot",
			fmt.Sprintf("stated %s on average, came true %s, %s", percent(b.Stated), percent(b.Came), count(b.N, "time", "times"))})
	}
	p.Alt = fmt.Sprintf("Reliability of %d stated chances: each dot is a group, the dashed line is perfect. Figures in the table below.", c.N)
	return p
}

// costPlot draws what it took over what was foretold.
func costPlot(pairs []casework.MissPair, unit string) *Graph {
	if len(pairs) < 2 {
		return nil
	}
	most := 0.0
	for _, q := range pairs {
		most = max(most, q.Foretold, q.Real)
	}
	if !(most > 0) {
		return nil
	}
	most *= 1.05
	p, x, y := newGraph(380, axis{from: 0, to: most}, axis{from: 0, to: most}, "foretold, "+unit, "what it took, "+unit)
	t := steps(0, most, 5)
	p.ticks(x, y, t, t, tickPlain, tickPlain)
	p.line("aim", x, y, []float64{0, most}, []float64{0, most})
	for _, q := range pairs[max(0, len(pairs)-500):] {
		p.Dots = append(p.Dots, GraphDot{x.place(q.Foretold), y.place(q.Real), 5, "dot", fmt.Sprintf("foretold %s, took %s %s", tickPlain(q.Foretold), tickPlain(q.Real), unit)})
	}
	p.Alt = fmt.Sprintf("%d cases: foretold against real, in %s. On the dashed line it took what was foretold; above, more.", len(pairs), unit)
	return p
}

// runningPlot draws a running total over the months.
func runningPlot(months []casework.SavedMonth, of func(casework.SavedMonth) float64, name string) *Graph {
	if len(months) < 2 {
		return nil
	}
	xs, ys := []float64{}, []float64{}
	low, high := 0.0, 0.0
	first := months[0].Month
	at := func(t time.Time) float64 { return t.Sub(first).Hours() / 24 / 30.44 }
	for _, m := range months {
		xs, ys = append(xs, at(m.Month)+1), append(ys, of(m))
		low, high = min(low, of(m)), max(high, of(m))
	}
	xs, ys = append([]float64{0}, xs...), append([]float64{0}, ys...)
	if !(high > low) {
		return nil
	}
	last := xs[len(xs)-1]
	p, x, y := newGraph(260, axis{from: 0, to: last}, axis{from: low, to: high * 1.08}, "", name)
	p.ticks(x, y, nil, steps(low, high*1.08, 4), tickPlain, tickPlain)
	every := max(1, (len(months)+3)/4)
	for i := 0; i < len(months); i += every {
		p.XTicks = append(p.XTicks, GraphTick{min(x.place(at(months[i].Month)+0.5), p.Right-36), months[i].Month.Format("Jan 2006")})
	}
	p.line("area", x, y, append(append([]float64{}, xs...), last, 0), append(append([]float64{}, ys...), 0, 0))
	p.line("main", x, y, xs, ys)
	p.Dots = append(p.Dots, GraphDot{x.place(last), y.place(ys[len(ys)-1]), 6, "here", tickPlain(ys[len(ys)-1])})
	p.Alt = fmt.Sprintf("Running total, %s: %s in the end.", name, tickPlain(ys[len(ys)-1]))
	return p
}

// A Span is a factor with what it may be, on a measure from an eighth to eight times.
type Span struct{ Low, Mid, High, One int }

func factorSpan(o casework.LearntOdds) Span {
	at := func(f float64) int {
		if !(f > 0) {
			return 0
		}
		return int(math.Round(1000 * min(max(math.Log2(f)/6+0.5, 0), 1)))
	}
	return Span{at(o.Low), at(o.Mean), at(o.High), at(1)}
}
