package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
)

// findCmd finds cases by words, or like another.
type findCmd struct {
	Words []string `arg:"" optional:""`
	Like  bool     `name:"like"`
}

// foundCases is what was found.
type foundCases struct {
	Text string         `json:"text"`           // what was looked for
	Like string         `json:"like,omitempty"` // the case that others were to be like
	Hits []casework.Hit `json:"hits"`
}

func (c *findCmd) run(ctx context.Context, s *session) (answer, error) {
	a := &foundCases{Text: strings.Join(c.Words, " ")}
	if c.Like {
		id, err := s.find(ctx, a.Text, true)
		if err != nil {
			return nil, err
		}
		a.Like = id
		a.Hits, err = s.opened.Like(ctx, id)
		return a, err
	}
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	a.Hits, err = b.Search(ctx, a.Text)
	return a, err
}

func (a *foundCases) no() bool { return len(a.Hits) == 0 }

func (a *foundCases) text(p *page) {
	if len(a.Hits) == 0 {
		p.line("nothing fits")
	}
	for _, h := range a.Hits {
		p.head("%s  %s", h.Case, h.Title)
		state := string(h.State)
		if h.Verdict != "" {
			state += ": " + string(h.Verdict)
		}
		p.para("         ", fmt.Sprintf("%s, %s; %s", h.Kind, state, h.Why))
		if len(h.Symptoms) > 0 {
			p.para("         ", "showed: "+strings.Join(h.Symptoms, "; "))
		}
		if len(h.Was) > 0 {
			p.para("         ", "was: "+strings.Join(h.Was, "; "))
		}
	}
}
