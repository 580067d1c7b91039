package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/label"
)

// shelfLabelsCmd writes labels with QR codes, as a page to print.
type shelfLabelsCmd struct {
	File   string   `arg:"" optional:""`
	For    string   `name:"for" default:"places"`
	Words  string   `name:"words"`
	Place  string   `name:"place"`
	Own    []string `name:"own" sep:"none"`
	Sheet  string   `name:"sheet" default:"3x8"`
	First  int      `name:"first" default:"1"`
	Margin float64  `name:"margin" default:"8"`
	Link   string   `name:"link"`
}

// labelsMade is what stands on the labels, and the page.
type labelsMade struct {
	Labels []casework.LabelText `json:"labels"`
	Sheets int                  `json:"sheets"`
	File   string               `json:"file"` // "" if it was not written to one
	HTML   string               `json:"html"` // "" if it was
}

func (c *shelfLabelsCmd) run(ctx context.Context, s *session) (answer, error) {
	paper := label.Paper{Width: 210, Height: 297, Margin: c.Margin, Used: c.First - 1}
	if n, err := fmt.Sscanf(c.Sheet+" .", "%dx%d .", &paper.Columns, &paper.Rows); n != 2 || err != nil {
		return nil, &usageError{text: fmt.Sprintf("--sheet %q cannot be read", c.Sheet), next: "type columns and rows of the sheet: --sheet 3x8"}
	}
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	if len(c.Own) > 0 {
		c.For = casework.LabelOwn
	}
	for i, own := range c.Own {
		c.Own[i] = strings.Join(strings.Fields(own), " ") // each is one label
	}
	a := &labelsMade{}
	if a.Labels, err = b.Labels(ctx, casework.LabelAsk{What: c.For, Text: c.Words, Place: c.Place, Own: strings.Join(c.Own, "\n")}); err != nil {
		return nil, err
	}
	var list []label.Label
	for _, t := range a.Labels {
		l := label.Label{Code: t.Words, Title: t.Title, Lines: slices.Clone(t.Lines)}
		if c.Link != "" {
			l.Code = strings.TrimSuffix(c.Link, "/") + t.Path
		}
		list = append(list, l)
	}
	sheets, err := label.Sheets(list, paper)
	if err != nil {
		return nil, &casework.Error{Code: casework.BadInput, Text: err.Error(), Next: "take another --sheet, --first or --margin, or leave --link out", Err: err}
	}
	a.Sheets = len(sheets)
	page := "<!doctype html>\n<html lang=\"en\"><meta charset=\"utf-8\"><title>Labels</title>\n<style>@page { size: A4; margin: 0 } body { margin: 0 } svg { display: block; width: 210mm; height: 297mm; break-after: page }</style>\n" + strings.Join(sheets, "\n") + "\n</html>\n"
	if c.File == "" {
		a.HTML = page
		return a, nil
	}
	a.File = c.File
	return a, writeNew(c.File, []byte(page))
}

func (a *labelsMade) text(p *page) {
	if a.File == "" {
		fmt.Fprint(p.w, a.HTML)
		return
	}
	p.para("", fmt.Sprintf("written: %s, %s on %s; print it at 100 %%, without margins", a.File, plural(len(a.Labels), "label", "labels"), plural(a.Sheets, "sheet", "sheets")))
}
