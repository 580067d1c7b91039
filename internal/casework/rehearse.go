package casework

import (
	"context"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/plan"
)

// A Rehearsed is what following the advice from here may take, every way it can go.
type Rehearsed struct {
	Success  float64 `json:"success"` // chance that it works in the end
	Currency string  `json:"currency"`
	Money    Spread  `json:"money"`
	Minutes  Spread  `json:"minutes"`
	Days     Spread  `json:"days"`
	Gain     Spread  `json:"gain"`    // against stopping now, in money; below 0 at an end that was not worth it
	StopAt   string  `json:"stopAt"`  // when to stop, said in advance
	Goes     string  `json:"goes"`    // from which worth of the working device on going on pays; may be empty
	Instead  string  `json:"instead"` // what advice that looked further ahead begins with instead; "" if with the same
	Ways     int     `json:"ways"`    // ends told apart
	Folded   float64 `json:"folded"`  // chance of ending where the plan was not laid out step by step
	First    *Stage  `json:"first"`
}

// A Spread is a figure that is not certain: nine times of ten it is no less
// than Low, nine of ten no more than High.
type Spread struct {
	Low  float64 `json:"low"`
	Mid  float64 `json:"mid"`
	High float64 `json:"high"`
	Mean float64 `json:"mean"`
}

// A Stage is one step of the plan laid out in advance.
type Stage struct {
	Kind    string   `json:"kind"` // "check", "repair", "test", "stop"
	ID      string   `json:"id"`
	Title   string   `json:"title"`
	Money   float64  `json:"money"`   // it costs
	Minutes float64  `json:"minutes"` // it takes, with opening and closing
	Days    float64  `json:"days"`    // of waiting
	P       float64  `json:"p"`       // chance of ever getting here
	Tops    []Chance `json:"tops"`
	Folded  bool     `json:"folded"` // not laid out any further
	Ways    []Way    `json:"ways"`
}

// A Way is one result of a stage and what follows; Next is nil where it ends.
type Way struct {
	Words string  `json:"words"`
	Brief string  `json:"brief"` // the same with what was not there left out
	Told  []Told  `json:"told"`
	P     float64 `json:"p"` // once one is there
	Works bool    `json:"works"`
	Next  *Stage  `json:"next"`
}

// rehearser is an adviser that can lay its plan out in advance, from a first move on.
type rehearser interface {
	Adviser
	Rehearse(ctx context.Context, b *belief.Belief, sit plan.Situation, nodes int) (*plan.Rehearsal, error)
	RehearseFrom(ctx context.Context, b *belief.Belief, sit plan.Situation, nodes int, first plan.Move) (*plan.Rehearsal, error)
}

// Rehearse lays out the plan from here, at most so many steps of it (0 means the
// planner's own measure, and is worked out once). It begins with the advice of
// Further; after that every place is decided by looking one move ahead, after a check as it will be advised then.
func (b *Bench) Rehearse(ctx context.Context, caseID string, steps int) (*Rehearsed, error) {
	k, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if err := k.s.canPlan(); err != nil {
		return nil, err
	}
	if k, err = b.lookFurther(ctx, caseID, k); err != nil {
		return nil, err
	}
	if steps != 0 {
		r, err := k.s.rehearse(ctx, steps)
		return k.beside(r), err
	}
	return b.rehearse(ctx, caseID, k)
}

// Ahead is what Rehearse gives, if it has been worked out for the case as it stands; else nil.
func (b *Bench) Ahead(ctx context.Context, caseID string) (*Rehearsed, error) {
	k, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return k.beside(k.mulled.ahead), nil
}

// beside is a rehearsal beside the advice that is kept.
func (k *kept) beside(r *Rehearsed) *Rehearsed {
	next := k.view.Next
	if r == nil || r.First == nil || next == nil || next.Kind == r.First.Kind && next.ID == r.First.ID {
		return r
	}
	out := *r
	out.Instead = next.Title
	return &out
}

// rehearse lays the plan out once for what is kept.
func (b *Bench) rehearse(ctx context.Context, caseID string, k *kept) (*Rehearsed, error) {
	done, err := b.turn(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	b.mu.Lock()
	if now := b.views[caseID]; now != nil && now.seq == k.seq && now.bench == k.bench && now.m == k.m {
		k = now
	}
	ready := k.mulled.ahead
	b.mu.Unlock()
	if ready != nil {
		return k.beside(ready), nil
	}
	out, err := k.s.rehearse(ctx, 0)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	laid := k.laid(out)
	if b.views[caseID] == k {
		b.views[caseID] = laid
	}
	return laid.beside(out), nil
}

// laid is what is kept with the plan laid out: from then on the outlook is that of
// the plan, not of the first reckoning, which makes repairs in order without looking again, and
// what follows each result of the next move is what will be advised then.
func (k *kept) laid(out *Rehearsed) *kept {
	next := *k
	next.mulled.ahead = out
	v := *k.view
	if k.view.Outlook != nil {
		o := *k.view.Outlook
		o.Success, o.Money, o.Minutes, o.Gain, o.Laid = out.Success, out.Money.Mean, out.Minutes.Mean, out.Gain.Mean, true
		v.Outlook, next.quick = &o, k.view.Outlook
	}
	v.foretell(out.First)
	next.view = &v
	return &next
}

// foretell takes what follows the next move from the plan laid out.
func (v *View) foretell(first *Stage) {
	if v.Next == nil || first == nil || first.Kind != v.Next.Kind || first.ID != v.Next.ID || len(first.Ways) != len(v.Next.Results) {
		return
	}
	v.Ranking = slices.Clone(v.Ranking)
	for i := range v.Ranking {
		c := &v.Ranking[i]
		if c.Kind != v.Next.Kind || c.ID != v.Next.ID {
			continue
		}
		c.Results = slices.Clone(c.Results)
		for k, w := range first.Ways {
			if w.Next != nil {
				c.Results[k].Then = w.Next.Title
			}
		}
		v.Next = c
		return
	}
}

// LaidOut returns the view of a case with the outlook of the plan laid out, waiting for it if
// need be; where there is nothing to plan, the view as it is.
func (b *Bench) LaidOut(ctx context.Context, caseID string) (*View, error) {
	v, err := b.Further(ctx, caseID)
	if err != nil || v.Outlook == nil {
		return v, err
	}
	if _, err := b.Rehearse(ctx, caseID, 0); err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return v, nil // the first reckoning is still true
	}
	return b.View(ctx, caseID)
}

// canPlan refuses what there is nothing to plan for.
func (s *sheet) canPlan() error {
	if err := s.c.open(); err != nil {
		return err
	}
	if err := s.c.needNote(); err != nil {
		return err
	}
	if s.c.Works {
		return fail(BadInput, "let it run until you trust it, then close the case", "it works, so there is nothing left to plan")
	}
	return nil
}

func (s *sheet) rehearse(ctx context.Context, steps int) (*Rehearsed, error) {
	if err := s.canPlan(); err != nil {
		return nil, err
	}
	a, err := s.adviser()
	if err != nil {
		return nil, &Error{Code: BadInput, Text: err.Error(), Next: "change the settings", Err: err}
	}
	r, able := a.(rehearser)
	if !able {
		return nil, fail(BadInput, "follow the advice step by step", "this planner cannot lay its plan out in advance")
	}
	x, err := s.layOut(ctx, r, steps)
	if err != nil {
		return nil, err
	}
	return s.rehearsed(x), nil
}

// layOut lays the plan out from the move that is advised.
func (s *sheet) layOut(ctx context.Context, r rehearser, steps int) (*plan.Rehearsal, error) {
	if s.advice == nil {
		return nil, fail(BadInput, "look at what stands in the way", "nothing is advised: %s", s.noAdvice)
	}
	if s.advice.Best.Kind == plan.Check {
		if x, err := s.rehearseAfter(ctx, r, steps); x != nil || err != nil {
			return x, err
		}
	}
	return r.RehearseFrom(ctx, s.now, s.sit, steps, s.advice.Best.Move)
}

// gain is what an end leaves against stopping at once.
func (s *sheet) gain(l plan.Leaf) float64 {
	if l.Works {
		return max(0, s.c.Settings.Worth-s.c.Settings.Scrap) - l.Total
	}
	return -l.Total
}

func (s *sheet) rehearsed(x *plan.Rehearsal) *Rehearsed {
	spread := func(what func(plan.Leaf) float64) Spread {
		if len(x.Leaves) == 0 {
			return Spread{}
		}
		return Spread{Low: x.Quantile(0.1, what), Mid: x.Quantile(0.5, what), High: x.Quantile(0.9, what), Mean: x.Mean(what)}
	}
	out := &Rehearsed{
		Success: x.Success(), Currency: s.c.Settings.Currency, Ways: len(x.Leaves), Folded: x.Folded, First: s.stage(x.Root),
		Money:   spread(func(l plan.Leaf) float64 { return l.Money }),
		Minutes: spread(func(l plan.Leaf) float64 { return l.Minutes }),
		Days:    spread(func(l plan.Leaf) float64 { return l.Days }),
		Gain:    spread(s.gain),
	}
	if s.advice != nil {
		out.StopAt, out.Goes = s.stopAfter(s.advice.Best.Kind == plan.Stop), s.goes(s.advice.Going)
	}
	return out
}

func (s *sheet) stage(x *plan.Step) *Stage {
	if x == nil {
		return nil
	}
	out := &Stage{Kind: x.Move.Kind.String(), ID: s.moveID(x.Move), Title: s.moveTitle(x.Move), P: x.P, Folded: x.Folded,
		Money: x.Cost.Money, Minutes: x.Cost.Minutes + x.Cost.Access, Days: x.Cost.Days, Tops: s.tops(x.Tops), Ways: []Way{}}
	for _, br := range x.Branches {
		r := s.result(x.Move.Kind, out.Title, br.Result)
		out.Ways = append(out.Ways, Way{Words: r.Words, Brief: s.brief(br.Result.Values, r.Words), Told: r.Told, P: r.P, Works: r.Works, Next: s.stage(br.Next)})
	}
	return out
}

func (s *sheet) moveID(m plan.Move) string {
	switch {
	case m.Kind == plan.Check && m.Index >= 0:
		return s.k.m.Checks[m.Index].ID
	case m.Kind == plan.Repair && m.Index >= 0:
		return s.k.m.Repairs[m.Index].ID
	}
	return ""
}
