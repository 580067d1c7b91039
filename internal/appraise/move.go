package appraise

import (
	"context"
	"fmt"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

const (
	mostMoves  = 3
	worlds     = 60   // sets of faults the planner looks at
	workHour   = 3.0  // what an hour is taken to be worth, in the note's currency
	mostLifted = 20.0 // how much the pool may move one set of faults against another
)

// moves are the next three things to do, by the likeliest note's checks and
// repairs and by what the pool makes of its faults. Leaving off is not among
// them: whether it pays hangs on what the owner's time is worth, not known here.
func (s *study) moves(ctx context.Context) ([]Move, error) {
	if len(s.notes) == 0 {
		return []Move{}, nil
	}
	q := &s.notes[0]
	planner, err := q.bench.planner()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", q.device.ID, err)
	}
	b, err := q.bench.planning.Posterior(ctx, q.ev)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", q.device.ID, err)
	}
	s.pull(q, b)
	known := map[int]bool{}
	for _, o := range q.ev.Seen {
		known[o.Finding] = true
	}
	advice, err := planner.Advise(ctx, b, plan.Situation{Known: known})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", q.device.ID, err)
	}
	out := []Move{}
	for _, r := range advice.Ranking {
		if len(out) == mostMoves {
			break
		}
		if r.Blocked == "" && r.Kind != plan.Stop {
			out = append(out, q.bench.move(r))
		}
	}
	return out, nil
}

// pull moves a note's sets of faults towards the pool's chances of the classes.
func (s *study) pull(q *asked, b *belief.Belief) {
	m := q.bench.model
	have := q.bench.classesOf(q.full.First, q.full.Unknown, s.usual)
	sum, total := 0.0, 0.0
	for _, c := range b.Candidates {
		total += c.P
	}
	for i := range b.Candidates {
		c := &b.Candidates[i]
		lift := 1.0
		for _, mode := range c.First {
			k := classIndex(m.Modes[mode].Class)
			lift = max(lift*min(max(s.chance[k]/max(have[k], 1e-9), 1/mostLifted), mostLifted), 1/mostLifted)
		}
		c.P *= min(lift, mostLifted)
		sum += c.P
	}
	if sum <= 0 {
		return
	}
	for i := range b.Candidates {
		b.Candidates[i].P *= total / sum
	}
	slices.SortStableFunc(b.Candidates, func(x, y belief.Candidate) int {
		switch {
		case x.P > y.P:
			return -1
		case x.P < y.P:
			return 1
		}
		return 0
	})
}

// move puts a ranked move into words.
func (b *bench) move(r plan.Ranked) Move {
	m := b.model
	out := Move{Kind: r.Kind.String(), Minutes: r.Cost.Minutes + r.Cost.Access, Price: r.Cost.Money, Currency: m.Currency}
	var hazards []note.Hazard
	switch r.Kind {
	case plan.Check:
		c := &m.Checks[r.Index]
		out.ID, out.Title, out.How, out.With, hazards = c.ID, c.Title, c.How, c.With, c.Hazards
	case plan.Repair:
		c := &m.Repairs[r.Index]
		out.ID, out.Title, out.How, out.With, hazards = c.ID, c.Title, c.How, c.With, c.Hazards
	default:
		out.Title, hazards = "Try the whole device", m.Hazards
	}
	if r.Cost.Access > 0 || r.Kind == plan.Test {
		hazards = append(slices.Clone(hazards), m.Hazards...)
	}
	for _, c := range note.Cautions(hazards) {
		if !slices.Contains(out.Cautions, c) {
			out.Cautions = append(out.Cautions, c)
		}
	}
	return out
}
