package cli

import (
	"context"
	"fmt"
	"io"
	"strings"

	"fettler/internal/appraise"
	"fettler/internal/casework"
)

// appraiseCmd appraises devices known by words only, without opening a case.
type appraiseCmd struct {
	File     string   `arg:"" optional:""`
	Device   string   `name:"device"`
	Category string   `name:"category"`
	Age      *float64 `name:"age"`
	Symptom  []string `name:"symptom" sep:"none"`
	Found    []string `name:"found" sep:"none"`
}

// appraisals is what is likely wrong with each item, in the order given.
type appraisals struct {
	Results []appraise.Result `json:"results"`
}

func (c *appraiseCmd) run(ctx context.Context, s *session) (answer, error) {
	items, err := c.items(s)
	if err != nil {
		return nil, err
	}
	lib, err := s.notes(ctx)
	if err != nil {
		return nil, err
	}
	a := &appraisals{Results: []appraise.Result{}}
	appraiser := appraise.New(lib)
	for i, it := range items {
		r, err := appraiser.Appraise(ctx, it)
		if err != nil {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			return nil, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("item %d: %v", i+1, err), Next: "put the item right and try again", Err: err}
		}
		a.Results = append(a.Results, r)
	}
	return a, nil
}

// items are those of the file, of standard input for "-", or the one the flags describe.
func (c *appraiseCmd) items(s *session) ([]appraise.Item, error) {
	one := appraise.Item{ID: "1", Device: c.Device, Category: c.Category, AgeYears: c.Age, Symptoms: c.Symptom, Checks: c.Found}
	described := c.Device != "" || c.Category != "" || len(c.Symptom) > 0 || len(c.Found) > 0
	switch {
	case c.File == "" && described:
		return []appraise.Item{one}, nil
	case c.File == "":
		return nil, &usageError{text: "nothing says what to appraise", next: "name a file, or describe one device with flags",
			try: []string{`fettler appraise --device "bread maker" --symptom "paddle does not turn"`}}
	case described:
		return nil, &usageError{text: "there is both a file and a device", next: "name a file, or describe one device with flags"}
	case c.File == "-":
		return readItems(s.Stdin, "standard input")
	}
	f, _, err := openFile(c.File, "name a JSON list of items; fettler help appraise shows one")
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return readItems(f, c.File)
}

func readItems(r io.Reader, name string) ([]appraise.Item, error) {
	items, err := appraise.ReadItems(r)
	if err != nil {
		return nil, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("%s: %v", name, err), Next: "give a JSON list of items; fettler help appraise shows one", Err: err}
	}
	return items, nil
}

// usualClasses is how many classes of cause are shown.
const usualClasses = 5

func (a *appraisals) text(p *page) {
	for i, r := range a.Results {
		if i > 0 {
			p.gap()
		}
		var devices []string
		for _, d := range r.Devices {
			devices = append(devices, d.Title)
		}
		p.head("%s: %s", r.ID, r.Category)
		if len(devices) > 0 {
			p.para("  judged as ", strings.Join(devices, "; "))
		}
		for _, x := range r.Suspects[:min(len(r.Suspects), usualClasses)] {
			words := string(x.Class)
			if len(x.Modes) > 0 {
				words += ", such as " + x.Modes[0].Title
			}
			p.para(fmt.Sprintf("%6s  ", percent(x.Chance)), words)
		}
		for j, m := range r.Moves {
			lead := "  then: "
			if j == 0 {
				lead = "  next: "
			}
			p.para(lead, (move{Kind: m.Kind, ID: m.ID, Title: m.Title, Minutes: m.Minutes, Money: m.Price}).words(m.Currency))
			for _, c := range m.Cautions {
				p.para("    CAUTION ", c)
			}
		}
		for _, h := range r.Heard {
			if len(h.Unread) > 0 {
				p.para("  not understood: ", strings.Join(h.Unread, "; "))
			}
		}
	}
}
