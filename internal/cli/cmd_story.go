package cli

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/report"
)

// storyCmd writes a case up.
type storyCmd struct {
	Args  []string `arg:"" optional:""`
	Out   string   `name:"out"`
	Label bool     `name:"label"`
	Words bool     `name:"words"`
	// Private tells whose it is, and remarks marked private.
	Private bool `name:"private"`
}

// storyTold is a case written up.
type storyTold struct {
	Case    string            `json:"case"`
	Account *casework.Account `json:"account"`
	Written string            `json:"written,omitempty"` // the file
	out     string            // Markdown, if no file was named
}

func (c *storyCmd) run(ctx context.Context, s *session) (answer, error) {
	name, err := onlyCase(c.Args, "story [CASE]")
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, true)
	if err != nil {
		return nil, err
	}
	a := &storyTold{Case: id}
	if a.Account, err = s.opened.Account(ctx, id, casework.Telling{Label: c.Label, Words: c.Words, Private: c.Private}); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := c.write(ctx, s, a, &b); err != nil {
		return nil, err
	}
	if c.Out == "" {
		a.out = b.String()
		return a, nil
	}
	a.Written = c.Out
	return a, writeNew(c.Out, b.Bytes())
}

// write writes the form that the file's name asks for.
func (c *storyCmd) write(ctx context.Context, s *session, a *storyTold, b *bytes.Buffer) error {
	form := strings.ToLower(filepath.Ext(c.Out))
	if form == ".yaml" {
		v, err := s.opened.View(ctx, a.Case)
		if err != nil {
			return err
		}
		return report.Starter(b, v, a.Account)
	}
	var photos report.Photos
	if len(a.Account.Photos) > 0 {
		photos = s.opened
	}
	story, err := report.New(ctx, a.Account, photos)
	if err != nil {
		return err
	}
	switch form {
	case ".html":
		return story.HTML(b)
	case ".pdf":
		return story.PDF(b)
	case ".zip":
		return story.MarkdownZip(b)
	case ".md", "":
		return story.Markdown(b)
	}
	return &usageError{text: fmt.Sprintf("%q is no form of a story", form), next: "end the file's name in .html, .pdf, .md, .zip for Markdown with its pictures, or .yaml for the beginning of a bench note"}
}

func (a *storyTold) text(p *page) {
	if a.Written != "" {
		p.line("written: " + a.Written)
		return
	}
	for _, l := range strings.Split(strings.TrimRight(a.out, "\n"), "\n") {
		p.line(l)
	}
}
