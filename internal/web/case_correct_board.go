package web

import (
	"context"
	"net/http"
	"strconv"
	"strings"

	"fettler/internal/casework"
)

// An amendPage is the form of an event of work at the board once more.
type amendPage struct {
	Base
	V      *casework.View
	Path   string
	Action string
	Heading,
	About string
	Fields []AmendField
}

// An AmendField is a field of that form.
type AmendField struct {
	Name, Label, Hint, Value string
	Options                  []AmendOption // to choose from; none: to be typed
	Figure, Need             bool
}

// An AmendOption is one of several to choose from.
type AmendOption struct{ Value, Title string }

// options lists words as they are, with blank for none of them if it is not "".
func options(list []string, blank string) []AmendOption {
	var out []AmendOption
	if blank != "" {
		out = append(out, AmendOption{"", blank})
	}
	for _, x := range list {
		out = append(out, AmendOption{x, x})
	}
	return out
}

func sortOptions() []AmendOption {
	out := []AmendOption{{"", "not said"}}
	for _, s := range casework.PolarSorts() {
		out = append(out, AmendOption{s.Sort, s.Sort + ": " + s.Mark})
	}
	return out
}

func stageOptions(blank string) []AmendOption {
	var out []AmendOption
	if blank != "" {
		out = append(out, AmendOption{"", blank})
	}
	return append(out, AmendOption{"before", "as it was before the repair"}, AmendOption{"after", "as it is after the repair"})
}

// boardKind tells the kinds of event that correctBoard has a form for.
func boardKind(k casework.Kind) bool {
	switch k {
	case casework.KindStepped, casework.KindRemoved, casework.KindRefitted, casework.KindOriented, casework.KindTagged, casework.KindPhotographed:
		return true
	}
	return false
}

// correctBoard is the form for an event of work at the board.
func (s *Server) correctBoard(ctx context.Context, b Base, v *casework.View, e *casework.Entry, action string) (*correction, error) {
	p := &amendPage{Base: b, V: v, Path: casePath(v.Header.Case), Action: action}
	var deed func(r *http.Request) (casework.Deed, error)
	var err error
	switch e.Kind {
	case casework.KindStepped:
		deed, err = amend(s, ctx, p, e, amendStepped)
	case casework.KindRemoved:
		deed, err = amend(s, ctx, p, e, amendRemoved)
	case casework.KindRefitted:
		deed, err = amend(s, ctx, p, e, amendRefitted)
	case casework.KindOriented:
		deed, err = amend(s, ctx, p, e, amendOriented)
	case casework.KindTagged:
		deed, err = amend(s, ctx, p, e, amendTagged)
	default:
		deed, err = amend(s, ctx, p, e, amendPhotographed)
	}
	if err != nil {
		return nil, err
	}
	return &correction{"amend", p, &p.Base, func(r *http.Request) (casework.Deed, error) {
		for i := range p.Fields {
			p.Fields[i].Value = strings.TrimSpace(r.PostFormValue(p.Fields[i].Name))
		}
		return deed(r)
	}}, nil
}

// amend reads what an event says and lets form lay it out.
func amend[T any](s *Server, ctx context.Context, p *amendPage, e *casework.Entry, form func(p *amendPage, was T) func(r *http.Request) (casework.Deed, error)) (func(r *http.Request) (casework.Deed, error), error) {
	var was T
	if err := s.payload(ctx, p.V, e.Event, &was); err != nil {
		return nil, err
	}
	return form(p, was), nil
}

// howMany reads a number of things, 1 or more.
func howMany(r *http.Request, key string) (int, error) {
	text := strings.TrimSpace(r.PostFormValue(key))
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, refusal("“"+clip(text)+"” is no number of things", "write it in digits, 1 or more")
	}
	return n, nil
}

func amendStepped(p *amendPage, was casework.Stepped) func(r *http.Request) (casework.Deed, error) {
	j, _ := casework.NewReworkJob(was.Family, was.Part) // a family no longer known has no steps to choose from
	steps := AmendField{Name: "step", Label: "Which step", Value: was.Step}
	for _, x := range j.Steps {
		steps.Options = append(steps.Options, AmendOption{x.ID, x.Title})
	}
	done := "yes"
	if !was.Done {
		done = "no"
	}
	p.Heading, p.About = "A step of the work at the board", j.Title
	p.Fields = []AmendField{{Name: "part", Label: "Which part", Value: was.Part, Hint: "designator"}, steps,
		{Name: "done", Label: "Is it done?", Value: done, Options: []AmendOption{{"yes", "done"}, {"no", "not done after all"}}}}
	return func(r *http.Request) (casework.Deed, error) {
		return casework.Stepping{By: by(r), Family: was.Family, Part: strings.TrimSpace(r.PostFormValue("part")), Step: r.PostFormValue("step"), Undone: r.PostFormValue("done") == "no"}, nil
	}
}

func amendRemoved(p *amendPage, was casework.Removed) func(r *http.Request) (casework.Deed, error) {
	p.Heading, p.About = "Taken off", "What is written here is what every page asks back before power."
	p.Fields = []AmendField{{Name: "sort", Label: "What came off", Value: was.Sort, Options: options(casework.RemovedSorts(), "")},
		{Name: "count", Label: "How many", Value: strconv.Itoa(was.Count), Figure: true, Need: true},
		{Name: "what", Label: "Which", Value: was.What, Need: true}, {Name: "where", Label: "Kept where", Value: was.Where}}
	return func(r *http.Request) (casework.Deed, error) {
		n, err := howMany(r, "count")
		return casework.Removing{By: by(r), Sort: r.PostFormValue("sort"), What: r.PostFormValue("what"), Where: r.PostFormValue("where"), Count: n}, err
	}
}

func amendRefitted(p *amendPage, was casework.Refitted) func(r *http.Request) (casework.Deed, error) {
	p.Heading, p.About = "Back in", "Of what event "+strconv.Itoa(was.Removed)+" took off."
	p.Fields = []AmendField{{Name: "count", Label: "How many are back", Value: strconv.Itoa(was.Count), Figure: true, Need: true}}
	return func(r *http.Request) (casework.Deed, error) {
		n, err := howMany(r, "count")
		return casework.Refitting{By: by(r), Removed: was.Removed, Count: n}, err
	}
}

func amendOriented(p *amendPage, was casework.Oriented) func(r *http.Request) (casework.Deed, error) {
	p.Heading, p.About = "Which way round it sits", "As seen on the board with the same edge up, before and after."
	p.Fields = []AmendField{{Name: "mark", Label: "Designator", Value: was.Mark, Need: true}, {Name: "sort", Label: "Polarised as", Value: was.Sort, Options: sortOptions()},
		{Name: "when", Label: "When", Value: was.When, Options: stageOptions("")}, {Name: "points", Label: "Its mark points", Value: was.Points, Options: options(casework.Directions(), "")},
		{Name: "side", Label: "Side of the board", Value: was.Side, Options: options(casework.BoardSides(), "not said")},
		{Name: "words", Label: "Landmark", Value: was.Words, Hint: "towards the screw hole"}}
	return func(r *http.Request) (casework.Deed, error) {
		d := casework.Orienting{By: by(r)}
		d.Oriented = casework.Oriented{Mark: r.PostFormValue("mark"), Sort: r.PostFormValue("sort"), Side: r.PostFormValue("side"),
			When: r.PostFormValue("when"), Points: r.PostFormValue("points"), Words: r.PostFormValue("words")}
		return d, nil
	}
}

func amendTagged(p *amendPage, was casework.Tagged) func(r *http.Request) (casework.Deed, error) {
	p.Heading, p.About = "A designator on a picture", "To move it, tapping it on the picture once more is easier: the later tap counts."
	p.Fields = []AmendField{{Name: "mark", Label: "Designator", Value: was.Mark, Need: true}, {Name: "sort", Label: "Polarised as", Value: was.Sort, Options: sortOptions()},
		{Name: "points", Label: "Its mark points", Value: was.Points, Options: options(casework.Directions(), "not noted")}, {Name: "words", Label: "Landmark", Value: was.Words, Hint: "towards the screw hole"},
		{Name: "across", Label: "Across, % from the left", Value: figure(round3(100 * was.X)), Figure: true, Need: true}, {Name: "down", Label: "Down, % from the top", Value: figure(round3(100 * was.Y)), Figure: true, Need: true}}
	return func(r *http.Request) (casework.Deed, error) {
		d := casework.Tagging{By: by(r)}
		x, err := orZero(r, "across", "the place across")
		if err != nil {
			return nil, err
		}
		y, err := orZero(r, "down", "the place down")
		d.Tagged = casework.Tagged{Photo: was.Photo, Mark: r.PostFormValue("mark"), Sort: r.PostFormValue("sort"), X: x / 100, Y: y / 100, Points: r.PostFormValue("points"), Words: r.PostFormValue("words")}
		return d, err
	}
}

func amendPhotographed(p *amendPage, was casework.Photographed) func(r *http.Request) (casework.Deed, error) {
	p.Heading, p.About = "What the picture shows", "The picture itself stays; to be rid of it, undo it."
	p.Fields = []AmendField{{Name: "caption", Label: "What it shows", Value: was.Caption}, {Name: "side", Label: "Side of the board", Value: was.Side, Options: options(casework.BoardSides(), "not said")},
		{Name: "stage", Label: "When", Value: was.Stage, Options: stageOptions("not said")}}
	return func(r *http.Request) (casework.Deed, error) {
		return casework.Photographing{By: by(r), Hash: was.Hash, Thumb: was.Thumb, Width: was.Width, Height: was.Height, About: was.About,
			Caption: r.PostFormValue("caption"), Side: r.PostFormValue("side"), Stage: r.PostFormValue("stage")}, nil
	}
}
