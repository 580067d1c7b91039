package belief_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

func modes(odds float64, names ...string) []note.Mode {
	out := make([]note.Mode, len(names))
	for i, n := range names {
		out[i] = note.Mode{ID: n, Odds: odds}
	}
	return out
}

// polybox is the circuit of J. de Kleer and B. C. Williams, Diagnosing multiple
// faults, Artificial Intelligence 32:97–130, 1987: X = A·C (M1), Y = B·D (M2),
// Z = C·E (M3), F = X+Y (A1), G = Y+Z (A2), inputs 3 2 2 3 3, observed F = 10
// (predicted 12) and G = 12. A broken part may do anything, so the observation
// of F has three severities: explained by nothing, by Y alone (which then must
// be 4, and G wrong unless something hides it), or by A1 or M1 with Y as it should be.
func polybox() *note.Model {
	m := &note.Model{ID: "polybox", Modes: modes(0.01/0.99, "A1", "M1", "A2", "M2", "M3")}
	const f, g = 0, 1
	m.Conditions = []note.Condition{
		{ID: "F", States: []string{"12", "10 if Y is 4", "anything"}},
		{ID: "G", States: []string{"12", "10", "anything"}, From: []note.Link{{Cond: f, Map: []int{0, 1, 0}}}},
	}
	for i, e := range [][]note.Effect{{{Cond: f, State: 2}}, {{Cond: f, State: 2}}, {{Cond: g, State: 2}}, {{Cond: f, State: 1}}, {{Cond: g, State: 2}}} {
		m.Modes[i].Effects = e
	}
	m.Findings = []note.Finding{
		{ID: "F", Kind: note.Pick, Cond: f, Answers: []string{"12", "10"}, Table: [][]float64{{1, 0}, {0, 1}, {1, 1}}},
		{ID: "G", Kind: note.Pick, Cond: g, Answers: []string{"12", "10"}, Table: [][]float64{{1, 0}, {0, 1}, {1, 1}}},
	}
	return m
}

func TestThreeMultipliersTwoAdders(t *testing.T) {
	m := polybox()
	e, err := belief.New(m, belief.Options{Unknown: -1, Epsilon: 1e-15})
	if err != nil {
		t.Fatal(err)
	}
	ev := belief.Evidence{Seen: []belief.Observation{{Finding: 0, Value: 1}, {Finding: 1, Value: 0}}}
	b, err := e.Posterior(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	if len(b.Candidates) != 27 {
		t.Errorf("%d consistent fault sets, the published circuit has 27", len(b.Candidates))
	}
	if got, want := minimal(b.Candidates), [][]int{{0}, {1}, {2, 3}, {3, 4}}; !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("minimal diagnoses %v, want {A1} {M1} {A2 M2} {M2 M3} = %v", got, want)
	}
	for i, want := range []float64{0.497635, 0.497635, 0.014780, 0.019609, 0.014780} {
		if !near(b.First[i], want, 1e-6) {
			t.Errorf("P(%s) = %.6f, want %.6f", m.Modes[i].ID, b.First[i], want)
		}
	}
	if p := b.Candidates[0].P; !near(p, 0.4780264, 1e-6) {
		t.Errorf("best candidate %.7f, want 0.4780264", p)
	}
	checkProbes(t, b)
}

func minimal(cs []belief.Candidate) [][]int {
	var out [][]int
	for _, c := range cs {
		if !slices.ContainsFunc(cs, func(d belief.Candidate) bool { return len(d.First) < len(c.First) && subset(d.First, c.First) }) {
			out = append(out, c.First)
		}
	}
	slices.SortFunc(out, func(a, b []int) int { return slices.Compare(a, b) })
	return out
}

func subset(a, b []int) bool {
	return !slices.ContainsFunc(a, func(x int) bool { return !slices.Contains(b, x) })
}

// checkProbes reproduces which point to measure next: the entropy of the values
// that each candidate predicts at X, Y and Z. What a candidate predicts follows
// from the arithmetic of its sound parts, forwards and backwards.
func checkProbes(t *testing.T, b *belief.Belief) {
	const a1, m1, a2, m2, m3 = 0, 1, 2, 3, 4
	predict := func(c belief.Candidate) (x, y, z int) { // 0: not predicted
		ok := func(i int) bool { return !slices.Contains(c.First, i) }
		if ok(m1) {
			x = 6
		}
		if ok(m2) {
			y = 6
		}
		if ok(m3) {
			z = 6
		}
		for range 3 {
			if ok(a1) && x != 0 && y == 0 {
				y = 10 - x
			}
			if ok(a1) && y != 0 && x == 0 {
				x = 10 - y
			}
			if ok(a2) && z != 0 && y == 0 {
				y = 12 - z
			}
			if ok(a2) && y != 0 && z == 0 {
				z = 12 - y
			}
		}
		return x, y, z
	}
	var mass [3]map[int]float64
	for i := range mass {
		mass[i] = map[int]float64{}
	}
	for _, c := range b.Candidates {
		x, y, z := predict(c)
		mass[0][x] += c.P
		mass[1][y] += c.P
		mass[2][z] += c.P
	}
	for i, want := range []struct {
		point   string
		value   map[int]float64
		entropy float64
	}{
		{"X", map[int]float64{6: 0.502365, 4: 0.492561, 0: 0.005074}, 0.6946},
		{"Y", map[int]float64{6: 0.990097, 4: 0.009706, 0: 0.000197}, 0.0548},
		{"Z", map[int]float64{6: 0.994926, 8: 0.004829, 0: 0.000246}, 0.0308},
	} {
		h := 0.0
		for v, p := range mass[i] {
			if p > 0 && v != 0 { // summed over the predicted values
				h -= p * math.Log(p)
			}
			if !near(p, want.value[v], 1e-6) {
				t.Errorf("probe %s: P(%d) = %.6f, want %.6f", want.point, v, p, want.value[v])
			}
		}
		if !near(h, want.entropy, 1e-4) {
			t.Errorf("probe %s: entropy %.4f, want %.4f", want.point, h, want.entropy)
		}
	}
}

// chest is the network of S. L. Lauritzen and D. J. Spiegelhalter, J. Royal
// Statistical Society B 50:157–224, 1988, less its last node (shortness of
// breath), whose table is no noisy-OR. Causes are written as damage that follows.
func chest() *note.Model {
	gain := func(with, without float64) float64 { return 1 - (1-with)/(1-without) }
	m := &note.Model{ID: "chest", Modes: []note.Mode{
		{ID: "asia", Odds: 0.01 / 0.99},
		{ID: "smoke", Odds: 1},
		{ID: "tub", Odds: 0.01 / 0.99, Causes: []note.Cause{{Mode: 0, Chance: gain(0.05, 0.01)}}},
		{ID: "lung", Odds: 0.01 / 0.99, Causes: []note.Cause{{Mode: 1, Chance: gain(0.10, 0.01)}}},
		{ID: "bronc", Odds: 0.30 / 0.70, Causes: []note.Cause{{Mode: 1, Chance: gain(0.60, 0.30)}}},
	}}
	m.Conditions = []note.Condition{{ID: "either", States: []string{"no", "yes"}}}
	for _, i := range []int{2, 3} {
		m.Modes[i].Effects = []note.Effect{{Cond: 0, State: 1}}
	}
	m.Findings = []note.Finding{
		{ID: "xray", Kind: note.Pick, Cond: 0, Answers: []string{"no", "yes"}, Table: [][]float64{{0.95, 0.05}, {0.02, 0.98}}},
		{ID: "asia", Kind: note.Sign, Trigger: []note.Trigger{{Mode: 0, Chance: 1}}},
	}
	return m
}

func TestChestNetwork(t *testing.T) {
	e, err := belief.New(chest(), belief.Options{Unknown: -1, AllowNone: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		seen []belief.Observation
		pe   float64
		want []float64 // asia smoke tub lung bronc
	}{
		{"nothing", nil, 1, []float64{0.01, 0.5, 0.0104, 0.055, 0.45}},
		{"x-ray", []belief.Observation{{Finding: 0, Value: 1}}, 0.11029004,
			[]float64{0.0131555, 0.6877539, 0.0924109, 0.4887114, 0.5063262}},
	} {
		b, err := e.Posterior(context.Background(), belief.Evidence{Seen: c.seen})
		if err != nil {
			t.Fatal(err)
		}
		if got := math.Exp(b.LogEvidence); !near(got, c.pe, 1e-7) {
			t.Errorf("%s: P(e) = %v, want %v", c.name, got, c.pe)
		}
		for i, want := range c.want {
			if !near(b.First[i], want, 1e-6) {
				t.Errorf("%s: P(%s) = %.7f, want %.7f", c.name, e.Model().Modes[i].ID, b.First[i], want)
			}
		}
	}
}
