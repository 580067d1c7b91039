package cli

import (
	"context"
	"fmt"

	"fettler/internal/casework"
)

// whyCmd shows what every finding does to every suspect.
type whyCmd struct {
	Args []string `arg:"" optional:""`
	All  bool     `name:"all"`
}

// reasons are what speaks for and against the suspects, and what would change them.
type reasons struct {
	Case    string            `json:"case"`
	Title   string            `json:"title"`
	Because *casework.Because `json:"because"`
	Minds   *casework.Minds   `json:"minds"` // what would change one's mind; null where nothing is advised

	all bool
}

func (c *whyCmd) run(ctx context.Context, s *session) (answer, error) {
	v, err := s.view(ctx, c.Args, "why [CASE] [--all]")
	if err != nil {
		return nil, err
	}
	a := &reasons{Case: v.Header.Case, Title: v.Header.Title, all: c.All}
	if a.Because, err = s.opened.Because(ctx, v.Header.Case); err != nil {
		return nil, err
	}
	if v.Next != nil {
		if a.Minds, err = s.opened.Minds(ctx, v.Header.Case); err != nil {
			return nil, err
		}
	}
	return a, nil
}

// usualMinds is how many outcomes are told without --all.
const usualMinds = 6

func (a *reasons) text(p *page) {
	p.head("%s (%s): why", a.Title, a.Case)
	p.para("  ", "How many times likelier or less likely each finding makes each suspect, all else known; they need not multiply up.")
	list := a.Because.Suspects
	if !a.all {
		list = list[:min(len(list), usualSuspects)]
	}
	for _, x := range list {
		p.gap()
		p.para(fmt.Sprintf("%6s  ", percent(x.Now)), fmt.Sprintf("%s; %s before anything was looked at", x.Title, percent(x.Prior)))
		for i, e := range x.Effects {
			if a.all || e.Words != "says nothing" {
				p.para("        ", a.Because.Seen[i].Words+": "+e.Words)
			}
		}
	}
	if a.Minds == nil {
		return
	}
	p.gap()
	p.head("What would bring another suspect to the top")
	a.minds(p, a.Minds.Suspects, func(m casework.Mind) string { return fmt.Sprintf("then first: %s", m.Top.Title) })
	p.gap()
	p.head("What would change the short plan, which begins with: %s", a.Minds.First)
	a.minds(p, a.Minds.Moves, func(m casework.Mind) string { return "then begin with: " + m.First })
}

func (a *reasons) minds(p *page, list []casework.Mind, then func(casework.Mind) string) {
	if len(list) == 0 {
		p.line("  no single finding would")
	}
	if !a.all {
		list = list[:min(len(list), usualMinds)]
	}
	for _, m := range list {
		by := "seen from outside"
		if m.Check != nil {
			by = m.Check.ID
		}
		p.para(fmt.Sprintf("%6s  ", percent(m.P)), m.Words+" ("+by+"); "+then(m))
	}
}
