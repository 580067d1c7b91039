package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/cli/shell"
)

// wayCmd writes down which way round a part sits, before it comes out or as fitted.
type wayCmd struct {
	Args     []string `arg:"" optional:""`
	Fitted   bool     `name:"fitted"`
	Sort     string   `name:"sort"`
	Side     string   `name:"side"`
	Landmark string   `name:"landmark"`
}

const wayHow = `way [CASE] MARK DIRECTION, as in: fettler way C7 left`

func (c *wayCmd) run(ctx context.Context, s *session) (answer, error) {
	a, err := s.do(ctx, c)
	d, ok := a.(*done)
	if err != nil || !ok {
		return a, err
	}
	w, err := s.opened.BoardWork(ctx, d.Case)
	if err != nil {
		return nil, err
	}
	_, mark, _, err := c.words()
	for _, x := range w.Polar {
		if x.Mark == mark {
			d.Way = &x
		}
	}
	return d, err
}

// direction finds a direction at the end of words, which may be written as one or two.
func direction(words []string) (points string, rest []string) {
	for _, n := range []int{2, 1} {
		if len(words) < n {
			continue
		}
		at := len(words) - n
		if d := asDirection(strings.Join(words[at:], " ")); d != "" {
			return d, words[:at]
		}
	}
	return "", words
}

// asDirection is the direction that a word stands for, "" for none.
func asDirection(word string) string {
	w := strings.Join(strings.FieldsFunc(strings.ToLower(word), func(r rune) bool { return r == ' ' || r == '-' }), " ")
	if slices.Contains(casework.Directions(), w) {
		return w
	}
	return ""
}

func (c *wayCmd) words() (name, mark, points string, err error) {
	points, rest := direction(c.Args)
	if points == "" {
		return "", "", "", &usageError{text: "it is not said where the mark points", next: "type it as: fettler " + wayHow + "; the directions are " + strings.Join(casework.Directions(), ", ")}
	}
	name, mark, err = caseThen(rest, "part", wayHow)
	return name, mark, points, err
}

func (c *wayCmd) aim() (string, error) {
	name, _, _, err := c.words()
	return name, err
}

func (c *wayCmd) deed(ctx context.Context, s *session, look lookup) (casework.Deed, error) {
	_, mark, points, err := c.words()
	if err != nil {
		return nil, err
	}
	d := casework.Orienting{By: s.by()}
	d.Oriented = casework.Oriented{Mark: mark, Sort: c.Sort, Side: c.Side, When: stage(c.Fitted), Points: points, Words: c.Landmark}
	if d.Sort == "" {
		v, err := look()
		if err != nil {
			return nil, err
		}
		j, err := s.opened.ReworkJobOf(ctx, v.Header.Case, casework.ReworkFamilies()[0].ID, mark)
		if err != nil {
			return nil, err
		}
		for _, x := range j.Polar {
			d.Sort = x.Sort
		}
	}
	return d, nil
}

func stage(fitted bool) string {
	if fitted {
		return "after"
	}
	return "before"
}

// Ways are the orientations that come with a repair.
type Ways struct {
	Was   []string `name:"was" sep:"none"`
	Sits  []string `name:"sits" sep:"none"`
	Meant bool     `name:"meant"`
}

// ask demands, before a repair is written down, how its polarised parts sat and sit: from
// the flags, or at a terminal one by one. What differs or cannot be noted has to be said
// to be meant. It returns how many events it wrote, and the first.
func (w *Ways) ask(ctx context.Context, s *session, id, repair string) (wrote int, first casework.Receipt, err error) {
	note := func(x casework.Polar, when, points string) error {
		d := casework.Orienting{By: s.by()}
		d.Oriented = casework.Oriented{Mark: x.Mark, Sort: x.Sort, When: when, Points: points}
		r, err := s.opened.Orient(ctx, id, d)
		if err == nil && wrote == 0 {
			first = r
		}
		wrote++
		return err
	}
	list, err := s.opened.Polarised(ctx, id, repair)
	if err != nil || len(list) == 0 {
		return 0, first, err
	}
	for _, x := range []struct {
		typed []string
		flag  string
		when  string
	}{{w.Was, "was", "before"}, {w.Sits, "sits", "after"}} {
		for _, t := range x.typed {
			p, points, err := readWay(list, x.flag, t)
			if err == nil {
				err = note(p, x.when, points)
			}
			if err != nil {
				return wrote, first, err
			}
		}
	}
	if s.asks() && !w.Meant {
		if err := s.askWays(ctx, id, repair, note); err != nil {
			return wrote, first, err
		}
	}
	return wrote, first, w.settled(ctx, s, id, repair)
}

// readWay reads "C7=left".
func readWay(list []casework.Polar, flag, typed string) (casework.Polar, string, error) {
	mark, way, ok := strings.Cut(typed, "=")
	points := asDirection(way)
	if !ok || points == "" {
		return casework.Polar{}, "", &usageError{text: fmt.Sprintf("--%s %q cannot be read", flag, typed), next: fmt.Sprintf("type it as: --%s C7=left; the directions are %s", flag, strings.Join(casework.Directions(), ", "))}
	}
	marks := []string{}
	for _, x := range list {
		if strings.EqualFold(x.Mark, strings.TrimSpace(mark)) {
			return x, points, nil
		}
		marks = append(marks, x.Mark)
	}
	return casework.Polar{}, "", &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("this repair puts in no %q that has a right way round", mark), Next: "it puts in " + strings.Join(marks, ", ")}
}

// askWays asks at the terminal what is not noted yet.
func (s *session) askWays(ctx context.Context, id, repair string, note func(x casework.Polar, when, points string) error) error {
	list, err := s.opened.Polarised(ctx, id, repair)
	if err != nil {
		return err
	}
	for _, x := range list {
		for _, q := range []struct {
			noted *casework.Sitting
			when  string
			text  string
		}{{x.Before, "before", "where did %s point before it came out?"}, {x.After, "after", "where does %s point as fitted now?"}} {
			if q.noted != nil {
				continue
			}
			n, err := s.askWhich(ctx, x.Mark+" ("+x.Part+"): "+fmt.Sprintf(q.text, x.Look), casework.Directions())
			if err != nil {
				return err
			}
			if n >= 0 {
				if err := note(x, q.when, casework.Directions()[n]); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// settled refuses what differs or is not noted, unless it is said to be meant.
func (w *Ways) settled(ctx context.Context, s *session, id, repair string) error {
	list, err := s.opened.Polarised(ctx, id, repair)
	if err != nil || w.Meant {
		return err
	}
	wrong, open := casework.Unsettled(list)
	why, next := "", ""
	switch {
	case len(wrong) > 0:
		why, next = strings.Join(wrong, "; "), "do not power it: look at the board again and put the entry right with --was or --sits, or say --meant if it is meant so"
	case len(open) > 0:
		why = "it is not noted which way round " + strings.Join(open, ", ") + " was and is"
		next = fmt.Sprintf("say it with --was %s and --sits %[1]s, or with --meant that it cannot be noted", shell.Quote(open[0]+"=up"))
	default:
		return nil
	}
	if s.asks() {
		(&page{w: s.Stderr}).para("warning: ", why)
		yes, err := s.ask(ctx, "write the repair down all the same (yes or no)? ")
		if err != nil || yes == "yes" {
			return err
		}
	}
	return &casework.Error{Code: casework.BadInput, Text: why, Next: next}
}
