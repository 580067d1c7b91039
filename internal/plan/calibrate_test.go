package plan_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/library"
)

// How far what is believed can be relied on: faults are drawn, symptoms and the answers to
// the checks that are advised are drawn, and what is then believed of every suspect is held against what is
// wrong. Once the world is as the notes say, and once it is not: every prior and the odds of every
// chance in them are doubled or halved, at random.

// misfit is the world as the notes do not have it.
func misfit(m *note.Model, rng *rand.Rand) *note.Model {
	w := *m
	twice := func(p float64) float64 { // of odds
		if p <= 0 || p >= 1 {
			return p
		}
		o := p / (1 - p) * math.Pow(2, float64(2*rng.IntN(2)-1))
		return o / (1 + o)
	}
	w.Modes = append([]note.Mode(nil), m.Modes...)
	for i := range w.Modes {
		w.Modes[i].Odds *= math.Pow(2, float64(2*rng.IntN(2)-1))
		w.Modes[i].Causes = append([]note.Cause(nil), w.Modes[i].Causes...)
		for k := range w.Modes[i].Causes {
			w.Modes[i].Causes[k].Chance = twice(w.Modes[i].Causes[k].Chance)
		}
	}
	w.Findings = append([]note.Finding(nil), m.Findings...)
	for f := range w.Findings {
		x := &w.Findings[f]
		x.Leak = twice(x.Leak)
		x.Trigger = append([]note.Trigger(nil), x.Trigger...)
		for k := range x.Trigger {
			x.Trigger[k].Chance = twice(x.Trigger[k].Chance)
		}
		rows := make([][]float64, len(x.Table))
		for s, row := range x.Table {
			sum := 0.0
			for _, p := range row {
				rows[s] = append(rows[s], twice(p))
				sum += rows[s][len(rows[s])-1]
			}
			for a := range rows[s] {
				rows[s][a] /= sum
			}
		}
		x.Table = rows
	}
	return &w
}

// A world is a device with something wrong with it.
type world struct {
	m     *note.Model
	e     *belief.Engine // of m
	there []int
	odd   bool // a fault that the note does not know
	rng   *rand.Rand
}

// fail draws what is wrong: modes independently, and what they bring with them. Three in a hundred have a fault that the note
// does not know, as the belief engine takes it.
func (w *world) fail() {
	w.there, w.odd = nil, w.rng.Float64() < 0.03
	for !w.odd && len(w.there) == 0 {
		there := map[int]bool{}
		for i := range w.m.Modes { // causes before consequences
			x := &w.m.Modes[i]
			quiet := 1 / (1 + x.Odds)
			for _, c := range x.Causes {
				if there[c.Mode] {
					quiet *= 1 - c.Chance
				}
			}
			if w.rng.Float64() >= quiet {
				there[i] = true
				w.there = append(w.there, i)
			}
		}
	}
}

// see draws how finding f comes out.
func (w *world) see(t testing.TB, f int) belief.Observation {
	t.Helper()
	var p []float64
	if w.odd {
		var err error
		if p, err = w.e.UnknownChances(context.Background(), f); err != nil {
			t.Fatal(err)
		}
	} else {
		p = w.e.Chances(w.e.World(w.there), f)
	}
	k, u := 0, w.rng.Float64()
	for ; k < len(p)-1 && u >= p[k]; k++ {
		u -= p[k]
	}
	x := &w.m.Findings[f]
	if x.Kind != note.Reading {
		return belief.Observation{Finding: f, Value: w.e.Outcomes(f)[k].Value}
	}
	state := w.e.Outcomes(f)[k].State
	if !w.odd {
		state = w.e.World(w.there).States[x.Cond]
	}
	if w.rng.Float64() < 0.02 { // a slip of hand or eye, as the belief engine takes it
		state = w.rng.IntN(len(x.Dist))
	}
	return belief.Observation{Finding: f, Number: number(x.Dist[state], w.rng)}
}

// number draws a reading from its range, which holds nine in ten of them.
func number(d note.Dist, rng *rand.Rand) float64 {
	const z90 = 1.6449
	switch {
	case d.Over && rng.Float64() < 0.7:
		return math.Inf(1)
	case d.Over:
		return math.Max(d.Low, 1e-300) * math.Pow(1000, rng.Float64())
	case d.Under && d.High > 0:
		return d.High * rng.Float64()
	case d.Under:
		return d.High - rng.Float64()*(1-d.High)
	case d.Log:
		return math.Exp(math.Log(d.Low*d.High)/2 + rng.NormFloat64()*math.Log(d.High/d.Low)/2/z90)
	default:
		return (d.Low+d.High)/2 + rng.NormFloat64()*(d.High-d.Low)/2/z90
	}
}

// bands are the edges of the bands of stated chances.
var bands = []float64{0.01, 0.03, 0.07, 0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.93, 0.98, 1.0000001}

// A reckoning holds stated chances against what was.
type reckoning struct {
	n, stated, was []float64 // per band
	brier, top     float64   // of all suspects with one in a hundred; of the first
	first, cases   float64   // how often the first suspect was it
	all            float64
}

func newReckoning() *reckoning {
	k := len(bands) - 1
	return &reckoning{n: make([]float64, k), stated: make([]float64, k), was: make([]float64, k)}
}

func (r *reckoning) add(b *belief.Belief, there map[int]bool) {
	best, chance := -1, 0.0
	for i, p := range b.Now {
		if p > chance {
			best, chance = i, p
		}
		y := 0.0
		if there[i] {
			y = 1
		}
		for k := range r.n {
			if p >= bands[k] && p < bands[k+1] {
				r.n[k]++
				r.stated[k] += p
				r.was[k] += y
				r.brier += (p - y) * (p - y)
				r.all++
			}
		}
	}
	y := 0.0
	if there[best] {
		y = 1
	}
	r.cases++
	r.first += y
	r.top += (chance - y) * (chance - y)
}

// off is the mean distance of the bands from what was, each band by what is in it.
func (r *reckoning) off() float64 {
	sum := 0.0
	for k := range r.n {
		sum += math.Abs(r.stated[k] - r.was[k])
	}
	return sum / r.all
}

func (r *reckoning) curve(name, dash string, mark byte) curve {
	c := curve{name: name, dash: dash, mark: mark}
	for k, n := range r.n {
		if n < 20 {
			continue
		}
		y := r.was[k] / n
		half := 1.645 * math.Sqrt(math.Max(y*(1-y), 1/n)/n)
		c.at = append(c.at, dot{r.stated[k] / n, y, math.Max(0, y-half), math.Min(1, y+half)})
	}
	return c
}

// plays one case: a complaint, then the checks that tell most, and what is believed at each step.
func (r *reckoning) play(t testing.TB, e *belief.Engine, w *world, checks int) {
	t.Helper()
	var ev belief.Evidence
	for shows := false; !shows; {
		w.fail()
		ev = belief.Evidence{}
		for f := range w.m.Findings {
			if x := &w.m.Findings[f]; x.Check < 0 && x.Kind == note.Sign {
				o := w.see(t, f)
				shows = shows || o.Value == 1
				ev = ev.With(o)
			}
		}
	}
	there := map[int]bool{}
	for _, i := range w.there {
		there[i] = true
	}
	p, err := plan.New(e, plan.Settings{Worth: 100, Rate: 5})
	if err != nil {
		t.Fatal(err)
	}
	known := map[int]bool{}
	for k := 0; ; k++ {
		b, err := e.Posterior(context.Background(), ev)
		if err != nil {
			t.Fatal(err)
		}
		r.add(b, there)
		if k == checks {
			return
		}
		for _, o := range ev.Seen {
			known[o.Finding] = true
		}
		a, err := p.Advise(context.Background(), b, plan.Situation{Known: known})
		if err != nil {
			t.Fatal(err)
		}
		next := -1
		for _, m := range a.Ranking {
			if m.Kind == plan.Check {
				next = m.Index
				break
			}
		}
		if next < 0 {
			return
		}
		for _, f := range w.m.Checks[next].Findings {
			ev = ev.With(w.see(t, f))
		}
	}
}

// Where the world is as the notes say, what is believed has to be right as often as it says. Where
// priors and strengths are off by a factor of two it may be off, but not by much.
// FETTLER_CASES sets how many cases are drawn per device, on twelve devices instead of one.
func TestCalibration(t *testing.T) {
	cases, devices := 20, []string{"toaster"}
	if s := os.Getenv("FETTLER_CASES"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			t.Fatalf("FETTLER_CASES is %q; it must be a number from 1", s)
		}
		cases, devices = n, []string{"fan-heater", "desk-lamp-led", "blender", "toaster", "kettle", "bluetooth-speaker", "hair-dryer", "cassette-player",
			"coffee-maker-filter", "wall-adapter", "bench-supply", "power-drill-mains"}
	}
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	exact, off := newReckoning(), newReckoning()
	for d, id := range devices {
		m, err := lib.Model(id)
		if err != nil {
			t.Fatal(err)
		}
		e, err := belief.New(m, belief.Options{})
		if err != nil {
			t.Fatal(err)
		}
		rng := rand.New(rand.NewPCG(4, uint64(d)))
		for k := range cases {
			exact.play(t, e, &world{m: m, e: e, rng: rng}, 3)
			x := misfit(m, rng)
			other, err := belief.New(x, belief.Options{})
			if err != nil {
				t.Fatalf("%s, case %d: %v", id, k, err)
			}
			off.play(t, e, &world{m: x, e: other, rng: rng}, 3)
		}
	}
	for name, r := range map[string]*reckoning{"as the notes say": exact, "off by a factor of two": off} {
		t.Logf("%s: %.0f beliefs; first suspect right in %.0f %%, Brier score of it %.3f; of all suspects %.4f; stated chances off by %.2f %% on average",
			name, r.cases, 100*r.first/r.cases, r.top/r.cases, r.brier/r.all, 100*r.off())
		for k, n := range r.n {
			if n > 0 {
				t.Logf("    | %.3f | %.3f | %.0f |", r.stated[k]/n, r.was[k]/n, n)
			}
		}
	}
	percent := axis{low: 0, high: 1, ticks: []float64{0, 0.2, 0.4, 0.6, 0.8, 1}, label: func(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) }}
	keep(t, "decision-calibration.svg", chart{title: "What was believed, and how often it was so", across: "chance stated", up: "share that was so", x: percent, y: percent, diagonal: true,
		curves: []curve{exact.curve("as the notes say", "", 'f'), off.curve("off by two", "6 3", 'o')}})
	if exact.off() > 0.06 || off.off() > 0.09 {
		t.Errorf("stated chances are off by %.1f %% where the notes are right and %.1f %% where they are not", 100*exact.off(), 100*off.off())
	}
}
