package report

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/quantity"
)

// A Story is an account in words, ready to be set.
type Story struct {
	Title    string
	Lead     string   // one sentence: what it was and how it ended
	Facts    []string // device, age, dates
	Invented bool
	Cautions []string
	Sections []Section
	Pictures []Picture
	Missing  int // pictures that could not be read
	Foot     string
}

// A Section is a heading with paragraphs, a list, more paragraphs, or steps.
type Section struct {
	Title string
	Text  []string
	List  []string
	After []string
	Steps []Step
}

// A Step is one thing that was done.
type Step struct {
	Title    string
	Lines    []Line
	Cautions []string
}

// A Line is a label and what it says.
type Line struct{ Name, Text string }

// A Picture is one photo, JPEG, its marks drawn on it.
type Picture struct {
	Caption string
	Marks   []string // what is marked on it, in words
	JPEG    []byte
	W, H    int
}

// Alt says what is to be seen, for whoever does not see it.
func (p Picture) Alt() string {
	if len(p.Marks) == 0 {
		return p.Caption
	}
	return p.Caption + "; marked on it: " + strings.Join(p.Marks, "; ")
}

// Photos gives pictures by their names; *casework.Bench is one.
type Photos interface {
	Photo(ctx context.Context, hash string) ([]byte, error)
}

// New puts an account into words. Without photos there are no pictures.
func New(ctx context.Context, a *casework.Account, photos Photos) (*Story, error) {
	s := &Story{Title: a.Title, Invented: a.Demo, Lead: lead(a), Facts: facts(a), Foot: "Written down at the bench. The cautions are reminders, not training: local rules and the limits of your licence come first."}
	for _, h := range a.Hazards {
		s.Cautions = append(s.Cautions, hazard(h))
	}
	s.Sections = sections(a)
	if photos == nil {
		return s, nil
	}
	for _, p := range a.Photos {
		data, err := photos.Photo(ctx, p.Hash)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		pic := Picture{Caption: caption(p), W: p.Width, H: p.Height}
		var marks []casework.TagInfo
		for _, m := range a.Marks {
			if m.Photo == p.Hash {
				marks, pic.Marks = append(marks, m.TagInfo), append(pic.Marks, m.Say)
			}
		}
		if err == nil {
			pic.JPEG, err = drawMarks(data, marks)
		}
		if err != nil {
			s.Missing++
			continue
		}
		s.Pictures = append(s.Pictures, pic)
	}
	return s, nil
}

func caption(p casework.PhotoInfo) string {
	var parts []string
	if p.Caption != "" {
		parts = append(parts, p.Caption)
	}
	if p.Side != "" {
		parts = append(parts, p.Side+" side")
	}
	if p.Stage != "" {
		parts = append(parts, p.Stage+" the repair")
	}
	if len(parts) == 0 {
		return "picture"
	}
	return strings.Join(parts, ", ")
}

func hazard(h casework.Caution) string {
	name := capital(h.Kind)
	if h.Volts > 0 {
		name += fmt.Sprintf(", up to %g V", h.Volts)
	}
	return name + ". " + h.Text
}

func lead(a *casework.Account) string {
	was := "It is not known which fault it was."
	if len(a.Was) > 0 {
		was = "It was: " + a.Was[0].Title
		if !a.Stated {
			was += " (" + percent(a.Was[0].Now) + ")"
		}
		was += "."
	}
	switch a.Verdict {
	case casework.Fixed:
		if a.Untested != "" {
			return "Fixed. " + sentence(a.Untested) + " " + was
		}
		return "Fixed. " + was
	case "":
		return "Not finished yet."
	}
	text := capital(string(a.Verdict)) + "."
	if a.Barrier != "" {
		text += " What stood in the way: " + lowered(a.Barrier) + "."
	}
	return text + " " + was
}

func facts(a *casework.Account) []string {
	out := []string{a.Kind}
	if a.Title == a.Kind {
		out = nil
	}
	if a.Age > 0 {
		out = append(out, fmt.Sprintf("%g years old", a.Age))
	}
	if a.Owner != "" {
		out = append(out, "belongs to "+a.Owner)
	}
	day := a.Began.Local().Format("2 January 2006") // the days at the bench
	if end := a.Ended.Local().Format("2 January 2006"); !a.Ended.IsZero() && end != day {
		day += " to " + end
	}
	return append(out, day)
}

func sections(a *casework.Account) []Section {
	var out []Section
	add := func(s Section) {
		if len(s.Text)+len(s.List)+len(s.After)+len(s.Steps) > 0 {
			out = append(out, s)
		}
	}
	add(symptoms(a))
	add(Section{Title: "In their own words", List: a.Words})
	add(Section{Title: "What was checked and done", Steps: steps(a)})
	add(what(a))
	add(parts(a))
	add(proof(a))
	add(cost(a))
	if a.Remark != "" {
		add(Section{Title: "For the next one of its kind", Text: []string{a.Remark}})
	}
	return out
}

func symptoms(a *casework.Account) Section {
	s := Section{Title: "What it did"}
	for _, x := range a.Symptoms {
		s.List = append(s.List, capital(x))
	}
	if len(a.NotThere) > 0 {
		s.After = append(s.After, "Looked for and not there: "+strings.Join(a.NotThere, "; ")+".")
	}
	if len(a.First) > 0 {
		s.After = append(s.After, "What that made likely: "+chances(a.First)+".")
	}
	return s
}

func steps(a *casework.Account) []Step {
	var out []Step
	for _, x := range a.Steps {
		s := Step{Title: x.Title}
		if x.Old {
			s.Title = "The old part: " + x.Title
		}
		line := func(name, text string) {
			if text != "" {
				s.Lines = append(s.Lines, Line{name, sentence(text)})
			}
		}
		line("Why", x.Why)
		if x.Open != "" && !x.Old {
			line("Opened", x.Open)
		}
		line("How", x.How)
		line("With", strings.Join(x.With, ", "))
		line("Found", strings.Join(x.Found, "; "))
		line("That meant", x.Meant)
		line("Parts", items(x.Parts, a.Currency))
		took := minutes(x.Minutes)
		if x.Minutes == 0 {
			took = ""
		}
		if x.Money != 0 {
			took = strings.Trim(took+", "+money(x.Money, a.Currency), ", ")
		}
		line("Took", took)
		for _, c := range x.Cautions {
			s.Cautions = append(s.Cautions, hazard(c))
		}
		out = append(out, s)
	}
	return out
}

func items(list []casework.Item, currency string) string {
	var out []string
	for _, i := range list {
		text := i.What
		if i.Count > 1 {
			text = fmt.Sprintf("%d × %s", i.Count, i.What)
		}
		if i.Price > 0 {
			text += ", " + money(i.Price, currency)
			if i.Count > 1 {
				text += " each"
			}
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

func what(a *casework.Account) Section {
	s := Section{Title: "What it was"}
	for _, x := range a.Was {
		line := capital(x.Title)
		if a.Stated {
			line += ", as the repairer says"
		} else {
			line += ": " + percent(x.Now)
		}
		s.List = append(s.List, line)
	}
	if a.Unknown >= 0.02 && !a.Stated {
		s.List = append(s.List, "A fault the bench note does not know: "+percent(a.Unknown))
	}
	if len(s.List) > 0 && !a.Stated {
		s.Text = []string{"All evidence taken together: what showed before and after each repair, and tests of parts taken out."}
	}
	return s
}

// parts gathers what was bought for all repairs, with its specification.
func parts(a *casework.Account) Section {
	s := Section{Title: "Parts"}
	for _, x := range a.Steps {
		for _, i := range x.Parts {
			s.List = append(s.List, fmt.Sprintf("%s: %s", capital(x.Title), items([]casework.Item{i}, a.Currency)))
		}
	}
	if len(s.List) > 0 {
		s.Text = []string{"Check ratings, size and pinning against the part that comes out: another edition of the device may have others."}
	}
	return s
}

func proof(a *casework.Account) Section {
	s := Section{Title: "How we know it is fixed"}
	if a.Proof != "" {
		s.Text = append(s.Text, sentence(a.Proof))
	}
	for _, t := range a.Tried {
		line := t.Title + ": " + t.Result
		if t.Words != "" {
			line += ", " + t.Words
		}
		s.List = append(s.List, line)
	}
	return s
}

func cost(a *casework.Account) Section {
	s := Section{Title: "What it took"}
	line := fmt.Sprintf("%s and %s of work", money(a.Saved.Spent, a.Currency), minutes(a.Saved.Minutes))
	if a.Saved.Worth > 0 {
		line += fmt.Sprintf("; worth %s, so %s saved", money(a.Saved.Worth, a.Currency), money(a.Saved.Net, a.Currency))
	}
	s.Text = append(s.Text, line+".")
	if a.Kg > 0 {
		s.Text = append(s.Text, fmt.Sprintf("%g kg kept from the bin.", a.Kg))
	}
	return s
}

func chances(list []casework.Chance) string {
	var out []string
	for _, c := range list {
		out = append(out, fmt.Sprintf("%s %s", c.Title, percent(c.Now)))
	}
	return strings.Join(out, ", ")
}

func money(v float64, currency string) string { return quantity.Format(v, currency, 6) }

func minutes(m float64) string {
	n := int(m + 0.5)
	switch {
	case n < 100:
		return fmt.Sprintf("%d min", n)
	case n%60 == 0:
		return fmt.Sprintf("%d h", n/60)
	}
	return fmt.Sprintf("%d h %d min", n/60, n%60)
}
