package cli

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// sayCmd writes down what somebody says it does.
type sayCmd struct {
	Args []string `arg:"" optional:""`
	Not  []string `name:"not"`
}

func (c *sayCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

func (c *sayCmd) aim() (string, error) {
	name, _, err := c.read()
	return name, err
}

// whole is the command and its words.
func (c *sayCmd) whole() []string { return append([]string{"say"}, c.Args...) }

func (c *sayCmd) read() (name, text string, err error) {
	name, text, err = caseThen(c.Args, "text", `say [CASE] "what it does"`)
	if u, ok := err.(*usageError); ok && len(c.Args) > 2 {
		u.try = []string{line([]string{"say", strings.Join(c.Args, " ")}), line([]string{"say", c.Args[0], strings.Join(c.Args[1:], " ")})}
	}
	return name, text, err
}

func (c *sayCmd) deed(_ context.Context, s *session, look lookup) (casework.Deed, error) {
	name, text, err := c.read()
	if err == nil {
		err = s.meantCase(name, text, look)
	}
	return casework.Saying{By: s.by(), Text: text, Except: c.Not}, err
}

// meantCase refuses a first word before a text that is a case only by chance:
// "fettler say it hums" lacks quotes, although "it" is part of many a label.
func (s *session) meantCase(name, text string, look lookup) error {
	n := strings.ToLower(strings.TrimSpace(name))
	if n == "" {
		return nil
	}
	v, err := look()
	if err != nil {
		return err
	}
	if strings.ContainsAny(strings.TrimSpace(text), " \t") {
		return nil // the text is in quotes, so what stands before it is the case
	}
	if strings.HasPrefix(strings.ToLower(v.Header.Title), n) && len(n) > 2 || strings.HasPrefix(v.Header.Case, n) && len(n) > 2 {
		return nil
	}
	return &usageError{text: fmt.Sprintf("%q may be a case, or the beginning of the text", name), next: "type one of these: the first if it belongs to the text, the second if it is the case",
		try: []string{line([]string{strings.Fields(s.command)[0], name + " " + text}), line([]string{strings.Fields(s.command)[0], v.Header.Case, text})}}
}

// hear says something and settles what is doubtful in it.
func (s *session) hear(ctx context.Context, id string, said casework.Saying) (answer, error) {
	h, err := s.opened.Say(ctx, id, said)
	if err != nil {
		return nil, err
	}
	d, err := s.done(ctx, h.Receipt, 1)
	if err != nil {
		return nil, err
	}
	return s.settle(ctx, d, h, said)
}

// settle asks back about what is doubtful in what was said, or says which
// commands would settle it. h.Seq is the event it was written down in.
func (s *session) settle(ctx context.Context, d *done, h casework.Heard, said casework.Saying) (*done, error) {
	d.Heard = &heard{Read: h.Read, NotMeant: []string{}, Doubtful: []doubt{}, Blamed: h.Blamed, Unread: h.Unread}
	for _, m := range h.Read {
		words := []string{"correct", d.Case, strconv.Itoa(h.Seq), "say", said.Text}
		for _, f := range append(slices.Clone(said.Except), m.Finding) {
			words = append(words, "--not", f)
		}
		d.Heard.NotMeant = append(d.Heard.NotMeant, line(words))
	}
	var sure []casework.Answer
	for _, g := range h.Doubtful {
		var choices []string
		for _, m := range g {
			choices = append(choices, heedWords(m))
		}
		if s.asks() {
			i, err := s.askWhich(ctx, fmt.Sprintf("Does “%s” mean one of these?", g[0].Text), choices)
			if err != nil {
				return nil, err
			}
			if i >= 0 {
				sure = append(sure, casework.Answer{Finding: g[i].Finding, Text: yesNo(!g[i].Denied)})
			}
			continue
		}
		t := doubt{Meant: g}
		for _, m := range g {
			t.Try = append(t.Try, line([]string{"notice", d.Case, m.Finding + "=" + yesNo(!m.Denied)}))
		}
		d.Heard.Doubtful = append(d.Heard.Doubtful, t)
	}
	if len(sure) == 0 {
		return d, nil
	}
	r, err := s.opened.Notice(ctx, d.Case, casework.Noticing{By: s.by(), Answers: sure})
	if err != nil {
		return nil, err
	}
	after, err := s.done(ctx, r, 1)
	if err != nil {
		return nil, err
	}
	after.Recorded = append(d.Recorded, after.Recorded...)
	after.Heard = d.Heard
	return after, nil
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
