package cli

import (
	"context"
	"fmt"
	"strings"
	"time"

	"fettler/internal/casework"
)

// soakCmd plans and follows the run that shows whether it is fixed.
type soakCmd struct {
	Args     []string `arg:"" optional:""`
	EachTime bool     `name:"each-time"`
	Starts   string   `name:"starts"`
	Every    string   `name:"every"`
	Showings int      `name:"showings"`
	Times    string   `name:"times"`
	When     string   `name:"when"`
	After    string   `name:"after"`
	Still    string   `name:"still"`
	Sure     string   `name:"sure"`
	Cold     bool     `name:"cold"`
	Warm     bool     `name:"warm"`
}

const soakHow = "soak [CASE] [plan, on, off, clean, back or tried]"

// soakWords are what is typed and what it stands for.
var soakWords = map[string]string{"plan": "plan", "on": "started", "off": "paused", "clean": "clean", "back": "recurred", "tried": ""}

// soakState is how far the proof has got.
type soakState struct {
	casework.SoakBoard
	list bool // the test list is wanted in words
}

func (c *soakCmd) run(ctx context.Context, s *session) (answer, error) {
	name, word, answers, err := c.read()
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, false)
	if err != nil {
		return nil, err
	}
	switch word {
	case "":
	case "plan":
		d := casework.SoakPlanning{By: s.by()}
		if d.SoakPlanned, err = c.plan(); err == nil {
			_, err = s.opened.PlanSoak(ctx, id, d)
		}
	case "tried":
		d := casework.GoingOver{By: s.by()}
		for _, a := range answers {
			d.Points = append(d.Points, casework.PointDone{Point: a.Finding, Result: a.Text})
		}
		_, err = s.opened.GoOver(ctx, id, d)
	default:
		d := casework.Soaking{By: s.by(), What: soakWords[word], Answers: answers}
		if c.Cold {
			d.Heat = "cold"
		} else if c.Warm {
			d.Heat = "warm"
		}
		_, err = s.opened.RecordSoak(ctx, id, d)
	}
	if err != nil {
		return nil, s.tryAgain(err, id)
	}
	v, err := s.opened.Soak(ctx, id)
	if err != nil {
		return nil, err
	}
	return &soakState{*v, word == "" || word == "tried"}, nil
}

// read takes the words apart: an optional case, what is to be done, and what it shows.
func (c *soakCmd) read() (name, word string, answers []casework.Answer, err error) {
	plain, answers := split(c.Args)
	if n := len(plain); n > 0 {
		if _, ok := soakWords[plain[n-1]]; ok {
			word, plain = plain[n-1], plain[:n-1]
		}
	}
	name, err = onlyCase(plain, soakHow)
	if word == "" && err == nil && (c.EachTime || c.Starts != "" || c.Every != "" || c.Times != "") {
		word = "plan"
	}
	return name, word, answers, err
}

// plan reads how it showed.
func (c *soakCmd) plan() (casework.SoakPlanned, error) {
	p := casework.SoakPlanned{SoakHistory: casework.SoakHistory{When: c.When, Seen: c.Showings}}
	bad := func(flag, typed, like string) error {
		return &usageError{text: fmt.Sprintf("--%s %q cannot be read", flag, typed), next: "type it as: " + like}
	}
	switch {
	case c.EachTime:
		p.Pattern = "each time"
	case c.Starts != "":
		p.Pattern = "of starts"
		if n, err := fmt.Sscanf(c.Starts, "%d of %d", &p.Shown, &p.Of); n != 2 || err != nil {
			return p, bad("starts", c.Starts, `--starts "3 of 10"`)
		}
	case c.Every != "":
		p.Pattern = "on average"
		d, err := time.ParseDuration(c.Every)
		if err != nil {
			return p, bad("every", c.Every, "--every 20m or --every 1h30m")
		}
		p.EveryMin = d.Minutes()
	case c.Times != "":
		p.Pattern = "in a time"
		count, in, ok := strings.Cut(c.Times, " in ")
		d, err := time.ParseDuration(strings.TrimSpace(in))
		if _, e := fmt.Sscanf(count, "%d", &p.Times); !ok || e != nil || err != nil {
			return p, bad("times", c.Times, `--times "2 in 3h"`)
		}
		p.InMin = d.Minutes()
	default:
		return p, &usageError{text: "it is not said how the symptom showed before the repair", next: "say --each-time, --starts, --every or --times"}
	}
	if c.After != "" {
		d, err := time.ParseDuration(c.After)
		if err != nil {
			return p, bad("after", c.After, "--after 2h")
		}
		p.When, p.AfterMin = "late", d.Minutes()
	}
	for _, x := range []struct {
		flag, typed string
		to          func(float64)
	}{{"still", c.Still, func(v float64) { p.Still = &v }}, {"sure", c.Sure, func(v float64) { p.Sure = v }}} {
		if x.typed == "" {
			continue
		}
		v, err := readShare(x.typed)
		if err != nil {
			return p, bad(x.flag, x.typed, "--"+x.flag+" 90%")
		}
		x.to(v)
	}
	return p, nil
}

// readShare reads "90%" or "0.9".
func readShare(typed string) (float64, error) {
	t, percent := strings.CutSuffix(strings.TrimSpace(typed), "%")
	var v float64
	var rest string
	n, _ := fmt.Sscanf(t+" end", "%g %s", &v, &rest)
	if n != 2 || rest != "end" {
		return 0, fmt.Errorf("%q is no share", typed)
	}
	if percent {
		v /= 100
	}
	return v, nil
}

func (a *soakState) no() bool { return a.Tally != nil && a.Tally.State == "recurred" }

func (a *soakState) text(p *page) {
	p.head("%s (%s): is it fixed?", a.Title, a.Case)
	if a.Ready != "" {
		p.para("  ", "too early: "+a.Ready)
	}
	if a.Plan == nil {
		p.para("  ", fmt.Sprintf("the fault is still there with %s, %s; say how it showed before the repair, then it is said how long it must run clean", percent(a.Still), a.StillFrom))
	} else {
		p.para("  ", a.Tally.Words)
		p.para("  ", fmt.Sprintf("before the repair it showed %s; still there with %s, %s", a.Plan.History, percent(a.Still), a.StillFrom))
		for _, s := range a.Plan.Steps {
			p.para("  - ", s.Words)
			if s.Caution != "" {
				p.para("    ! ", s.Caution)
			}
		}
	}
	if !a.list {
		return
	}
	p.gap()
	p.line("before it goes back:")
	for _, t := range a.Tests {
		mark := "[ ]"
		if t.Result != "" {
			mark = "[" + t.Result + "]"
		}
		title := t.Title
		if t.Licensed {
			title += " (for those whom local rules allow it)"
		}
		p.para("  "+mark+" ", t.ID+": "+title+": "+t.How)
	}
}
