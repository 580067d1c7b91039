package cli

import (
	"context"
	"fmt"
	"sort"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/note"
)

// noteShowCmd shows what a device's note says.
type noteShowCmd struct {
	Device string `arg:""`
}

// noteShown is one device's note, put together.
type noteShown struct {
	ID       string             `json:"id"`
	Title    string             `json:"title"`
	About    string             `json:"about"`
	Category string             `json:"category"`
	Names    []string           `json:"names"`
	Hazards  []casework.Caution `json:"hazards"`
	Faults   []noteFault        `json:"faults"` // likeliest first
	Symptoms []casework.Ref     `json:"symptoms"`
	Checks   []noteStep         `json:"checks"`
	Repairs  []noteStep         `json:"repairs"`
}

// A noteFault is a way to fail.
type noteFault struct {
	ID    string  `json:"id"`
	Title string  `json:"title"`
	Prior float64 `json:"prior"` // chance in a device brought in as broken
	Basis string  `json:"basis"` // where it comes from
}

// A noteStep is a check or a repair.
type noteStep struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	How     string  `json:"how"`
	Minutes float64 `json:"minutes"`
	Access  string  `json:"access"` // how far it must be open
	Price   float64 `json:"price"`  // repair: of the parts, in the note's currency
}

func (c *noteShowCmd) run(ctx context.Context, s *session) (answer, error) {
	m, err := s.device(ctx, c.Device, "show")
	if err != nil {
		return nil, err
	}
	return noteOf(m), nil
}

func noteOf(m *note.Model) *noteShown {
	a := &noteShown{ID: m.ID, Title: m.Title, About: m.About, Category: m.Category, Names: append([]string{}, m.Names...),
		Hazards: []casework.Caution{}, Faults: []noteFault{}, Symptoms: []casework.Ref{}, Checks: []noteStep{}, Repairs: []noteStep{}}
	said := note.Cautions(m.Hazards)
	for i, h := range m.Hazards {
		a.Hazards = append(a.Hazards, casework.Caution{Kind: h.Kind, Text: said[i], Volts: h.Volts, Joules: h.Joules})
	}
	for _, x := range m.Modes {
		a.Faults = append(a.Faults, noteFault{x.ID, x.Title, x.Odds / (1 + x.Odds), x.Basis})
	}
	sort.SliceStable(a.Faults, func(i, j int) bool { return a.Faults[i].Prior > a.Faults[j].Prior })
	for _, f := range m.Findings {
		if f.Check < 0 {
			a.Symptoms = append(a.Symptoms, casework.Ref{ID: f.ID, Title: f.Title})
		}
	}
	for _, k := range m.Checks {
		a.Checks = append(a.Checks, noteStep{ID: k.ID, Title: k.Title, How: k.How, Minutes: k.Minutes, Access: m.Access[k.Access].Title})
	}
	for _, r := range m.Repairs {
		a.Repairs = append(a.Repairs, noteStep{ID: r.ID, Title: r.Title, How: r.How, Minutes: r.Minutes, Access: m.Access[r.Access].Title, Price: r.Price})
	}
	return a
}

func (a *noteShown) text(p *page) {
	p.head("%s: %s", a.ID, a.Title)
	p.para("  ", a.About)
	if len(a.Names) > 0 {
		p.para("  also called ", strings.Join(a.Names, ", "))
	}
	for _, h := range a.Hazards {
		caution(p, "  ", h)
	}
	p.gap()
	p.head("What can be wrong, by chance before anything is known")
	for _, f := range a.Faults {
		p.para(fmt.Sprintf("%6s  ", percent(f.Prior)), f.Title+" ("+f.ID+")")
	}
	p.gap()
	p.head("What can be seen from outside")
	for _, x := range a.Symptoms {
		p.para("  ", x.ID+": "+x.Title)
	}
	for _, list := range []struct {
		head  string
		steps []noteStep
	}{{"Checks", a.Checks}, {"Repairs", a.Repairs}} {
		p.gap()
		p.head("%s", list.head)
		for _, x := range list.steps {
			p.para("  ", fmt.Sprintf("%s: %s (%s, %s)", x.ID, x.Title, minutes(x.Minutes), x.Access))
		}
	}
}
