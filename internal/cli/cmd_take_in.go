package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
)

// takeInCmd opens a case.
type takeInCmd struct {
	Device   []string `arg:"" optional:""`
	Label    string   `name:"label"`
	Says     string   `name:"says"`
	Age      *float64 `name:"age"`
	Worth    *float64 `name:"worth"`
	Owner    string   `name:"owner"`
	Contact  string   `name:"contact"`
	Category string   `name:"category"`
	ID       string   `name:"id"`
}

func (c *takeInCmd) run(ctx context.Context, s *session) (answer, error) {
	if _, err := s.bench(ctx); err != nil {
		return nil, err
	}
	in := casework.Opening{By: s.by(), ID: c.ID}
	if err := c.fill(ctx, s, &in); err != nil {
		return nil, err
	}
	if err := s.askLive(ctx); err != nil {
		return nil, err
	}
	var then []casework.Deed
	if c.Says != "" {
		then = append(then, casework.Saying{By: s.by(), Text: c.Says})
	}
	r, err := s.opened.Open(ctx, in, then...)
	if err != nil {
		return nil, err
	}
	d, err := s.done(ctx, r, 1+len(then))
	if err != nil || c.Says == "" {
		return d, err
	}
	h, err := s.opened.Hear(ctx, r.Case, c.Says)
	if err != nil {
		return nil, err
	}
	h.Receipt = casework.Receipt{Case: r.Case, Seq: r.Seq + 1}
	return s.settle(ctx, d, h, casework.Saying{Text: c.Says})
}

// fill puts what was typed into an opening.
func (c *takeInCmd) fill(ctx context.Context, s *session, in *casework.Opening) error {
	if c.Label != "" {
		in.Label = c.Label
	}
	if c.Age != nil {
		in.Age = *c.Age
	}
	if c.Worth != nil {
		in.Worth = c.Worth
	}
	if c.Owner != "" {
		in.Owner.Name = c.Owner
	}
	if c.Contact != "" {
		in.Owner.Contact = c.Contact
	}
	words := strings.Join(c.Device, " ")
	if c.Category != "" {
		in.Category = c.Category
	}
	if words == "" {
		return nil
	}
	var err error
	in.Device, err = c.device(ctx, s, words)
	return err
}

// device finds the note of a device, asking back if it is not clear.
func (c *takeInCmd) device(ctx context.Context, s *session, words string) (string, error) {
	f, err := s.opened.FindDevice(ctx, words)
	if err != nil {
		return "", err
	}
	if f.Sure {
		return f.Devices[0].ID, nil
	}
	e := &casework.Error{Code: casework.Ambiguous, Text: fmt.Sprintf("%q may be one of several devices", words), Next: "take one by its name"}
	if len(f.Devices) == 1 && !f.None {
		e.Text, e.Next = fmt.Sprintf("no device is called just %q", words), "if this one is meant, take it by its name"
	}
	if f.None {
		e.Text, e.Next = fmt.Sprintf("there is no bench note for %q", words), "take the general note that fits best, or have one of its own in two minutes: "+line([]string{"note", "assemble", words, "--save"})
	}
	var titles, try []string
	for _, d := range f.Devices {
		e.Choices = append(e.Choices, casework.Choice{ID: d.ID, Title: d.Title})
		titles = append(titles, d.Title+parens(d.About))
		try = append(try, c.with(d.ID))
	}
	if s.asks() {
		i, err := s.askWhich(ctx, e.Text+". Which is it?", titles)
		if err != nil {
			return "", err
		}
		if i >= 0 {
			return f.Devices[i].ID, nil
		}
	}
	return "", &tryError{e, try}
}

// with is the command with a device's own name.
func (c *takeInCmd) with(device string) string {
	words := []string{"take-in", device}
	for _, f := range []struct{ name, value string }{{"--label", c.Label}, {"--says", c.Says}, {"--owner", c.Owner}, {"--contact", c.Contact}, {"--id", c.ID}} {
		if f.value != "" {
			words = append(words, f.name, f.value)
		}
	}
	if c.Age != nil {
		words = append(words, "--age", fmt.Sprint(*c.Age))
	}
	if c.Worth != nil {
		words = append(words, "--worth", fmt.Sprint(*c.Worth))
	}
	return line(words)
}

func (c *takeInCmd) aim() (string, error) { return "", nil }

// deed corrects the opening: what is not given stays as it is.
func (c *takeInCmd) deed(ctx context.Context, s *session, look lookup) (casework.Deed, error) {
	if c.Says != "" || c.ID != "" {
		return nil, &usageError{text: "--says and --id are no part of what can be corrected here", next: "correct what was said by its own number"}
	}
	v, err := look()
	if err != nil {
		return nil, err
	}
	events, err := s.opened.Export(ctx, v.Header.Case, true)
	if err != nil {
		return nil, err
	}
	was, err := casework.Project(nil, nil, events)
	if err != nil {
		return nil, err
	}
	o := was.Opened
	in := casework.Opening{By: s.by(), Device: o.Device, Category: o.Category, Label: o.Label, Age: o.Age, Worth: o.Worth, Owner: v.Header.Owner, Demo: o.Demo}
	return in, c.fill(ctx, s, &in)
}
