package belief_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// device makes an invented device of the size the tool meets: blocks in a row,
// each with two conditions that inherit from the block before, modes that act on
// them and on their part, symptoms on conditions, and a check per part.
func device(blocks, modesPerBlock int) *note.Model {
	rng := rand.New(rand.NewPCG(1, 1))
	m := &note.Model{ID: "bench"}
	states := []string{"good", "poor", "low", "absent"}
	for b := range blocks {
		base := len(m.Conditions)
		out := note.Condition{ID: fmt.Sprintf("b%d.out", b), States: states}
		if b > 0 {
			out.From = []note.Link{{Cond: earlierOut(m, b, rng), Map: []int{0, 1, 2, 3}}}
		}
		heat := note.Condition{ID: fmt.Sprintf("b%d.heat", b), States: []string{"normal", "hot"}, From: []note.Link{{Cond: base, Map: []int{0, 0, 1, 0}}}}
		m.Conditions = append(m.Conditions, out, heat)
		for k := range modesPerBlock {
			part := len(m.Conditions)
			m.Conditions = append(m.Conditions, note.Condition{ID: fmt.Sprintf("b%d.p%d", b, k), States: []string{"sound", "bad"}})
			x := note.Mode{ID: fmt.Sprintf("b%d.m%d", b, k), Odds: 0.26 / float64(blocks*modesPerBlock)}
			x.Effects = []note.Effect{{Cond: part, State: 1}, {Cond: base, State: 1 + rng.IntN(3)}}
			if rng.IntN(4) == 0 {
				x.Effects = append(x.Effects, note.Effect{Cond: base + 1, State: 1})
			}
			if k > 0 && rng.IntN(5) == 0 {
				x.Causes = []note.Cause{{Mode: len(m.Modes) - 1, Chance: 0.7}}
			}
			m.Modes = append(m.Modes, x)
			m.Findings = append(m.Findings, note.Finding{ID: x.ID + " test", Kind: note.Pick, Cond: part,
				Answers: []string{"good", "bad"}, Table: [][]float64{{0.97, 0.03}, {0.08, 0.92}}})
		}
		for s := 1; s < 4; s++ {
			m.Findings = append(m.Findings, note.Finding{ID: fmt.Sprintf("b%d.s%d", b, s), Kind: note.Sign, Leak: 0.01,
				Trigger: []note.Trigger{{Mode: -1, Cond: base, States: 1 << s, Chance: 0.8}, {Mode: len(m.Modes) - 1, Chance: 0.3}}})
		}
	}
	return m
}

func earlierOut(m *note.Model, b int, rng *rand.Rand) int {
	per := len(m.Conditions) / b
	return (b - 1 - rng.IntN(min(b, 2))) * per
}

// evidence draws faults from the device and looks at n findings.
func evidence(m *note.Model, n int) belief.Evidence {
	rng := rand.New(rand.NewPCG(2, 2))
	e, _ := belief.New(m, belief.Options{})
	w := e.World([]int{len(m.Modes) / 3, len(m.Modes) - 2})
	var ev belief.Evidence
	for _, f := range rng.Perm(len(m.Findings))[:n] {
		p := e.Chances(w, f)
		v := 1
		if m.Findings[f].Kind == note.Sign && rng.Float64() > p[0] || m.Findings[f].Kind == note.Pick && rng.Float64() < p[0] {
			v = 0
		}
		ev = ev.With(belief.Observation{Finding: f, Value: v})
	}
	return ev
}

// BenchmarkPosteriorDevice is the posterior after one new finding on a device of
// 60 modes and 80-odd findings, with 4 to 24 findings known.
func BenchmarkPosteriorDevice(b *testing.B) {
	m := device(10, 6)
	for _, n := range []int{4, 8, 16, 24} {
		b.Run(fmt.Sprintf("seen=%d", n), func(b *testing.B) {
			ev := evidence(m, n)
			e, _ := belief.New(m, belief.Options{})
			e.Posterior(context.Background(), ev) // fill the cache of single findings, as a case under way has
			b.ReportAllocs()
			for b.Loop() {
				if _, err := e.Posterior(context.Background(), ev); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// bipartite is a random two-layer network of the given size, priors summing to 0.5.
func bipartite(faults, findings int) (*note.Model, belief.Evidence) {
	rng := rand.New(rand.NewPCG(3, 3))
	m := &note.Model{ID: "wide"}
	sum := 0.0
	for i := range faults {
		w := rng.ExpFloat64()
		sum += w
		m.Modes = append(m.Modes, note.Mode{ID: fmt.Sprint(i), Odds: w})
	}
	for i := range m.Modes {
		p := m.Modes[i].Odds / sum * 0.5
		m.Modes[i].Odds = p / (1 - p)
	}
	for j := range findings {
		f := note.Finding{ID: fmt.Sprint(j), Leak: 0.01}
		for range 2 + rng.IntN(9) {
			f.Trigger = append(f.Trigger, note.Trigger{Mode: rng.IntN(faults), Chance: 0.1 + 0.8*rng.Float64()})
		}
		m.Findings = append(m.Findings, f)
	}
	var ev belief.Evidence
	for k := range 30 {
		v := 0
		if k < 10 {
			v = 1
		}
		ev = ev.With(belief.Observation{Finding: k * findings / 30, Value: v})
	}
	return m, ev
}

// BenchmarkWide: 600 faults by 4000 findings, ten positive and twenty negative,
// the engine beside an exact Quickscore (inclusion and exclusion over the
// positive findings, Heckerman, UAI 1989).
func BenchmarkWide(b *testing.B) {
	m, ev := bipartite(600, 4000)
	e, err := belief.New(m, belief.Options{AllowNone: true, Unknown: -1})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("engine", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := e.Posterior(context.Background(), ev); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("quickscore", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			quickscore(m, ev)
		}
	})
}

// BenchmarkGrowth doubles the number of positive findings and of faults.
func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{75, 150, 300, 600} {
		m, ev := bipartite(n, 4000)
		e, _ := belief.New(m, belief.Options{AllowNone: true, Unknown: -1})
		b.Run(fmt.Sprintf("faults=%d", n), func(b *testing.B) {
			for b.Loop() {
				e.Posterior(context.Background(), ev)
			}
		})
	}
}

// quickscore returns P(fault | evidence) for every fault by Heckerman's formula,
// grouping by the set S of positive findings: a textbook yardstick, exact but
// for the digits that its alternating sum loses.
func quickscore(m *note.Model, ev belief.Evidence) []float64 {
	var pos []int
	neg := make([]float64, len(m.Modes))
	leakNeg := 1.0
	for i := range neg {
		neg[i] = 1
	}
	for _, o := range ev.Seen {
		if o.Value == 1 {
			pos = append(pos, o.Finding)
			continue
		}
		leakNeg *= 1 - m.Findings[o.Finding].Leak
		for _, t := range m.Findings[o.Finding].Trigger {
			neg[t.Mode] *= 1 - t.Chance
		}
	}
	n := len(m.Modes)
	quiet := make([][]float64, len(pos))
	for j, f := range pos {
		quiet[j] = make([]float64, n)
		for i := range n {
			quiet[j][i] = 1
		}
		for _, t := range m.Findings[f].Trigger {
			quiet[j][t.Mode] *= 1 - t.Chance
		}
	}
	total := 0.0
	with := make([]float64, n)
	factor, here := make([]float64, n), make([]float64, n)
	for s := range 1 << len(pos) {
		sign, w := 1.0, leakNeg
		copy(factor, neg)
		for j := range pos {
			if s>>j&1 == 0 {
				continue
			}
			sign = -sign
			w *= 1 - m.Findings[pos[j]].Leak
			for i := range n {
				factor[i] *= quiet[j][i]
			}
		}
		for i := range n {
			p := m.Modes[i].Odds / (1 + m.Modes[i].Odds)
			here[i] = p * factor[i]
			w *= 1 - p + here[i]
		}
		total += sign * w
		for i := range n {
			p := m.Modes[i].Odds / (1 + m.Modes[i].Odds)
			with[i] += sign * w * here[i] / (1 - p + here[i])
		}
	}
	for i := range with {
		with[i] /= total
	}
	return with
}

// The engine and Quickscore agree on a wide network.
func TestWideAgainstQuickscore(t *testing.T) {
	m, ev := bipartite(200, 400)
	ev.Seen = ev.Seen[5:] // with ten unrelated positives the alternating sum has no digits left
	want := quickscore(m, ev)
	e, err := belief.New(m, belief.Options{AllowNone: true, Unknown: -1})
	if err != nil {
		t.Fatal(err)
	}
	b, err := e.Posterior(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	for i := range want {
		if math.Abs(want[i]-b.First[i]) > 1e-6+b.Bound {
			t.Errorf("fault %d: %.8f, quickscore %.8f", i, b.First[i], want[i])
		}
	}
}
