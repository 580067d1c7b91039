package casework

import (
	"context"

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
	Ways     int     `json:"ways"`   // ends told apart
	Folded   float64 `json:"folded"` // chance of ending where the plan was not laid out step by step
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
	Kind   string   `json:"kind"` // "check", "repair", "test", "stop"
	ID     string   `json:"id"`
	Title  string   `json:"title"`
	P      float64  `json:"p"` // chance of ever getting here
	Tops   []Chance `json:"tops"`
	Folded bool     `json:"folded"` // not laid out any further
	Ways   []Way    `json:"ways"`
}

// A Way is one result of a stage and what follows; Next is nil where it ends.
type Way struct {
	Words string  `json:"words"`
	P     float64 `json:"p"`
	Works bool    `json:"works"`
	Next  *Stage  `json:"next"`
}

// rehearser is an adviser that can lay its plan out in advance.
type rehearser interface {
	Rehearse(ctx context.Context, b *belief.Belief, sit plan.Situation, nodes int) (*plan.Rehearsal, error)
}

// Rehearse lays out the plan from here, at most so many steps of it (0 means the planner's own measure).
func (b *Bench) Rehearse(ctx context.Context, caseID string, steps int) (*Rehearsed, error) {
	bench, events, err := b.read(ctx, caseID)
	if err != nil {
		return nil, err
	}
	id, err := DeviceOf(events)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	var last *thought
	if old := b.views[caseID]; old != nil {
		last = old.thought
	}
	b.mu.Unlock()
	s, err := b.newSheet(ctx, b.knowledge(id), last, bench, events)
	if err != nil {
		return nil, err
	}
	if err := s.c.open(); err != nil {
		return nil, err
	}
	if err := s.c.needNote(); err != nil {
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
	x, err := r.Rehearse(ctx, s.now, s.sit, steps)
	if err != nil {
		return nil, err
	}
	return s.rehearsed(x), nil
}

func (s *sheet) rehearsed(x *plan.Rehearsal) *Rehearsed {
	spread := func(what func(plan.Leaf) float64) Spread {
		if len(x.Leaves) == 0 {
			return Spread{}
		}
		return Spread{Low: x.Quantile(0.1, what), Mid: x.Quantile(0.5, what), High: x.Quantile(0.9, what), Mean: x.Mean(what)}
	}
	return &Rehearsed{
		Success: x.Success(), Currency: s.c.Settings.Currency, Ways: len(x.Leaves), Folded: x.Folded, First: s.stage(x.Root),
		Money:   spread(func(l plan.Leaf) float64 { return l.Money }),
		Minutes: spread(func(l plan.Leaf) float64 { return l.Minutes }),
		Days:    spread(func(l plan.Leaf) float64 { return l.Days }),
	}
}

func (s *sheet) stage(x *plan.Step) *Stage {
	if x == nil {
		return nil
	}
	out := &Stage{Kind: x.Move.Kind.String(), ID: s.moveID(x.Move), Title: s.moveTitle(x.Move), P: x.P, Folded: x.Folded, Tops: s.tops(x.Tops), Ways: []Way{}}
	for _, br := range x.Branches {
		r := s.result(x.Move.Kind, br.Result)
		out.Ways = append(out.Ways, Way{Words: r.Words, P: r.P, Works: br.Result.Works, Next: s.stage(br.Next)})
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
