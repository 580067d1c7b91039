package belief_test

import (
	"context"
	"math"
	"testing"

	"pgregory.net/rapid"

	"fettler/internal/belief"
	"fettler/internal/note"
)

func chance(t *rapid.T, name string) float64 {
	return float64(rapid.IntRange(2, 98).Draw(t, name)) / 100
}

// drawModel makes a small random device with every feature of the language:
// conditions that inherit, modes that bring about others, signs with leak, tables,
// readings, and repairs that may fail and do harm.
func drawModel(t *rapid.T) *note.Model {
	m := &note.Model{ID: "random"}
	for c := range rapid.IntRange(1, 5).Draw(t, "conds") {
		x := note.Condition{States: make([]string, rapid.IntRange(2, 4).Draw(t, "states"))}
		for up := range c {
			if rapid.IntRange(0, 2).Draw(t, "inherits") == 0 {
				l := note.Link{Cond: up, Map: make([]int, len(m.Conditions[up].States))}
				for s := 1; s < len(l.Map); s++ {
					l.Map[s] = rapid.IntRange(0, len(x.States)-1).Draw(t, "map")
				}
				x.From = append(x.From, l)
			}
		}
		m.Conditions = append(m.Conditions, x)
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "modes") {
		x := note.Mode{Odds: float64(rapid.IntRange(1, 60).Draw(t, "odds")) / 100}
		for range rapid.IntRange(0, 2).Draw(t, "effects") {
			c := rapid.IntRange(0, len(m.Conditions)-1).Draw(t, "cond")
			x.Effects = append(x.Effects, note.Effect{Cond: c, State: rapid.IntRange(1, len(m.Conditions[c].States)-1).Draw(t, "state")})
		}
		for up := range i {
			if rapid.IntRange(0, 3).Draw(t, "brings") == 0 {
				x.Causes = append(x.Causes, note.Cause{Mode: up, Chance: chance(t, "cause")})
			}
		}
		m.Modes = append(m.Modes, x)
	}
	for range rapid.IntRange(1, 5).Draw(t, "findings") {
		m.Findings = append(m.Findings, drawFinding(t, m))
	}
	for range rapid.IntRange(1, 2).Draw(t, "repairs") {
		r := note.Repair{Harms: -1}
		for i := range m.Modes {
			switch rapid.IntRange(0, 3).Draw(t, "clears") {
			case 0:
				r.Clears = append(r.Clears, note.Clear{Mode: i, Success: chance(t, "success")})
			case 1:
				r.Harms, r.Harm = i, chance(t, "harm")
			case 2: // what is put in may be broken in putting it in
				r.Clears = append(r.Clears, note.Clear{Mode: i, Success: chance(t, "success")})
				r.Harms, r.Harm = i, chance(t, "harm")
			}
		}
		m.Repairs = append(m.Repairs, r)
	}
	return m
}

func drawFinding(t *rapid.T, m *note.Model) note.Finding {
	f := note.Finding{Kind: note.FindingKind(rapid.IntRange(0, 2).Draw(t, "kind")), Check: -1}
	f.Cond = rapid.IntRange(0, len(m.Conditions)-1).Draw(t, "of")
	states := len(m.Conditions[f.Cond].States)
	switch f.Kind {
	case note.Sign:
		f.Leak = chance(t, "leak") / 5
		for i := range m.Modes {
			if rapid.Bool().Draw(t, "direct") {
				f.Trigger = append(f.Trigger, note.Trigger{Mode: i, Chance: chance(t, "q")})
			}
		}
		if rapid.Bool().Draw(t, "by condition") {
			f.Trigger = append(f.Trigger, note.Trigger{Mode: -1, Cond: f.Cond,
				States: uint64(rapid.IntRange(1, 1<<states-1).Draw(t, "set")), Chance: chance(t, "q")})
		}
	case note.Pick:
		f.Answers = []string{"a", "b", "c"}
		for range states {
			a, b := chance(t, "a"), chance(t, "b")
			f.Table = append(f.Table, []float64{a, (1 - a) * b, (1 - a) * (1 - b)})
		}
	case note.Reading:
		for s := range states {
			f.Dist = append(f.Dist, note.Dist{Low: float64(s), High: float64(s) + 1 + chance(t, "width")})
		}
	}
	return f
}

func drawEvidence(t *rapid.T, m *note.Model) belief.Evidence {
	var ev belief.Evidence
	for range rapid.IntRange(0, 2).Draw(t, "acts") {
		ev.Acts = append(ev.Acts, belief.Act{Repair: rapid.IntRange(-1, len(m.Repairs)-1).Draw(t, "repair")})
	}
	for f := range m.Findings {
		for k := range len(ev.Acts) + 1 {
			if rapid.IntRange(0, 1).Draw(t, "look") == 0 {
				continue
			}
			o := belief.Observation{Finding: f, Epoch: k}
			switch m.Findings[f].Kind {
			case note.Sign:
				o.Of = rapid.IntRange(0, 3).Draw(t, "of")
				o.Value = rapid.IntRange(0, max(1, o.Of)).Draw(t, "shown")
			case note.Pick:
				o.Value = rapid.IntRange(0, 2).Draw(t, "answer")
			case note.Reading:
				o.Number = float64(rapid.IntRange(-10, 60).Draw(t, "volts")) / 10
			}
			ev.Seen = append(ev.Seen, o)
		}
	}
	return ev
}

func posterior(t *rapid.T, m *note.Model, o belief.Options, ev belief.Evidence) *belief.Belief {
	e, err := belief.New(m, o)
	if err != nil {
		t.Fatal(err)
	}
	b, err := e.Posterior(context.Background(), ev)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

func TestAgainstExhaustiveEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		ev := drawEvidence(t, m)
		none := rapid.Bool().Draw(t, "none")
		b := posterior(t, m, belief.Options{AllowNone: none, Unknown: -1, Candidates: 100000, Epsilon: 1e-12}, ev)
		want := exhaustive{m, ev}.solve(none)
		for i := range m.Modes {
			if !near(b.First[i], want.first[i], 1e-9) || !near(b.Now[i], want.now[i], 1e-9) {
				t.Fatalf("mode %d: first %v now %v, want %v and %v", i, b.First[i], b.Now[i], want.first[i], want.now[i])
			}
		}
		prior := exhaustive{m, belief.Evidence{Acts: ev.Acts}}.solve(none)
		if got := b.LogEvidence; !near(got, math.Log(want.total/prior.total), 1e-9) {
			t.Fatalf("ln P(e) = %v, want %v", got, math.Log(want.total/prior.total))
		}
		sum := b.LeftOut
		for _, c := range b.Candidates {
			sum += c.P
		}
		if !near(sum, 1, 1e-9) || b.LeftOut > 1e-6 {
			t.Fatalf("candidates and the mass left out (%g) sum to %v", b.LeftOut, sum)
		}
		checkCandidates(t, b)
	})
}

// checkCandidates holds the listed candidates against the marginals, which are
// computed another way.
func checkCandidates(t *rapid.T, b *belief.Belief) {
	first, now := make([]float64, len(b.First)), make([]float64, len(b.Now))
	for k, c := range b.Candidates {
		if k > 0 && c.P > b.Candidates[k-1].P {
			t.Fatalf("candidate %d is likelier than the one before it", k)
		}
		for _, i := range c.First {
			first[i] += c.P
		}
		for _, i := range c.Now {
			now[i] += c.P
		}
	}
	for i := range first {
		if !near(first[i], b.First[i], b.LeftOut+1e-9) || !near(now[i], b.Now[i], b.LeftOut+1e-9) {
			t.Fatalf("mode %d: candidates sum to %v, %v, marginals %v, %v", i, first[i], now[i], b.First[i], b.Now[i])
		}
	}
}

func TestPruningBoundIsHonest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		ev := drawEvidence(t, m)
		o := belief.Options{Unknown: -1, MaxStates: rapid.IntRange(1, 4).Draw(t, "states")}
		b := posterior(t, m, o, ev)
		want := exhaustive{m, ev}.solve(false)
		for i := range m.Modes {
			if !near(b.First[i], want.first[i], b.Bound+1e-9) {
				t.Fatalf("mode %d: %v, want %v within the bound %v", i, b.First[i], want.first[i], b.Bound)
			}
		}
	})
}

func TestOrderOfEvidenceDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		ev := drawEvidence(t, m)
		b := posterior(t, m, belief.Options{}, ev)
		mixed := belief.Evidence{Seen: rapid.Permutation(ev.Seen).Draw(t, "order"), Acts: ev.Acts}
		c := posterior(t, m, belief.Options{}, mixed)
		for i := range b.Now {
			if !near(b.Now[i], c.Now[i], 1e-12) {
				t.Fatalf("mode %d: %v one way, %v the other", i, b.Now[i], c.Now[i])
			}
		}
		if !near(b.Unknown, c.Unknown, 1e-12) {
			t.Fatalf("unknown fault: %v one way, %v the other", b.Unknown, c.Unknown)
		}
	})
}

// An observation whose chance is the same under every candidate changes no
// belief among the known faults.
func TestUninformativeFindingChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		ev := drawEvidence(t, m)
		m.Findings = append(m.Findings, note.Finding{Kind: note.Sign, Check: -1, Leak: chance(t, "leak")})
		o := belief.Options{Unknown: -1}
		b := posterior(t, m, o, ev)
		c := posterior(t, m, o, ev.With(belief.Observation{Finding: len(m.Findings) - 1, Value: rapid.IntRange(0, 1).Draw(t, "shows")}))
		for i := range b.Now {
			if !near(b.Now[i], c.Now[i], 1e-12) {
				t.Fatalf("mode %d moved from %v to %v", i, b.Now[i], c.Now[i])
			}
		}
	})
}

func TestLaterLookStands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawModel(t)
		m.Findings = append(m.Findings, note.Finding{Kind: note.Sign, Check: -1, Leak: 0.1, Trigger: []note.Trigger{{Mode: 0, Chance: 0.8}}})
		f := len(m.Findings) - 1
		ev := drawEvidence(t, m)
		ev.Seen = append(ev.Seen, belief.Observation{Finding: f, Value: 1}, belief.Observation{Finding: f, Value: 0})
		b := posterior(t, m, belief.Options{}, ev)
		c := posterior(t, m, belief.Options{}, ev.Without(len(ev.Seen)-2))
		for i := range b.Now {
			if b.Now[i] != c.Now[i] {
				t.Fatalf("mode %d: %v with the earlier look, %v without", i, b.Now[i], c.Now[i])
			}
		}
	})
}
