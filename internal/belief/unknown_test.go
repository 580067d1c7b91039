package belief_test

import (
	"math"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// signs is a device with a sign that one of two parts causes, and one to pick an answer for.
func signs() *note.Model {
	m := &note.Model{ID: "signs", Modes: modes(0.1, "A", "B")}
	m.Conditions = []note.Condition{{ID: "lamp", States: []string{"bright", "dim", "dark"}}}
	m.Modes[1].Effects = []note.Effect{{Cond: 0, State: 2}}
	m.Findings = []note.Finding{
		{ID: "hum", Kind: note.Sign, Leak: 0.02, Trigger: []note.Trigger{{Mode: 0, Chance: 0.8}}},
		{ID: "lamp", Kind: note.Pick, Cond: 0, Answers: []string{"bright", "dim", "dark"}, Table: [][]float64{{0.9, 0.08, 0.02}, {0.1, 0.8, 0.1}, {0.02, 0.08, 0.9}}},
	}
	return m
}

// An unknown fault shows a finding as often as some known fault does, mixed with 5 % of a
// guess: every answer alike, a sign in one device of four (unknown.go, judged).
func TestUnknownFaultShowsAsSomeKnownOneDoes(t *testing.T) {
	e := engine(t, signs(), belief.Options{})
	for name, c := range map[string]struct {
		seen  belief.Observation
		guess float64
	}{
		"shows":      {belief.Observation{Finding: 0, Value: 1}, 0.25},
		"is not":     {belief.Observation{Finding: 0, Value: 0}, 0.75},
		"3 of 5":     {belief.Observation{Finding: 0, Value: 3, Of: 5}, counted(0.25, 3, 5)},
		"an answer":  {belief.Observation{Finding: 1, Value: 1}, 1.0 / 3},
		"another":    {belief.Observation{Finding: 1, Value: 2}, 1.0 / 3},
		"never in 4": {belief.Observation{Finding: 0, Value: 0, Of: 4}, counted(0.25, 0, 4)},
	} {
		b := believed(t, e, c.seen)
		if got, want := math.Exp(b.LogUnknown), 0.95*math.Exp(b.LogEvidence)+0.05*c.guess; !near(got, want, 1e-12) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}

// It shows a finding again as it did before nine times in ten, and its findings say
// nothing of one another.
func TestUnknownFaultStaysAsItIs(t *testing.T) {
	e := engine(t, signs(), belief.Options{})
	shows, gone := belief.Observation{Finding: 0, Value: 1}, belief.Observation{Finding: 0, Value: 0}
	dark := belief.Observation{Finding: 1, Value: 2}
	later := func(o belief.Observation, epoch int) belief.Observation { o.Epoch = epoch; return o }
	one, other := believed(t, e, shows).LogUnknown, believed(t, e, dark).LogUnknown
	for name, c := range map[string]struct {
		seen []belief.Observation
		want float64
	}{
		"as before":      {[]belief.Observation{shows, later(shows, 1)}, one + math.Log(0.9)},
		"changed":        {[]belief.Observation{shows, later(gone, 1)}, one + math.Log(0.1)},
		"and back again": {[]belief.Observation{shows, later(gone, 1), later(shows, 2)}, one + 2*math.Log(0.1)},
		"another one":    {[]belief.Observation{shows, dark}, one + other},
	} {
		if got := believed(t, e, c.seen...).LogUnknown; !near(got, c.want, 1e-12) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// A belief is strained when the unknown fault has two chances in five, or explains the
// evidence twenty times better than all known ones (explain.go, judged).
func TestStrained(t *testing.T) {
	for name, c := range map[string]struct {
		b    belief.Belief
		want bool
	}{
		"well explained":      {belief.Belief{Unknown: 0.39, LogUnknown: -5, LogEvidence: -5}, false},
		"unknown is likely":   {belief.Belief{Unknown: 0.41, LogUnknown: -5, LogEvidence: -5}, true},
		"nineteen times":      {belief.Belief{Unknown: 0.3, LogUnknown: math.Log(19) - 5, LogEvidence: -5}, false},
		"twenty-one times":    {belief.Belief{Unknown: 0.3, LogUnknown: math.Log(21) - 5, LogEvidence: -5}, true},
		"nothing explains it": {belief.Belief{Unknown: 1, LogUnknown: -5, LogEvidence: math.Inf(-1)}, true},
	} {
		if got := c.b.Strained(); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// Two answers, one as good as says that the part has failed, the other that it has not.
// With chances a and b the other way round, and an even chance before, each comes with
// (a+b)/2 and both with ab: they are 4ab/(a+b)² as likely together as apart.
func TestConflictsAreThoseUnderAThird(t *testing.T) {
	for _, c := range []struct {
		a, b float64
		want int
	}{{0.9, 0.1, 0}, {0.95, 0.05, 1}} {
		m := &note.Model{ID: "conflict", Modes: modes(1, "part")}
		m.Conditions = []note.Condition{{ID: "c", States: []string{"good", "bad"}}}
		m.Modes[0].Effects = []note.Effect{{Cond: 0, State: 1}}
		for _, yes := range [][]float64{{c.b, c.a}, {c.a, c.b}} { // of the first answer, good and bad
			m.Findings = append(m.Findings, note.Finding{Kind: note.Pick, Cond: 0, Answers: []string{"x", "y"}, Table: [][]float64{{yes[0], 1 - yes[0]}, {yes[1], 1 - yes[1]}}})
		}
		got, err := engine(t, m, belief.Options{AllowNone: true}).Conflicts(t.Context(), belief.Evidence{Seen: []belief.Observation{{Finding: 0}, {Finding: 1}}})
		if err != nil || len(got) != c.want {
			t.Fatalf("%+v: %+v, %v", c, got, err)
		}
		if want := 4 * c.a * c.b / ((c.a + c.b) * (c.a + c.b)); c.want > 0 && !near(got[0].Lift, want, 1e-12) {
			t.Errorf("lift %v, want %v", got[0].Lift, want)
		}
	}
}
