package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/notedesk"
)

// noteAssembleCmd writes the beginning of a note from a few answers.
type noteAssembleCmd struct {
	Title    []string `arg:"" optional:""`
	Power    string   `name:"power"`
	Has      []string `name:"has"`
	Opening  string   `name:"opening"`
	Minutes  float64  `name:"minutes"`
	Worth    float64  `name:"worth"`
	Category string   `name:"category"`
	Save     bool     `name:"save"`
	Replace  bool     `name:"replace"`
}

// assembled is a note that was put together.
type assembled struct {
	ID    string `json:"id"`             // of the device
	Title string `json:"title"`          // what it is called
	YAML  string `json:"yaml"`           // the note
	File  string `json:"file,omitempty"` // where it was saved, in the folder of your own notes
}

func (c *noteAssembleCmd) run(ctx context.Context, s *session) (answer, error) {
	a, err := c.answers(ctx, s)
	if err != nil {
		return nil, err
	}
	id, text, err := notedesk.Assemble(a)
	if err != nil {
		return nil, err
	}
	out := &assembled{ID: id, Title: a.Title, YAML: string(text)}
	if !c.Save {
		return out, nil
	}
	desk, err := s.writingDesk(ctx)
	if err != nil {
		return nil, err
	}
	saved, err := desk.Save(ctx, text, "")
	var taken *notedesk.Taken
	if errors.As(err, &taken) {
		saved, err = c.over(ctx, s, desk, text, taken, err)
	}
	if err != nil {
		return nil, err
	}
	out.File = saved.File
	return out, nil
}

// over replaces a note that is there, if that is wanted.
func (c *noteAssembleCmd) over(ctx context.Context, s *session, desk *notedesk.Desk, text []byte, taken *notedesk.Taken, err error) (notedesk.Saved, error) {
	if !c.Replace {
		if !s.asks() {
			return notedesk.Saved{}, &casework.Error{Code: casework.BadInput, Text: taken.Error(), Next: "give it another name, or add --replace", Err: err}
		}
		yes, err := s.askYes(ctx, fmt.Sprintf("%s. Replace it?", taken.Error()))
		if err != nil {
			return notedesk.Saved{}, err
		}
		if !yes {
			return notedesk.Saved{}, &casework.Error{Code: casework.BadInput, Text: "nothing was saved", Next: "give it another name"}
		}
	}
	return desk.Save(ctx, text, taken.Mark)
}

// answers are those of the flags; at a terminal, what is missing is asked.
func (c *noteAssembleCmd) answers(ctx context.Context, s *session) (notedesk.Answers, error) {
	a := notedesk.Answers{Title: strings.Join(c.Title, " "), Power: notedesk.Power(c.Power), Opening: c.Opening, OpenMinutes: c.Minutes, Worth: c.Worth, Category: c.Category}
	all := notedesk.Features()
	var names []string
	for _, f := range all {
		names = append(names, f.ID)
	}
	for _, h := range c.Has {
		found := false
		for _, f := range all {
			if strings.EqualFold(strings.TrimSpace(h), f.ID) {
				*f.Of(&a), found = true, true
			}
		}
		if !found {
			return a, &usageError{text: fmt.Sprintf("--has %q is not known", h), next: "take of " + strings.Join(names, ", ")}
		}
	}
	if s.asks() {
		return a, c.askRest(ctx, s, &a)
	}
	if c.Power == "" {
		return a, &usageError{text: "it is not said what it runs on", next: "add --power mains, adapter, rechargeable or cells"}
	}
	if len(c.Has) == 0 {
		return a, &usageError{text: "it is not said what it has", next: "add --has and of " + strings.Join(names, ", ")}
	}
	return a, nil
}

// askRest asks what the flags do not say.
func (c *noteAssembleCmd) askRest(ctx context.Context, s *session, a *notedesk.Answers) error {
	var err error
	if a.Title == "" {
		if a.Title, err = s.ask(ctx, "What is it called? "); err != nil {
			return err
		}
	}
	if c.Power == "" {
		var titles []string
		for _, p := range notedesk.Powers() {
			titles = append(titles, p.Title)
		}
		i, err := s.askWhich(ctx, "What does it run on?", titles)
		if err != nil {
			return err
		}
		if i < 0 {
			return &usageError{text: "it is not said what it runs on", next: "start again when you know"}
		}
		a.Power = notedesk.Power(notedesk.Powers()[i].ID)
	}
	if len(c.Has) == 0 {
		for _, f := range notedesk.Features() {
			if *f.Of(a), err = s.askYes(ctx, f.Ask); err != nil {
				return err
			}
		}
	}
	if a.Opening == "" {
		if a.Opening, err = s.ask(ctx, "How is it opened? (Enter if you do not know) "); err != nil {
			return err
		}
	}
	return nil
}

// askYes asks a question of yes or no; Enter is no.
func (s *session) askYes(ctx context.Context, question string) (bool, error) {
	for {
		text, err := s.ask(ctx, "%s (y/N) ", question)
		if err != nil {
			return false, err
		}
		switch strings.ToLower(text) {
		case "y", "yes":
			return true, nil
		case "n", "no", "":
			return false, nil
		}
	}
}

func (a *assembled) text(p *page) {
	if a.File == "" {
		fmt.Fprint(p.w, a.YAML)
		return
	}
	p.para("", "saved as "+a.File+" among your own notes")
	p.line("try: " + line([]string{"note", "show", a.ID}))
	p.line("try: " + line([]string{"take-in", a.ID}))
}
