package cli

import (
	"context"
	"fmt"

	"fettler/internal/casework"
)

// whatIfCmd says what an answer would change, and writes nothing down.
type whatIfCmd struct {
	Args []string `arg:"" optional:""`
}

// supposed is a case as it would be.
type supposed struct {
	Case     string            `json:"case"`
	Title    string            `json:"title"`
	Currency string            `json:"currency"`
	If       []string          `json:"if"`       // what is supposed
	Suspects []casework.Chance `json:"suspects"` // then, likeliest first; before is now
	Unknown  casework.Chance   `json:"unknown"`
	Next     *casework.Card    `json:"next"` // then
	NoNext   string            `json:"noNext"`
	Was      *casework.Card    `json:"was"` // the next move now
	Outlook  *casework.Outlook `json:"outlook"`
	Strain   *casework.Strain  `json:"strain"`
}

const whatIfHow = "what-if [CASE] finding=value …"

func (c *whatIfCmd) run(ctx context.Context, s *session) (answer, error) {
	plain, answers := split(c.Args)
	v, err := s.view(ctx, plain, whatIfHow)
	if err != nil {
		return nil, err
	}
	if len(answers) == 0 {
		return nil, &usageError{text: "nothing is supposed", next: "type it as: fettler " + whatIfHow}
	}
	fields := v.Symptoms
	for _, x := range v.Checks {
		fields = append(fields[:len(fields):len(fields)], x.Fields...)
	}
	if answers, err = s.fields(answers, fields); err != nil {
		return nil, err
	}
	w, err := s.opened.WhatIf(ctx, v.Header.Case, casework.Suppose(v, answers)...)
	if err != nil {
		return nil, err
	}
	a := &supposed{Case: w.Case, Title: v.Header.Title, Currency: v.Header.Currency, If: w.If, Unknown: w.Would.Unknown, Next: w.Would.Next, NoNext: w.Would.NoNext,
		Was: w.Was, Outlook: w.Would.Outlook, Strain: w.Would.Strain}
	for _, x := range w.Would.Suspects[:min(len(w.Would.Suspects), usualSuspects)] {
		a.Suspects = append(a.Suspects, x.Chance)
	}
	return a, nil
}

func (a *supposed) text(p *page) {
	p.head("%s (%s): what if", a.Title, a.Case)
	for _, x := range a.If {
		p.para("  ", x)
	}
	p.gap()
	p.head("The suspects then (“was” is now)")
	for _, x := range a.Suspects {
		p.para(chance(x), x.Title)
	}
	if a.Unknown.Now >= 0.01 {
		p.para(chance(a.Unknown), "a fault the note does not know")
	}
	p.gap()
	switch {
	case a.Next == nil:
		p.para("Next then: ", a.NoNext)
	case a.Was != nil && a.Was.Kind == a.Next.Kind && a.Was.ID == a.Next.ID:
		p.para("Next then: ", a.words(a.Next)+", the same as now")
	default:
		p.para("Next then: ", a.words(a.Next))
		if a.Was != nil {
			p.para("now:       ", a.words(a.Was))
		}
	}
	if o := a.Outlook; o != nil {
		p.para("Going on:  ", fmt.Sprintf("works in the end with %s; still to spend %s and %s on average", percent(o.Success), casework.Coins(o.Money, a.Currency), minutes(o.Minutes)))
	}
	if a.Strain != nil {
		p.para("Doubt: ", a.Strain.Text)
	}
	p.line("Nothing was written down.")
}

func (a *supposed) words(c *casework.Card) string {
	return (move{Kind: c.Kind, ID: c.ID, Title: c.Title, Minutes: c.Total, Money: c.Money}).words(a.Currency)
}
