package belief

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"sync"

	"fettler/internal/note"
)

// Options set how an Engine reasons. The zero value is the default.
type Options struct {
	// Candidates is how many candidates a Belief lists at most; 0 means 400.
	Candidates int
	// Epsilon is the mass of candidates that may be left out of the list; 0 means 1e-4.
	Epsilon float64
	// Unknown is the prior chance of a fault the note does not know; 0 means 0.03,
	// a negative value means none.
	Unknown float64
	// AllowNone admits the empty candidate: nothing wrong. A device that was
	// handed over as broken has something wrong with it.
	AllowNone bool
	// MaxStates bounds the states kept per step of a sweep; 0 means 30 000. Fewer
	// are kept as long as what is pruned, accounted for in Belief.Bound, stays
	// below a tenth of Epsilon.
	MaxStates int
}

func (o Options) withDefaults() Options {
	if o.Candidates == 0 {
		o.Candidates = 400
	}
	if o.Epsilon == 0 {
		o.Epsilon = 1e-4
	}
	if o.Unknown == 0 {
		o.Unknown = 0.03
	}
	if o.Unknown < 0 {
		o.Unknown = 0
	}
	if o.MaxStates == 0 {
		o.MaxStates = 30000
	}
	return o
}

func (o Options) valid() error {
	switch {
	case o.Candidates < 0 || o.MaxStates < 0:
		return fmt.Errorf("belief: counts must not be negative")
	case math.IsNaN(o.Epsilon) || o.Epsilon < 0 || o.Epsilon >= 1:
		return fmt.Errorf("belief: epsilon must lie from 0 to 1, not %v", o.Epsilon)
	case math.IsNaN(o.Unknown) || o.Unknown >= 1:
		return fmt.Errorf("belief: the chance of an unknown fault must lie below 1, not %v", o.Unknown)
	}
	return nil
}

// An Engine computes beliefs over one model. It is safe for concurrent use.
type Engine struct {
	m      *note.Model
	o      Options
	prior  float64 // ln of the total prior weight of the candidates admitted
	mu     sync.Mutex
	alone  map[aloneKey]float64 // P(observation | a known fault), by itself
	tables map[int][][]float64  // per reading: P(outcome | state)
}

type aloneKey struct {
	finding, value, of int
}

// New returns an engine for m. It fails if an odds or chance in m is out of range.
func New(m *note.Model, o Options) (*Engine, error) {
	if err := o.valid(); err != nil {
		return nil, err
	}
	sum := 0.0
	for i := range m.Modes {
		x := &m.Modes[i]
		if !(x.Odds > 0) || math.IsInf(x.Odds, 0) {
			return nil, fmt.Errorf("belief: mode %s has prior odds %v, which must be positive", x.ID, x.Odds)
		}
		sum += math.Log1p(x.Odds)
	}
	e := &Engine{m: m, o: o.withDefaults(), alone: map[aloneKey]float64{}, tables: map[int][][]float64{}}
	e.prior = sum
	if !o.AllowNone {
		e.prior = math.Log(math.Expm1(sum))
	}
	return e, nil
}

// Model returns the model the engine reasons over.
func (e *Engine) Model() *note.Model { return e.m }

// A Belief is what the evidence makes of a model.
type Belief struct {
	// First is, per mode, the chance that it was there when the device came;
	// Now that it is there after the repairs done so far.
	First, Now []float64
	// Unknown is the chance that the trouble is a fault the note does not know.
	Unknown float64
	// Candidates are the likeliest sets of faults, best first, the unknown fault among them.
	Candidates []Candidate
	// LeftOut is the mass of the candidates not listed, within Bound.
	LeftOut float64
	// Bound is the most by which any chance here can be off because states were pruned; usually 0.
	Bound float64
	// LogEvidence is ln P(evidence | a fault the note knows), readings counted
	// relative to the state they fit best; LogUnknown the same for an unknown fault.
	LogEvidence, LogUnknown float64
}

// A Candidate is one set of faults that would explain the evidence.
type Candidate struct {
	First   []int // modes there when the device came, ascending
	Now     []int // modes there now
	Unknown bool  // the fault the note does not know
	P       float64
}

// Posterior computes the belief given the evidence.
//
// Marginals and the total are exact sums over all candidates, by a sweep that
// merges candidates which the evidence cannot tell apart; if the sweep had to
// prune, Bound says by how much they may be off.
func (e *Engine) Posterior(ctx context.Context, ev Evidence) (*Belief, error) {
	s, err := e.sweep(ctx, ev)
	if err != nil {
		return nil, err
	}
	b := &Belief{}
	b.First, b.Now = s.marginals()
	b.LogEvidence = s.logZ - e.prior
	b.LogUnknown, err = e.unknownLog(ctx, ev)
	if err != nil {
		return nil, err
	}
	b.Unknown = e.unknownShare(b)
	known := 1 - b.Unknown
	for i := range b.First {
		b.First[i] *= known
		b.Now[i] *= known
	}
	b.Bound = bound(s)
	if known > 0 {
		e.list(s, b, known)
	}
	if b.Unknown > 0 {
		b.Candidates = append(b.Candidates, Candidate{Unknown: true, P: b.Unknown})
	}
	slices.SortStableFunc(b.Candidates, func(x, y Candidate) int {
		switch {
		case x.P > y.P:
			return -1
		case x.P < y.P:
			return 1
		}
		return slices.Compare(x.First, y.First)
	})
	left := 1.0
	for _, c := range b.Candidates {
		left -= c.P
	}
	b.LeftOut = math.Max(0, left)
	return b, nil
}

// sweep runs the program of the evidence, keeping few states at first and more
// only if what was pruned might matter.
func (e *Engine) sweep(ctx context.Context, ev Evidence) (*sweep, error) {
	n, err := newNetwork(e.m, ev)
	if err != nil {
		return nil, err
	}
	p := newProgram(n, e.o.AllowNone)
	for states := 500; ; states *= 6 {
		s, err := p.run(ctx, min(states, e.o.MaxStates))
		if err != nil || states >= e.o.MaxStates || bound(s) <= e.o.Epsilon/10 {
			return s, err
		}
	}
}

// bound turns the mass dropped by a sweep into a share of the total.
func bound(s *sweep) float64 {
	if math.IsInf(s.dropped, -1) {
		return 0
	}
	all := logAdd(s.logZ, s.dropped)
	return math.Exp(s.dropped - all)
}

func (e *Engine) unknownShare(b *Belief) float64 {
	switch {
	case e.o.Unknown == 0 && math.IsInf(b.LogEvidence, -1):
		return 1 // nothing known explains it: it must be something else
	case e.o.Unknown == 0:
		return 0
	}
	u := math.Log(e.o.Unknown) + b.LogUnknown
	k := math.Log(1-e.o.Unknown) + b.LogEvidence
	if math.IsInf(u, -1) && math.IsInf(k, -1) {
		return 1
	}
	return math.Exp(u - logAdd(u, k))
}

// list fills in the candidates best-first until the mass left out is below
// epsilon or the list is full. Paths of a sweep that differ only in which
// trigger struck are one candidate; its weight is computed afresh.
func (e *Engine) list(s *sweep, b *Belief, known float64) {
	g := newGenerator(s)
	if len(g.heap) == 0 {
		return
	}
	floor := g.heap[0].log + math.Log(e.o.Epsilon) - math.Log(float64(e.o.Candidates)) - 2
	seen := map[string]bool{}
	mass := 0.0
	n := s.p.n
	for tries := 0; tries < 4*e.o.Candidates && len(seen) < e.o.Candidates && mass < 1-e.o.Epsilon; tries++ {
		found, ok := g.next(floor)
		if !ok {
			break
		}
		slices.SortFunc(found, func(a, b presence) int { return a.mode - b.mode })
		key := nameOf(found)
		if seen[key] {
			continue
		}
		seen[key] = true
		p := math.Exp(n.joint(found) - s.logZ)
		mass += p
		b.Candidates = append(b.Candidates, n.candidate(found, p*known))
	}
}

// nameOf is a key for a candidate.
func nameOf(c []presence) string {
	b := make([]byte, 0, 16*len(c))
	for _, p := range c {
		b = binary.AppendUvarint(b, uint64(p.mode))
		b = binary.AppendUvarint(b, uint64(len(p.runs)))
		for _, word := range p.runs {
			b = binary.AppendUvarint(b, word)
		}
	}
	return string(b)
}

func (n *network) candidate(found []presence, p float64) Candidate {
	c := Candidate{P: p}
	for _, x := range found {
		if x.runs.has(0) {
			c.First = append(c.First, x.mode)
		}
		if x.runs.has(len(n.runs[x.mode]) - 1) {
			c.Now = append(c.Now, x.mode)
		}
	}
	return c
}

// conditionStates evaluates the model's conditions, upstream first.
func conditionStates(m *note.Model, there func(mode int) bool) []int {
	st := make([]int, len(m.Conditions))
	for i := range m.Modes {
		if there(i) {
			for _, e := range m.Modes[i].Effects {
				st[e.Cond] = max(st[e.Cond], e.State)
			}
		}
	}
	for c := range m.Conditions {
		for _, l := range m.Conditions[c].From {
			st[c] = max(st[c], l.Map[st[l.Cond]])
		}
	}
	return st
}
