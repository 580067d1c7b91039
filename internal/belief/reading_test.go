package belief_test

import (
	"math"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// metered is a device of one part, whose rail reads one way when it is good and another
// when the part has failed.
func metered(good, bad note.Dist) *note.Model {
	m := &note.Model{ID: "metered", Modes: modes(0.25, "part")}
	m.Conditions = []note.Condition{{ID: "rail", States: []string{"good", "bad"}}}
	m.Modes[0].Effects = []note.Effect{{Cond: 0, State: 1}}
	m.Findings = []note.Finding{{ID: "volts", Kind: note.Reading, Cond: 0, Dist: []note.Dist{good, bad}}}
	return m
}

func engine(t *testing.T, m *note.Model, o belief.Options) *belief.Engine {
	t.Helper()
	e, err := belief.New(m, o)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func believed(t *testing.T, e *belief.Engine, seen ...belief.Observation) *belief.Belief {
	t.Helper()
	b, err := e.Posterior(t.Context(), belief.Evidence{Seen: seen, Acts: acts(seen)})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// acts are as many repairs, of nothing the note knows, as the epochs need.
func acts(seen []belief.Observation) []belief.Act {
	most := 0
	for _, o := range seen {
		most = max(most, o.Epoch)
	}
	out := make([]belief.Act, most)
	for i := range out {
		out[i].Repair = -1
	}
	return out
}

// The odds move by the ratio of the densities at the reading, each mixed with 2 % of the
// mean of both for slips. The densities are those of the package comment and likelihood.go,
// worked out here from the definitions of the distributions: uniform, log-uniform,
// normal and log-normal with 90 % between two limits (NIST/SEMATECH e-Handbook 1.3.6.6).
func TestReadingMovesTheOddsByItsDensity(t *testing.T) {
	const z = 1.6448536269514722 // quantile 0.95 of the standard normal (e-Handbook 1.3.6.7.1)
	bell := func(x, lo, hi float64) float64 {
		sd := (hi - lo) / 2 / z
		return math.Exp(-(x-(lo+hi)/2)*(x-(lo+hi)/2)/(2*sd*sd)) / (sd * math.Sqrt(2*math.Pi))
	}
	over := func(x, low float64) float64 { return 0.3 / (x * math.Log(1000)) } // within three decades above low
	normal := note.Dist{Low: 4, High: 6}
	logs := note.Dist{Low: 2, High: 50, Log: true}
	for name, c := range map[string]struct {
		good, bad   note.Dist
		x           float64
		fgood, bad2 float64 // densities
	}{
		"normal against normal":            {normal, note.Dist{Low: 5, High: 9}, 5.5, bell(5.5, 4, 6), bell(5.5, 5, 9)},
		"log-normal":                       {normal, logs, 5.5, bell(5.5, 4, 6), bell(math.Log(5.5), math.Log(2), math.Log(50)) / 5.5},
		"under, uniform on both sides":     {normal, note.Dist{High: 8, Under: true}, 5.5, bell(5.5, 4, 6), 1.0 / 16},
		"under, below zero":                {normal, note.Dist{High: 8, Under: true}, -3, bell(-3, 4, 6), 1.0 / 16},
		"beyond under":                     {normal, note.Dist{High: 3, Under: true}, 5.5, bell(5.5, 4, 6), 0},
		"under a negative figure":          {note.Dist{Low: -14, High: -10}, note.Dist{High: -9, Under: true}, -11, bell(-11, -14, -10), 1.0 / 10},
		"over, log-uniform":                {normal, note.Dist{Low: 2, Over: true}, 5.5, bell(5.5, 4, 6), over(5.5, 2)},
		"over, the third decade":           {note.Dist{Low: 1, High: 3000}, note.Dist{Low: 2, Over: true}, 1900, bell(1900, 1, 3000), over(1900, 2)},
		"over, beyond the third decade":    {note.Dist{Low: 1, High: 3000}, note.Dist{Low: 2, Over: true}, 2100, bell(2100, 1, 3000), 0},
		"overload speaks for what is over": {normal, note.Dist{Low: 2, Over: true}, math.Inf(1), 0, 0.7},
		"overload, and nothing is over":    {normal, logs, math.Inf(1), 0, 0},
	} {
		b := believed(t, engine(t, metered(c.good, c.bad), belief.Options{AllowNone: true, Unknown: -1}), belief.Observation{Number: c.x})
		mean := (c.fgood + c.bad2) / 2
		want := 0.25
		if mean > 0 {
			want *= (0.98*c.bad2 + 0.02*mean) / (0.98*c.fgood + 0.02*mean)
		}
		if got := b.First[0] / (1 - b.First[0]); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s: odds %v, want %v", name, got, want)
		}
	}
}

// What a reading is expected to say of a state is what readings of that state do say: by
// how much of the state's distribution lies where another state's density is the greater.
// All by the definitions of the uniform and log-uniform distribution; 2 % are slips.
func TestExpectedReadings(t *testing.T) {
	for name, c := range map[string]struct {
		good, bad note.Dist
		isBad     bool
		badShare  float64 // of the state's distribution that speaks for the bad one
	}{
		"nothing in common, good":                                {note.Dist{High: 2, Under: true}, note.Dist{Low: 10, Over: true}, false, 0},
		"nothing in common, bad":                                 {note.Dist{High: 2, Under: true}, note.Dist{Low: 10, Over: true}, true, 1},
		"half of the wider is beyond":                            {note.Dist{High: 10, Under: true}, note.Dist{High: 20, Under: true}, true, 0.5},
		"below zero, 10 of 16":                                   {note.Dist{High: -10, Under: true}, note.Dist{High: -15, Under: true}, true, 10.0 / 16},
		"0.3 in three decades, one of them shared, overload too": {note.Dist{Low: 1, Over: true}, note.Dist{Low: 100, Over: true}, true, 0.2},
	} {
		e := engine(t, metered(c.good, c.bad), belief.Options{})
		var there []int
		if c.isBad {
			there = []int{0}
		}
		got := e.Chances(e.World(there), 0)
		if want := 0.98*c.badShare + 0.01; math.Abs(got[1]-want) > 0.01 || math.Abs(got[0]+got[1]-1) > 1e-12 {
			t.Errorf("%s: %v, want %.3f for the bad one", name, got, want)
		}
	}
}
