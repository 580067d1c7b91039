package plan_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"fettler/internal/note"
	"fettler/internal/plan"
)

// took is the shortest time of some runs, in milliseconds: other work on the machine only makes it longer.
func took(runs int, f func()) float64 {
	best := math.Inf(1)
	for range runs {
		start := time.Now()
		f()
		best = math.Min(best, float64(time.Since(start).Microseconds())/1000)
	}
	return best
}

// How the time grows with modes, with checks, with depth and with offers: logged as a table, and drawn with -update.
// It takes minutes, so it is only done when FETTLER_GROWTH is set; no time is asserted.
func TestGrowth(t *testing.T) {
	sizes := map[string][]int{"modes": {15, 30}, "checks": {10, 20}, "expansions": {0, 3}, "offers": {3, 5}}
	runs := 1
	if os.Getenv("FETTLER_GROWTH") != "" {
		runs = 11
		sizes = map[string][]int{"modes": {10, 20, 40, 60, 80, 120, 160}, "checks": {10, 20, 40, 60, 80, 120}, "expansions": {1, 3, 10, 30, 100, 300}, "offers": {2, 4, 6, 8, 10, 12, 15}}
	}
	once := func(m *note.Model, effort int) float64 {
		e, b, _ := complained(t, m, 1)
		return took(runs, func() {
			p, err := plan.New(e, bench)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := p.AdviseWith(context.Background(), b, plan.Situation{}, plan.Effort{Expansions: effort}); err != nil {
				t.Fatal(err)
			}
		})
	}
	basket := func(n int) float64 {
		m := shipped(t, "powered-loudspeaker")
		e, b, _ := complained(t, m, 1)
		offers := randomOffers(rand.New(rand.NewPCG(1, 1)), len(m.Repairs), n)
		return took((runs+2)/3, func() {
			p, err := plan.New(e, bench)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := p.Basket(context.Background(), b, plan.Situation{}, offers); err != nil {
				t.Fatal(err)
			}
		})
	}
	var curves []curve
	for _, x := range []struct {
		what, name, dash string
		mark             byte
		ms               func(n int) float64
	}{
		{"modes", "faults (40 checks)", "", 'f', func(n int) float64 { return once(synthetic(n, 40), 0) }},
		{"checks", "checks (60 faults)", "6 3", 'o', func(n int) float64 { return once(synthetic(60, n), 0) }},
		{"expansions", "expansions (60, 40)", "2 3", 's', func(n int) float64 { return once(synthetic(60, 40), n) }},
		{"offers", "offers of a basket", "8 3 2 3", 'x', basket},
	} {
		c := curve{name: x.name, dash: x.dash, mark: x.mark}
		var row []string
		for _, n := range sizes[x.what] {
			ms := x.ms(n)
			row = append(row, fmt.Sprintf("%d: %.0f", n, ms))
			c.at = append(c.at, dot{x: float64(max(1, n)), y: max(1, ms)})
		}
		t.Logf("| %s | %s |", x.name, strings.Join(row, ", "))
		curves = append(curves, c)
	}
	number := func(v float64) string { return fmt.Sprint(v) }
	if runs > 1 {
		keep(t, "decision-growth.svg", chart{title: "Time for one advice, or one basket (shortest of several)", across: "how many", up: "milliseconds", curves: curves,
			x: axis{low: 1, high: 400, log: true, ticks: []float64{1, 3, 10, 30, 100, 300}, label: number}, y: axis{low: 1, high: 5000, log: true, ticks: []float64{1, 3, 10, 30, 100, 300, 1000, 3000}, label: number}})
	}
}
