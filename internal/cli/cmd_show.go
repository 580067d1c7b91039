package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
)

// view finds a case, open or closed, and looks at it.
func (s *session) view(ctx context.Context, args []string, how string) (*casework.View, error) {
	name, err := onlyCase(args, how)
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, false)
	if casework.CodeOf(err) == casework.NotFound && strings.TrimSpace(name) == "" {
		id, err = s.find(ctx, name, true)
	}
	if err != nil {
		return nil, err
	}
	return s.opened.View(ctx, id)
}

// showCmd shows a case whole.
type showCmd struct {
	Args []string `arg:"" optional:""`
}

// shown is a whole case.
type shown casework.View

func (c *showCmd) run(ctx context.Context, s *session) (answer, error) {
	v, err := s.view(ctx, c.Args, "show [CASE]")
	if err != nil {
		return nil, err
	}
	return (*shown)(v), nil
}

func (a *shown) text(p *page) {
	v := (*casework.View)(a)
	header(p, v)
	known(p, v)
	if len(v.Suspects) > 0 && v.Outcome == nil {
		p.gap()
		p.head("Suspects (fettler suspects says why)")
		for _, c := range v.Suspects[:min(len(v.Suspects), 8)] {
			p.para(chance(c.Chance), c.Title)
		}
		if v.Unknown.Now >= 0.01 {
			p.para(chance(v.Unknown), "a fault the note does not know")
		}
	}
	doubts(p, v)
	if v.Header.State != casework.Done {
		p.gap()
		p.head("Next (fettler next says how)")
		b := briefOf(v)
		if b.Next != nil {
			p.para("  ", b.Next.words(b.Currency))
		} else {
			p.para("  ", b.NoNext)
		}
	}
	asks(p, v)
	outcome(p, v)
	p.gap()
	p.head("Journal")
	for _, e := range v.Timeline {
		entry(p, e)
	}
	p.gap()
	source(p, v)
}

func header(p *page, v *casework.View) {
	h := v.Header
	title := h.Title
	if h.Kind != "" && h.Kind != h.Title {
		title += ": " + h.Kind
	}
	p.head("%s (%s)", title, h.Case)
	state := fmt.Sprintf("%s; %s and %s spent", h.State, minutes(h.Minutes), money(h.Money, h.Currency))
	if h.Access.Title != "" {
		state += "; the device is " + h.Access.Title
	}
	p.para("  ", state)
	if h.Demo {
		p.para("  ", "this case is invented, for show")
	}
	for _, c := range h.Hazards {
		caution(p, "  ", c)
	}
}

// caution prints what can hurt and what to do about it.
func caution(p *page, lead string, c casework.Caution) {
	size := ""
	if c.Volts > 0 {
		size += fmt.Sprintf(", %g V", c.Volts)
	}
	if c.Joules > 0 {
		size += fmt.Sprintf(", %g J", c.Joules)
	}
	p.para(lead+"CAUTION ", c.Kind+size+": "+c.Text)
}

func known(p *page, v *casework.View) {
	if len(v.Known) == 0 {
		return
	}
	p.gap()
	p.head("Known")
	for _, o := range v.Known {
		if o.Implied {
			continue // nobody looked
		}
		words := fmt.Sprintf("%s (%s)", o.Words, o.From)
		if o.Earlier {
			words += ", looked at again since"
		}
		if o.Epoch < v.Header.Epoch {
			words += ", before a repair"
		}
		p.para(fmt.Sprintf("%4d  ", o.Event), words)
	}
}

func doubts(p *page, v *casework.View) {
	if v.Strain != nil {
		p.gap()
		p.para("Doubt: ", v.Strain.Text)
	}
	for _, w := range v.Pressing() {
		p.gap()
		p.para("Warning: ", w.Text)
	}
}

// asks prints the free questions that tell most.
func asks(p *page, v *casework.View) {
	if len(v.Ask) == 0 || v.Header.State == casework.Done {
		return
	}
	p.gap()
	p.head("Ask or look, it costs nothing")
	for _, q := range v.Ask[:min(len(v.Ask), 4)] {
		text := q.Ask
		if text == "" {
			text = q.Title
		}
		p.para("  ", text)
		p.line("    " + line([]string{"notice", q.Finding + "=" + blank(q.Field)}))
	}
}

func outcome(p *page, v *casework.View) {
	o := v.Outcome
	if o == nil {
		return
	}
	p.gap()
	p.head("Closed: %s", o.Verdict)
	if o.Untested != "" {
		p.para("  ", o.Untested)
	}
	if o.Stated {
		for _, c := range o.Because {
			p.para("  ", "it was, as the repairer says: "+c.Title)
		}
	} else {
		was(p, o)
	}
	if o.Kg > 0 {
		p.para("  ", fmt.Sprintf("%g kg kept from the bin", o.Kg))
	}
	if o.Remark != "" {
		p.para("  ", o.Remark)
	}
}

func entry(p *page, e casework.Entry) {
	words := e.Words
	if e.Void {
		words = fmt.Sprintf("(undone by %d) %s", e.VoidBy, words)
	}
	if len(e.Was) > 0 {
		words += " (said before: " + strings.Join(e.Was, "; ") + ")"
	}
	if e.Private {
		words += " (private)"
	}
	if e.Who != "" {
		words += ", " + e.Who
	}
	p.para(fmt.Sprintf("%4d  %s  ", e.Event, e.At.Local().Format("2006-01-02 15:04")), words)
}

func source(p *page, v *casework.View) {
	x := v.Source
	switch {
	case x.Trouble != "":
		p.para("Note: ", x.Trouble)
	case x.Own:
		p.para("Note: ", x.Note+", your own")
	case x.Generic:
		p.para("Note: ", x.Note+", which stands for devices without a note of their own")
	default:
		p.para("Note: ", x.Note)
	}
	if len(x.Ignored) > 0 {
		p.para("  ", "the note does not know, so it counts for nothing: "+strings.Join(x.Ignored, ", "))
	}
}

// wasLeast is the least chance with which a fault is named in what it was.
const wasLeast = 0.02

// was says what a closed case came with, likeliest first.
func was(p *page, o *casework.Outcome) {
	if len(o.Because) == 0 {
		return
	}
	p.para("  ", "What it was: the chance that it was there when the device came.")
	for i, c := range o.Because {
		if i == 0 || c.Now >= wasLeast {
			p.para(fmt.Sprintf("%6s  ", percent(c.Now)), c.Title)
		}
	}
	if o.Unknown >= wasLeast {
		p.para(fmt.Sprintf("%6s  ", percent(o.Unknown)), "a fault the note does not know")
	}
}
