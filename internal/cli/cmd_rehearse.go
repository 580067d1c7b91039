package cli

import (
	"context"
	"fmt"
	"math"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/quantity"
)

// rehearseCmd says how far a case may go.
type rehearseCmd struct {
	Args []string `arg:"" optional:""`
}

// outcomes is what following the advice may take.
type outcomes struct {
	Case  string              `json:"case"`
	Title string              `json:"title"`
	Rate  float64             `json:"rate"` // money that an hour of own time counts as
	Plan  *casework.Rehearsed `json:"plan"`
}

func (c *rehearseCmd) run(ctx context.Context, s *session) (answer, error) {
	v, r, err := s.rehearse(ctx, c.Args, "rehearse [CASE]")
	if err != nil {
		return nil, err
	}
	return &outcomes{Case: v.Header.Case, Title: v.Header.Title, Rate: v.Settings.Rate, Plan: r}, nil
}

// rehearse lays out the plan of the case named.
func (s *session) rehearse(ctx context.Context, args []string, how string) (*casework.View, *casework.Rehearsed, error) {
	v, err := s.view(ctx, args, how)
	if err != nil {
		return nil, nil, err
	}
	r, err := s.opened.Rehearse(ctx, v.Header.Case, 0)
	return v, r, err
}

func (a *outcomes) text(p *page) {
	r := a.Plan
	p.head("%s (%s): if you go on", a.Title, a.Case)
	p.para("  Works in the end: ", percent(r.Success))
	p.para("  Money:            ", spread(r.Money, func(v float64) string { return casework.Coins(v, r.Currency) }))
	p.para("  Time:             ", spread(r.Minutes, minutes))
	p.para("  Waiting:          ", spread(r.Days, func(v float64) string { return quantity.Days(math.Round(v)) }))
	p.para("  Against stopping: ", spread(r.Gain, func(v float64) string { return casework.Coins(v, r.Currency) }))
	p.para("  ", "From … to: one time in ten it takes less, one in ten more. What was spent already is not in it.")
	p.gap()
	p.para("When to stop: ", r.StopAt)
	if r.Goes != "" {
		p.para("              ", r.Goes)
	}
	p.para("              ", fmt.Sprintf("An hour of your time is counted as %s (change it: fettler settings rate=N).", money(a.Rate, r.Currency)))
	p.gap()
	p.para("Rests on: ", fmt.Sprintf("%s; where it is unlikely to get (%s together) repairs are made in order without further looking", plural(r.Ways, "end", "ends"), percent(r.Folded)))
	instead(p, r)
}

// instead says that the advice begins otherwise than the plan laid out.
func instead(p *page, r *casework.Rehearsed) {
	if r.Instead != "" {
		p.para("Note: ", fmt.Sprintf("looking further ahead, the advice is to begin with “%s”; this is the plan that begins with “%s”", r.Instead, r.First.Title))
	}
}

// spread says a figure that is not certain.
func spread(s casework.Spread, say func(float64) string) string {
	low, high := say(s.Low), say(s.High)
	if low == high {
		return say(s.Mean)
	}
	return fmt.Sprintf("%s to %s, %s on average", low, high, say(s.Mean))
}

// mapCmd shows the next moves as a tree.
type mapCmd struct {
	Args   []string `arg:"" optional:""`
	Levels int      `name:"levels"`
}

// moveMap is the next moves of a case.
type moveMap struct {
	Case     string         `json:"case"`
	Title    string         `json:"title"`
	Currency string         `json:"currency"`
	Instead  string         `json:"instead"` // what advice that looked further ahead begins with instead; "" if with the same
	Map      *casework.Spot `json:"map"`

	plan *casework.Rehearsed
}

func (c *mapCmd) run(ctx context.Context, s *session) (answer, error) {
	v, r, err := s.rehearse(ctx, c.Args, "map [CASE] [--levels N]")
	if err != nil {
		return nil, err
	}
	m, err := r.Map(c.Levels)
	if err != nil {
		return nil, err
	}
	return &moveMap{Case: v.Header.Case, Title: v.Header.Title, Currency: r.Currency, Instead: r.Instead, Map: m, plan: r}, nil
}

func (a *moveMap) text(p *page) {
	p.head("%s (%s): map of moves", a.Title, a.Case)
	p.para("  ", "What to do, how it may come out and how likely, what then. “…” goes on.")
	instead(p, a.plan)
	p.gap()
	a.spot(p, a.Map, "", "")
}

// spot prints a place and what follows. Lead stands before its first line, under before all that follow.
func (a *moveMap) spot(p *page, s *casework.Spot, lead, under string) {
	if s.When != "" {
		p.para(lead, fmt.Sprintf("%s (%s)", s.When, percent(s.Share)))
		lead = under
	}
	does := s.Title
	switch {
	case s.Works:
		does = "it works: close the case"
	case s.Rest:
		does = ""
	case s.Kind != "stop" && s.Minutes > 0:
		does += fmt.Sprintf(" (%s%s)", minutes(s.Minutes), comma(s.Money, a.Currency))
	}
	if s.More {
		does += " …"
	}
	if does != "" {
		p.para(lead+strings.ToUpper(s.Kind)+" ", does)
	}
	for i, x := range s.Spots {
		fork, down := "├─ ", "│  "
		if i == len(s.Spots)-1 {
			fork, down = "└─ ", "   "
		}
		a.spot(p, x, under+fork, under+down)
	}
}
