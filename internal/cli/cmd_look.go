package cli

import (
	"context"
	"fmt"

	"fettler/internal/casework"
)

// noticeCmd writes down symptoms seen from outside.
type noticeCmd struct {
	Args   []string `arg:"" optional:""`
	Before int      `name:"before"`
	Sure   bool     `name:"sure"`
}

func (c *noticeCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

func (c *noticeCmd) aim() (string, error) {
	plain, _ := split(c.Args)
	return onlyCase(plain, "notice [CASE] finding=yes finding=no …")
}

func (c *noticeCmd) deed(ctx context.Context, s *session, look lookup) (casework.Deed, error) {
	v, err := look.noted()
	if err != nil {
		return nil, err
	}
	_, answers := split(c.Args)
	if len(answers) == 0 && s.asks() {
		var ask []casework.Field
		for _, q := range v.Ask {
			ask = append(ask, q.Field)
		}
		if answers, err = s.askFields(ctx, ask); err != nil {
			return nil, err
		}
	}
	if len(answers) == 0 {
		e := &usageError{text: "nothing was noticed", next: "name a symptom and say yes or no; fettler show lists them"}
		if len(v.Ask) > 0 {
			e.try = []string{line([]string{"notice", v.Ask[0].Finding + "=yes"})}
		}
		return nil, e
	}
	answers, err = s.fields(answers, v.Symptoms)
	return casework.Noticing{By: s.sure(c.Sure), Answers: answers, Before: c.Before}, err
}

// checkCmd writes down a check.
type checkCmd struct {
	Args    []string `arg:"" optional:""`
	Minutes *float64 `name:"minutes"`
	Before  int      `name:"before"`
	Sure    bool     `name:"sure"`
}

func (c *checkCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

const checkHow = "check [CASE] CHECK finding=value …"

func (c *checkCmd) lone() (word, what, how string) { return loneOf(c.Args), "check", checkHow }

func (c *checkCmd) aim() (string, error) {
	plain, _ := split(c.Args)
	name, _, err := caseThen(plain, "check", checkHow)
	return name, err
}

func (c *checkCmd) deed(ctx context.Context, s *session, look lookup) (casework.Deed, error) {
	plain, answers := split(c.Args)
	_, typed, err := caseThen(plain, "check", checkHow)
	if err != nil {
		return nil, err
	}
	v, err := look.noted()
	if err != nil {
		return nil, err
	}
	step, err := s.chooseStep("check", typed, v.Checks)
	if err != nil {
		return nil, err
	}
	if len(answers) == 0 && s.asks() {
		if answers, err = s.askFields(ctx, step.Fields); err != nil {
			return nil, err
		}
	}
	if len(answers) == 0 {
		return nil, &tryError{&casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("nothing was written down for %q", step.Title),
			Next: "say what it showed, with one value for each finding you looked at"}, []string{line(append(s.with(typed, step.ID), blanks(step)...))}}
	}
	answers, err = s.fields(answers, step.Fields)
	return casework.Checking{By: s.sure(c.Sure), Check: step.ID, Answers: answers, Minutes: c.Minutes, Before: c.Before}, err
}

// testCmd writes down a trial of the whole device.
type testCmd struct {
	Args    []string `arg:"" optional:""`
	Minutes *float64 `name:"minutes"`
	Open    bool     `name:"open"`
}

func (c *testCmd) run(ctx context.Context, s *session) (answer, error) { return s.do(ctx, c) }

const testHow = "test [CASE] works, or: fettler test [CASE] still symptom=yes symptom=no …"

func (c *testCmd) aim() (string, error) {
	plain, _ := split(c.Args)
	name, _, err := caseThen(plain, "outcome", testHow)
	return name, err
}

func (c *testCmd) deed(ctx context.Context, s *session, look lookup) (casework.Deed, error) {
	plain, answers := split(c.Args)
	_, word, err := caseThen(plain, "outcome", testHow)
	if err != nil {
		return nil, err
	}
	if word != "works" && word != "still" {
		e := &usageError{text: fmt.Sprintf("%q is no outcome of a test", word), next: "say works, or still with the symptoms that remain"}
		if n := nearest(word, []string{"works", "still"}); n != "" {
			e.try = s.instead(word, n)
		}
		return nil, e
	}
	if len(answers) == 0 && (word == "works" || !s.asks()) {
		return casework.Testing{By: s.by(), Works: word == "works", Minutes: c.Minutes, Open: c.Open}, nil
	}
	v, err := look.noted()
	if err != nil {
		return nil, err
	}
	if word == "still" && len(answers) == 0 && s.asks() {
		var complaints []casework.Field
		for _, f := range v.Symptoms {
			if f.Now != "" {
				complaints = append(complaints, f)
			}
		}
		if answers, err = s.askFields(ctx, complaints); err != nil {
			return nil, err
		}
	}
	answers, err = s.fields(answers, v.Symptoms)
	return casework.Testing{By: s.by(), Works: word == "works", Answers: answers, Minutes: c.Minutes, Open: c.Open}, err
}
