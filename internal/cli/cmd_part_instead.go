package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
)

// partInsteadCmd says what will do instead of a part.
type partInsteadCmd struct {
	Part    []string `arg:"" optional:""`
	Repair  string   `name:"repair"`
	Kind    string   `name:"kind"`
	Duty    string   `name:"duty"`
	Working string   `name:"working"`
	Pieces  int      `name:"pieces"`
	Have    []string `name:"have" sep:"none"`
	Refused bool     `name:"refused"`
}

// insteadFound is what will do.
type insteadFound struct {
	partdesk.Instead
}

func (c *partInsteadCmd) run(ctx context.Context, s *session) (answer, error) {
	d, err := s.parts(ctx)
	if err != nil {
		return nil, err
	}
	a := partdesk.InsteadAsk{Text: strings.Join(c.Part, " "), Kind: c.Kind, Duty: c.Duty, Working: c.Working, Pieces: c.Pieces, Have: strings.Join(c.Have, "\n"), Refused: c.Refused}
	if s.flags.Case != "" || c.Repair != "" {
		id, err := s.find(ctx, "", false)
		if err != nil {
			return nil, err
		}
		if s.flags.Case != "" {
			a.Case = id
		}
		if c.Repair != "" {
			if err := c.fromNote(ctx, s, d, id, &a); err != nil {
				return nil, err
			}
		}
	}
	if a.Text == "" {
		return nil, &usageError{text: "nothing says which part it is", next: "name its kind, value and ratings", try: []string{`fettler part instead "electrolytic 470 µF 25 V 105 °C"`}}
	}
	i, err := d.Instead(ctx, a)
	if err != nil {
		return nil, err
	}
	return &insteadFound{*i}, nil
}

// fromNote takes the part of a repair as the note says it. Where the repair takes
// several, one of them must be named.
func (c *partInsteadCmd) fromNote(ctx context.Context, s *session, d *partdesk.Desk, id string, a *partdesk.InsteadAsk) error {
	v, err := s.opened.View(ctx, id)
	if err != nil {
		return err
	}
	step, err := s.chooseStep("repair", c.Repair, v.Repairs)
	if err != nil {
		return err
	}
	if a.Text != "" {
		return &usageError{text: "there is both a part and a repair", next: "name the part, or the repair whose part it is"}
	}
	all, err := d.RepairParts(ctx, id, step.ID)
	if err != nil {
		return err
	}
	var known []partdesk.RepairPart
	e := &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("for %q the note names no part whose kind is known", step.Title), Next: "read the marking off the old part: fettler part read …"}
	for _, p := range all {
		if p.Part != "" {
			known = append(known, p)
			e.Choices = append(e.Choices, casework.Choice{ID: p.Part, Title: p.Kind, About: p.Missed})
		}
	}
	if len(known) == 1 {
		a.Text, a.Pieces = known[0].Part, max(a.Pieces, known[0].Count)
		return nil
	}
	if len(known) == 0 {
		return e
	}
	e.Code, e.Text, e.Next = casework.Ambiguous, fmt.Sprintf("%q takes several parts", step.Title), "name one of them"
	var try []string
	for _, p := range known {
		try = append(try, line([]string{"part", "instead", p.Part}))
	}
	return &tryError{e, try}
}

// no: something was asked about, and nothing of it will do.
func (a *insteadFound) no() bool {
	shown := false
	for _, list := range [][]partdesk.Candidate{a.Typed, a.Shelf, a.Boards, a.Offers} {
		for _, c := range list {
			shown = true
			if c.Verdict != "refused" {
				return false
			}
		}
	}
	return shown
}

func (a *insteadFound) text(p *page) {
	p.head("What will do %s: it must have", a.Title)
	for _, q := range a.Asks {
		safety := ""
		if q.Safety {
			safety = " (safety)"
		}
		p.para("  - ", q.Words+safety+", because "+q.Why)
	}
	if len(a.Unread) > 0 {
		p.para("  ", "not used: "+strings.Join(a.Unread, ", "))
	}
	for _, c := range a.Cautions {
		p.para("  ! ", c)
	}
	if a.Polarity != nil {
		for _, l := range poleLines(a.Polarity.Kind) {
			p.line("    " + l)
		}
	}
	p.para("  ", a.Trust)
	candidates(p, "In the hand", a.Typed)
	candidates(p, "On the shelf", a.Shelf)
	candidates(p, "Still on a board", a.Boards)
	candidates(p, "Offered", a.Offers)
	if len(a.Typed)+len(a.Shelf)+len(a.Boards)+len(a.Offers) == 0 {
		p.gap()
		p.para("", "Nothing at hand was looked at or will do: name what you have with --have.")
	}
}

func candidates(p *page, title string, all []partdesk.Candidate) {
	if len(all) == 0 {
		return
	}
	p.gap()
	p.head("%s", title)
	for _, c := range all {
		where := ""
		if c.Place != "" {
			where = ", " + c.Place
		}
		p.para("  ", fmt.Sprintf("%s: %d × %s%s", c.Verdict, c.Count, c.Name, where))
		for _, h := range c.Checks {
			lead := "      "
			if h.Verdict != "accepted" {
				lead = "    x " // what does not hold, or is not known to
			}
			p.para(lead, h.Words)
		}
		for _, r := range c.Risks {
			p.para("    ! ", r)
		}
		if c.Short > 0 {
			p.para("    ! ", fmt.Sprintf("%d too few", c.Short))
		}
		if len(c.Unread) > 0 {
			p.para("      ", "not used: "+strings.Join(c.Unread, ", "))
		}
	}
}
