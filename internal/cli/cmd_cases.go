package cli

import (
	"context"
	"encoding/json"
	"fmt"

	"fettler/internal/casework"
)

// casesCmd lists the cases.
type casesCmd struct {
	All bool `name:"all"`
}

// caseList is the cases, last changed first.
type caseList struct {
	Cases  []casework.Listed `json:"cases"`
	Closed int               `json:"closed"` // closed ones left out
}

func (c *casesCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	list, err := b.List(ctx)
	if err != nil {
		return nil, err
	}
	a := &caseList{Cases: []casework.Listed{}}
	for _, l := range list {
		if l.State == casework.Done && !c.All {
			a.Closed++
			continue
		}
		a.Cases = append(a.Cases, l)
	}
	return a, nil
}

func (a *caseList) text(p *page) {
	for _, l := range a.Cases {
		p.head("%s  %s", l.Case, l.Title)
		state := string(l.State)
		if l.Verdict != "" {
			state += ": " + string(l.Verdict)
		}
		if l.Demo {
			state += ", invented for show"
		}
		if l.State != casework.Unreadable {
			p.para("         ", fmt.Sprintf("%s, %s, %s", l.Kind, state, minutes(l.Minutes)))
			p.para("         ", "last: "+l.Latest)
		}
		if l.Wrong != "" {
			p.para("         ", "! "+l.Wrong)
		}
	}
	if len(a.Cases) == 0 {
		p.line("no case is open")
	}
	if a.Closed > 0 {
		p.line(fmt.Sprintf("(%s not shown; fettler cases --all)", plural(a.Closed, "closed case is", "closed cases are")))
	}
}

// exportCmd prints the journal of a case, or of all.
type exportCmd struct {
	Args    []string `arg:"" optional:""`
	All     bool     `name:"all"`
	Private bool     `name:"private"`
}

// exported is the events of one or more cases.
type exported struct {
	Events []casework.Event `json:"events"`
	lines  []string         // each as JSON
}

func (c *exportCmd) run(ctx context.Context, s *session) (answer, error) {
	name, err := onlyCase(c.Args, "export [CASE]")
	if err != nil {
		return nil, err
	}
	var ids []string
	if c.All {
		b, err := s.bench(ctx)
		if err != nil {
			return nil, err
		}
		list, err := b.List(ctx)
		if err != nil {
			return nil, err
		}
		for _, l := range list {
			ids = append(ids, l.Case)
		}
	} else {
		id, err := s.find(ctx, name, true)
		if err != nil {
			return nil, err
		}
		ids = []string{id}
	}
	a := &exported{Events: []casework.Event{}}
	for _, id := range ids {
		events, err := s.opened.Export(ctx, id, c.Private)
		if err != nil {
			return nil, err
		}
		a.Events = append(a.Events, events...)
	}
	for _, e := range a.Events {
		line, err := json.Marshal(e)
		if err != nil {
			return nil, fmt.Errorf("event %d of case %q is no JSON: %w", e.Seq, e.Case, err)
		}
		a.lines = append(a.lines, string(line))
	}
	return a, nil
}

func (a *exported) text(p *page) {
	for _, e := range a.lines {
		p.line(e)
	}
}
