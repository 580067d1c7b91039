package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/casework"
)

// stepsCmd shows the steps of taking a part off and putting one on.
type stepsCmd struct {
	Args []string `arg:"" optional:""`
}

const stepsHow = "steps [CASE] [FAMILY [PART]]"

// stepsShown is the steps of one job, or the jobs begun and the families to begin with.
type stepsShown struct {
	Case     string                  `json:"case"`
	Title    string                  `json:"title"`
	Job      *casework.ReworkJob     `json:"job"`      // the job asked for, or the only one not done
	Jobs     []casework.ReworkJob    `json:"jobs"`     // all begun
	Families []casework.ReworkFamily `json:"families"` // to begin with
}

func (c *stepsCmd) run(ctx context.Context, s *session) (answer, error) {
	args, family, part, err := familyIn(c.Args)
	if err != nil {
		return nil, err
	}
	w, err := s.board(ctx, args, stepsHow)
	if err != nil {
		return nil, err
	}
	a := &stepsShown{Case: w.Case, Title: w.Title, Jobs: w.Jobs, Families: casework.ReworkFamilies()}
	if family != "" {
		j, err := s.opened.ReworkJobOf(ctx, w.Case, family, part)
		if err != nil {
			return nil, err
		}
		a.Job = &j
		return a, nil
	}
	var open []int
	for i, j := range w.Jobs {
		if j.Next() != nil {
			open = append(open, i)
		}
	}
	if len(open) == 1 {
		a.Job = &w.Jobs[open[0]]
	}
	return a, nil
}

// familyIn finds a package family among arguments: what stands before it is the case,
// what stands after it the part.
func familyIn(args []string) (before []string, family, part string, err error) {
	ids := []string{}
	for _, f := range casework.ReworkFamilies() {
		ids = append(ids, f.ID)
	}
	at := slices.IndexFunc(args, func(a string) bool { return slices.Contains(ids, strings.ToLower(a)) })
	switch {
	case at < 0 && len(args) > 1:
		e := &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("there is no package family among %q", strings.Join(args, " ")), Next: "take one of " + strings.Join(ids, ", ")}
		for _, a := range args {
			if n := nearest(a, ids); n != "" {
				e.Next = "did you mean " + n + "?"
			}
		}
		return nil, "", "", e
	case at < 0:
		return args, "", "", nil
	case at > 1 || len(args)-at > 2:
		return nil, "", "", &usageError{text: "there are words too many", next: "type it as: fettler " + stepsHow + "; put quotes around what belongs together"}
	case at+1 < len(args):
		part = args[at+1]
	}
	return args[:at], strings.ToLower(args[at]), part, nil
}

func (a *stepsShown) no() bool { return false }

func (a *stepsShown) text(p *page) {
	if a.Job == nil {
		a.list(p)
		return
	}
	j := a.Job
	what := lower(j.Title)
	if j.Part != "" {
		what = j.Part + ": " + what
	}
	p.head("%s (%s): %s", a.Title, a.Case, what)
	p.para("  ", fmt.Sprintf("%d of %d done. Reminders, not training: local rules and the limits of your licence come first.", j.Done, len(j.Steps)))
	for _, x := range j.Polar {
		if x.Before == nil {
			p.para("  ! ", fmt.Sprintf("before %s comes off: note where %s points: %s", x.Mark, x.Look, line([]string{"way", x.Mark, "up"})))
		}
		if x.Mismatch != "" {
			p.para("  ! ", x.Mismatch+". Do not power it until that is looked at")
		}
	}
	next := j.Next()
	for _, x := range j.Steps {
		mark := "[ ] "
		switch {
		case x.Done:
			mark = "[x] "
		case x.ID == next.ID:
			mark = "[>] "
		}
		p.gap()
		p.para(mark, x.ID+": "+x.Title)
		if x.Done {
			continue
		}
		for _, h := range x.Cautions {
			p.para("    ! ", h.Kind+": "+h.Text)
		}
		p.para("    ", x.How)
		if len(x.With) > 0 {
			p.para("    ", "with: "+strings.Join(x.With, ", "))
		}
	}
	p.gap()
	if next == nil {
		p.para("", "All done. First power: fettler power-up --watts N")
		return
	}
	tick := []string{"tick", next.ID}
	if j.Done == 0 {
		tick = append(tick, "--family", j.Family)
		if j.Part != "" {
			tick = append(tick, "--part", j.Part)
		}
	}
	p.para("", "When it is done: "+line(tick))
}

// list is the jobs begun, and the families.
func (a *stepsShown) list(p *page) {
	p.head("%s (%s): steps at the board", a.Title, a.Case)
	for _, j := range a.Jobs {
		p.para("  ", jobWords(j))
		p.line("    " + line(strings.Fields("steps "+j.Family)) + spaced(j.Part))
	}
	p.gap()
	p.para("", "Begin one with its family and the part, as in: fettler steps gull-wing U3")
	for _, f := range a.Families {
		p.para(fmt.Sprintf("  %-10s ", f.ID), f.Title+": "+f.About)
	}
}

func spaced(part string) string {
	if part == "" {
		return ""
	}
	return strings.TrimPrefix(line([]string{part}), "fettler")
}

// tickCmd ticks a step off, the next one unless it is named.
type tickCmd struct {
	Args   []string `arg:"" optional:""`
	Family string   `name:"family"`
	Part   string   `name:"part"`
	Not    bool     `name:"not"`
}

const tickHow = "tick [CASE] [STEP] [--family FAMILY] [--part PART]"

func (c *tickCmd) run(ctx context.Context, s *session) (answer, error) {
	if len(c.Args) == 1 && !isStep(c.Args[0]) { // a case alone: its next step
		if _, err := s.find(ctx, c.Args[0], false); err != nil {
			return nil, &usageError{text: fmt.Sprintf("%q is neither a step nor a case", c.Args[0]), next: "fettler steps shows the steps by name"}
		}
		c.Args = []string{c.Args[0], ""}
	}
	a, err := s.do(ctx, c)
	d, ok := a.(*done)
	if err != nil || !ok {
		return a, err
	}
	w, err := s.opened.BoardWork(ctx, d.Case)
	if err != nil {
		return nil, err
	}
	if j := lastJob(w.Jobs, "", ""); j != nil {
		d.Job = j
	}
	return d, nil
}

// isStep tells whether some family has a step of that name.
func isStep(word string) bool {
	for _, f := range casework.ReworkFamilies() {
		if j, err := casework.NewReworkJob(f.ID, ""); err == nil && slices.ContainsFunc(j.Steps, func(x casework.ReworkStep) bool { return x.ID == word }) {
			return true
		}
	}
	return false
}

// words are the case and the step.
func (c *tickCmd) words() (name, step string, err error) {
	if len(c.Args) == 0 {
		return "", "", nil
	}
	return caseThen(c.Args, "step", tickHow)
}

func (c *tickCmd) aim() (string, error) {
	name, _, err := c.words()
	return name, err
}

func (c *tickCmd) deed(ctx context.Context, s *session, look lookup) (casework.Deed, error) {
	_, step, err := c.words()
	if err != nil {
		return nil, err
	}
	d := casework.Stepping{By: s.by(), Family: c.Family, Part: c.Part, Step: step, Undone: c.Not}
	if d.Family != "" && step != "" {
		return d, nil
	}
	v, err := look()
	if err != nil {
		return nil, err
	}
	w, err := s.opened.BoardWork(ctx, v.Header.Case)
	if err != nil {
		return nil, err
	}
	j := lastJob(w.Jobs, c.Family, c.Part)
	if j == nil && d.Family != "" {
		first, err := s.opened.ReworkJobOf(ctx, w.Case, d.Family, d.Part)
		if err != nil {
			return nil, err
		}
		j = &first
	}
	if j == nil {
		return nil, &tryError{&casework.Error{Code: casework.BadInput, Text: "no job at the board is begun", Next: "name the package family and the part with the first step"}, []string{"fettler steps"}}
	}
	d.Family, d.Part = j.Family, j.Part
	if d.Step == "" {
		switch n := j.Next(); {
		case c.Not:
			return nil, &usageError{text: "it is not said which step is not done after all", next: "type it as: fettler tick STEP --not"}
		case n == nil:
			return nil, &casework.Error{Code: casework.BadInput, Text: "all steps of this job are done", Next: "begin another with fettler steps"}
		default:
			d.Step = n.ID
		}
	}
	return d, nil
}

// lastJob is the job worked on last, of a family and a part if they are named.
func lastJob(jobs []casework.ReworkJob, family, part string) *casework.ReworkJob {
	var last *casework.ReworkJob
	for i := range jobs {
		j := &jobs[i]
		if (family == "" || j.Family == family) && (part == "" || j.Part == part) && (last == nil || j.Last >= last.Last) {
			last = j
		}
	}
	return last
}
