package plan

import (
	"context"
	"fmt"
	"math"
	"sort"

	"fettler/internal/belief"
)

// A Turn is one outcome of one finding that would change one's mind.
type Turn struct {
	Value
	Check int     // the check that reveals it, -1 for a symptom
	P     float64 // how likely it is to come out so
	Bits  float64 // the surprise it would be, -log2 P
	Top   Suspect // whom one would then suspect first
	First Move    // what one would then do first, by the base policy
}

// Turns say what would change one's mind, the least surprising first.
type Turns struct {
	Top      Suspect // whom one suspects first now
	First    Move    // what one would do now by the base policy, without another look
	Suspects []Turn  // outcomes that would bring another suspect to the top
	Moves    []Turn  // outcomes that would change the first move
}

// Turns looks through every outcome of every finding not known yet.
func (p *Planner) Turns(ctx context.Context, b *belief.Belief, sit Situation) (*Turns, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.bounding = false
	root, err := p.start(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	out := &Turns{First: root.upper.first, Top: first(p.tops(root.b, 1))}
	m := p.e.Model()
	for f := range m.Findings {
		if sit.Known[f] {
			continue
		}
		if ctx.Err() != nil {
			return nil, fmt.Errorf("the time for looking through the findings ran out: %w; allow more", ctx.Err())
		}
		if err := p.turnsOf(ctx, out, root, f); err != nil {
			return nil, err
		}
	}
	for _, ts := range [][]Turn{out.Suspects, out.Moves} {
		sort.SliceStable(ts, func(i, j int) bool { return ts[i].P > ts[j].P })
	}
	return out, nil
}

func (p *Planner) turnsOf(ctx context.Context, out *Turns, root *node, f int) error {
	odd, err := p.e.UnknownChances(ctx, f)
	if err != nil {
		return fmt.Errorf("working out how %q may come out: %w", p.e.Model().Findings[f].Title, err)
	}
	ws := p.worlds
	in := func(id, o int) float64 {
		if ws.list[id].unknown {
			return odd[o]
		}
		return p.e.Chances(ws.list[id].state, f)[o]
	}
	for o := range odd {
		chance := 0.0
		for k, id := range root.b.ids {
			chance += root.b.w[k] * in(id, o)
		}
		if chance < 1e-6 {
			continue
		}
		b := ws.scaled(root.b, func(id int) float64 { return in(id, o) })
		t := Turn{Value: Value{f, o}, Check: p.e.Model().Findings[f].Check, P: chance, Bits: -math.Log2(math.Min(1, chance)),
			Top: first(p.tops(b, 1)), First: p.base(b, root.at).first}
		if t.Top.Mode != out.Top.Mode {
			out.Suspects = append(out.Suspects, t)
		}
		if t.First != out.First {
			out.Moves = append(out.Moves, t)
		}
	}
	return nil
}

// first is the first of some suspects; Mode -1 if there is none.
func first(s []Suspect) Suspect {
	if len(s) == 0 {
		return Suspect{Mode: -1}
	}
	return s[0]
}

// A Whatif is what one would believe and do if something were seen.
type Whatif struct {
	Belief *belief.Belief
	Advice *Advice
}

// WhatIf answers as if o had been seen on top of ev. Neither the evidence nor
// the planner is changed by it.
func (p *Planner) WhatIf(ctx context.Context, ev belief.Evidence, sit Situation, o belief.Observation) (*Whatif, error) {
	b, err := p.e.Posterior(ctx, ev.With(o))
	if err != nil {
		return nil, fmt.Errorf("working out what would follow from it: %w", err)
	}
	known := map[int]bool{o.Finding: true}
	for f, k := range sit.Known {
		known[f] = k
	}
	sit.Known = known
	a, err := p.Advise(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	return &Whatif{b, a}, nil
}
