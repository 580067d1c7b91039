package belief

import (
	"context"
	"math"
	"slices"

	"fettler/internal/note"
)

// An Outcome is one way a finding can come out. For a reading it stands for all
// numbers that fit State (an index into the condition's states) best.
type Outcome struct {
	Finding int
	Value   int // Sign: 1 shows, 0 does not; Pick: the answer; Reading: the number of the outcome
	State   int // Reading: the state it speaks for; otherwise -1
}

// A World is the device as one candidate has it now: which modes are there and
// what state that puts every condition in.
type World struct {
	there  []uint64
	States []int
}

// World evaluates the conditions for a set of present modes.
func (e *Engine) World(modes []int) World {
	w := World{there: make([]uint64, (len(e.m.Modes)+63)/64)}
	for _, i := range modes {
		w.there[i/64] |= 1 << uint(i%64)
	}
	w.States = conditionStates(e.m, w.Has)
	return w
}

// Has tells whether mode i is present.
func (w World) Has(i int) bool { return w.there[i/64]>>uint(i%64)&1 == 1 }

// Outcomes returns the ways finding f can come out, in a fixed order.
func (e *Engine) Outcomes(f int) []Outcome {
	x := &e.m.Findings[f]
	switch x.Kind {
	case note.Sign:
		return []Outcome{{f, 1, -1}, {f, 0, -1}}
	case note.Pick:
		out := make([]Outcome, len(x.Answers))
		for i := range out {
			out[i] = Outcome{f, i, -1}
		}
		return out
	default:
		return readingOutcomes(f, x)
	}
}

// readingOutcomes has one outcome per distinct distribution of the reading.
func readingOutcomes(f int, x *note.Finding) []Outcome {
	var out []Outcome
	for s, d := range x.Dist {
		if !slices.ContainsFunc(out, func(o Outcome) bool { return x.Dist[o.State] == d }) {
			out = append(out, Outcome{Finding: f, Value: len(out), State: s})
		}
	}
	return out
}

// Chances returns P(outcome | the world is w) for each outcome of finding f, in
// the order of Outcomes.
func (e *Engine) Chances(w World, f int) []float64 {
	x := &e.m.Findings[f]
	switch x.Kind {
	case note.Sign:
		p := e.signIn(w, x)
		return []float64{p, 1 - p}
	case note.Pick:
		return x.Table[w.States[x.Cond]]
	default:
		return e.readingTable(f)[w.States[x.Cond]]
	}
}

func (e *Engine) signIn(w World, x *note.Finding) float64 {
	quiet := 1 - signChance(x, func(c int) int { return w.States[c] })
	for _, t := range x.Trigger {
		if t.Mode >= 0 && w.Has(t.Mode) {
			quiet *= 1 - t.Chance
		}
	}
	return 1 - quiet
}

// UnknownChances returns the chances of the outcomes of f for the fault the note does not know.
func (e *Engine) UnknownChances(ctx context.Context, f int) ([]float64, error) {
	outs := e.Outcomes(f)
	p := make([]float64, len(outs))
	if e.m.Findings[f].Kind == note.Reading {
		for i := range p {
			p[i] = 1 / float64(len(p))
		}
		return p, nil
	}
	for i, o := range outs {
		obs := Observation{Finding: f, Value: o.Value}
		a, err := e.chanceAlone(ctx, obs)
		if err != nil {
			return nil, err
		}
		p[i] = (1-flatShare)*a + flatShare*flat(&e.m.Findings[f], obs)
	}
	return p, nil
}

// points is how many quantiles stand for the distribution of a reading.
const points = 128

// readingTable returns P(outcome | state): the share of the state's quantiles
// that would be taken for each outcome's state, with the chance of a slip.
func (e *Engine) readingTable(f int) [][]float64 {
	e.mu.Lock()
	defer e.mu.Unlock()
	if t, ok := e.tables[f]; ok {
		return t
	}
	x := &e.m.Findings[f]
	outs := readingOutcomes(f, x)
	t := make([][]float64, len(x.Dist))
	for s := range x.Dist {
		t[s] = make([]float64, len(outs))
		for k := range points {
			v := quantile(x.Dist[s], (float64(k)+0.5)/points)
			t[s][closest(x, outs, v)] += (1 - slip) / points
		}
		for o := range outs {
			t[s][o] += slip / float64(len(outs))
		}
	}
	e.tables[f] = t
	return t
}

// Closest returns which outcome of the reading f the number x speaks for.
func (e *Engine) Closest(f int, x float64) int {
	fd := &e.m.Findings[f]
	return closest(fd, readingOutcomes(f, fd), x)
}

func closest(x *note.Finding, outs []Outcome, v float64) int {
	best, top := 0, math.Inf(-1)
	for i, o := range outs {
		if d := density(x.Dist[o.State], v); d > top {
			best, top = i, d
		}
	}
	return best
}
