package cli

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/shelf"
)

// shelfCmd groups what one does with the shelf.
type shelfCmd struct {
	List   shelfListCmd   `cmd:"" name:"list"`
	Add    shelfAddCmd    `cmd:"" name:"add"`
	Take   shelfTakeCmd   `cmd:"" name:"take"`
	Move   shelfMoveCmd   `cmd:"" name:"move"`
	Count  shelfCountCmd  `cmd:"" name:"count"`
	Is     shelfIsCmd     `cmd:"" name:"is"`
	Undo   shelfUndoCmd   `cmd:"" name:"undo"`
	Log    shelfLogCmd    `cmd:"" name:"log"`
	Import shelfImportCmd `cmd:"" name:"import"`
	Export shelfExportCmd `cmd:"" name:"export"`
	Labels shelfLabelsCmd `cmd:"" name:"labels"`
}

// shelfListCmd shows the shelf.
type shelfListCmd struct {
	Words []string `arg:"" optional:""`
	Place string   `name:"place"`
	Gone  bool     `name:"gone"`
	Page  int      `name:"page"`
}

// shelfShown is a page of the shelf.
type shelfShown struct{ shelf.List }

func (c *shelfListCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	p, err := b.Shelf(ctx, shelf.Ask{Text: strings.Join(c.Words, " "), Place: c.Place, Gone: c.Gone, Page: c.Page})
	if err != nil {
		return nil, err
	}
	return &shelfShown{*p}, nil
}

func (a *shelfShown) no() bool { return a.Total == 0 }

func (a *shelfShown) text(p *page) {
	if a.Total == 0 {
		p.line("nothing there")
		return
	}
	for _, l := range a.Lines {
		where := l.Place
		if l.From != "new" {
			where = strings.TrimPrefix(where+", "+l.From, ", ")
		}
		if l.Board != "" {
			where += ": " + l.Board
		}
		if where != "" {
			where = "; " + where
		}
		p.para(fmt.Sprintf("%-7s %5d  ", l.ID, l.Count), l.Name+where)
	}
	if a.Pages > 1 {
		p.line(fmt.Sprintf("page %d of %d, %d sorts in all", a.Page, a.Pages, a.Total))
	}
}

// shelfWritten is what was written down about the shelf.
type shelfWritten struct {
	casework.ShelfReceipt
}

func (a *shelfWritten) text(p *page) {
	if a.Line != "" {
		p.para(a.Line+"  ", a.Words)
		return
	}
	p.para("", a.Words)
}

// wrote is the answer of a command that writes to the shelf.
func wrote(r casework.ShelfReceipt, err error) (answer, error) {
	if err != nil {
		return nil, err
	}
	return &shelfWritten{r}, nil
}

// shelfAddCmd puts parts on the shelf.
type shelfAddCmd struct {
	What  []string `arg:""`
	Count int      `name:"count" default:"1"`
	Place string   `name:"place"`
	From  string   `name:"from"`
	Board string   `name:"board"`
	Kind  string   `name:"kind"`
	Note  string   `name:"note"`
}

func (c *shelfAddCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	return wrote(b.Stock(ctx, casework.Stocking{By: s.by(), Name: strings.Join(c.What, " "), Count: c.Count, Place: c.Place, From: c.From, Board: c.Board, Kind: c.Kind, Note: c.Note}))
}

// shelfLine finds the line that is meant by an ID or by words.
func (s *session) shelfLine(ctx context.Context, typed string) (*casework.Bench, string, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, "", err
	}
	if l, err := b.ShelfLine(ctx, typed); err == nil {
		return b, l.ID, nil
	} else if casework.CodeOf(err) != casework.NotFound {
		return nil, "", err
	}
	p, err := b.Shelf(ctx, shelf.Ask{Text: typed, Most: 8})
	if err != nil {
		return nil, "", err
	}
	switch p.Total {
	case 0:
		return nil, "", &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("nothing on the shelf is called %q", typed), Next: "fettler shelf list shows what is there"}
	case 1:
		return b, p.Lines[0].ID, nil
	}
	e := &casework.Error{Code: casework.Ambiguous, Text: fmt.Sprintf("%d lines of the shelf fit %q", p.Total, typed), Next: "name one by its ID"}
	for _, l := range p.Lines {
		e.Choices = append(e.Choices, casework.Choice{ID: l.ID, Title: l.Name, About: l.Place})
	}
	return nil, "", e
}

// shelfTakeCmd takes pieces away.
type shelfTakeCmd struct {
	Line  []string `arg:""`
	Count int      `name:"count" default:"1"`
	For   string   `name:"for"`
	What  string   `name:"what"`
}

func (c *shelfTakeCmd) run(ctx context.Context, s *session) (answer, error) {
	if c.Count < 1 {
		return nil, &usageError{text: fmt.Sprintf("%d is no number of pieces to take", c.Count), next: "say how many: --count 2"}
	}
	b, line, err := s.shelfLine(ctx, strings.Join(c.Line, " "))
	if err != nil {
		return nil, err
	}
	in := casework.Using{By: s.by(), Line: line, Count: c.Count, What: c.What}
	if c.For != "" {
		if in.Case, err = s.find(ctx, c.For, true); err != nil {
			return nil, err
		}
	}
	return wrote(b.UseLine(ctx, in))
}

// shelfMoveCmd puts a line somewhere else.
type shelfMoveCmd struct {
	Line  string `arg:""`
	Place string `arg:""`
	Off   bool   `name:"off"`
}

func (c *shelfMoveCmd) run(ctx context.Context, s *session) (answer, error) {
	b, line, err := s.shelfLine(ctx, c.Line)
	if err != nil {
		return nil, err
	}
	return wrote(b.MoveLine(ctx, casework.Moving{By: s.by(), Line: line, Place: c.Place, Off: c.Off}))
}

// shelfCountCmd says how many there really are.
type shelfCountCmd struct {
	Line  string `arg:""`
	Count int    `arg:""`
}

func (c *shelfCountCmd) run(ctx context.Context, s *session) (answer, error) {
	b, line, err := s.shelfLine(ctx, c.Line)
	if err != nil {
		return nil, err
	}
	return wrote(b.CountLine(ctx, casework.Counting{By: s.by(), Line: line, Count: c.Count}))
}

// shelfIsCmd says what a line really is.
type shelfIsCmd struct {
	Line  string  `arg:""`
	What  string  `arg:"" optional:""`
	From  *string `name:"from"`
	Board *string `name:"board"`
	Kind  string  `name:"kind"`
	Note  *string `name:"note"`
}

func (c *shelfIsCmd) run(ctx context.Context, s *session) (answer, error) {
	b, line, err := s.shelfLine(ctx, c.Line)
	if err != nil {
		return nil, err
	}
	now, err := b.ShelfLine(ctx, line)
	if err != nil {
		return nil, err
	}
	in := casework.Renaming{By: s.by(), Line: line, Name: now.Name, Kind: c.Kind, From: now.From, Board: now.Board, Note: now.Note}
	if c.What != "" {
		in.Name = c.What
	}
	for _, x := range []struct {
		typed *string
		to    *string
	}{{c.From, &in.From}, {c.Board, &in.Board}, {c.Note, &in.Note}} {
		if x.typed != nil {
			*x.to = *x.typed
		}
	}
	return wrote(b.RenameLine(ctx, in))
}

// shelfUndoCmd takes back what was written about the shelf.
type shelfUndoCmd struct {
	Event string `arg:"" optional:""`
}

func (c *shelfUndoCmd) run(ctx context.Context, s *session) (answer, error) {
	n := 0
	if c.Event != "" {
		var err error
		if n, err = strconv.Atoi(c.Event); err != nil || n < 1 {
			return nil, &usageError{text: fmt.Sprintf("there is no event %q", c.Event), next: "fettler shelf log numbers them"}
		}
	}
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	return wrote(b.UndoShelf(ctx, n, s.by()))
}

// shelfLogCmd shows what was written about the shelf.
type shelfLogCmd struct {
	Line []string `arg:"" optional:""`
	Most int      `name:"most" default:"30"`
}

// shelfLog is what was written, latest first.
type shelfLog struct {
	Entries []casework.ShelfEntry `json:"entries"`
}

func (c *shelfLogCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	line := ""
	if err == nil && len(c.Line) > 0 {
		b, line, err = s.shelfLine(ctx, strings.Join(c.Line, " "))
	}
	if err != nil {
		return nil, err
	}
	a := &shelfLog{}
	a.Entries, err = b.ShelfLog(ctx, line, max(c.Most, 1))
	return a, err
}

func (a *shelfLog) text(p *page) {
	if len(a.Entries) == 0 {
		p.line("nothing yet")
	}
	for _, e := range a.Entries {
		words := e.Words
		if e.Who != "" {
			words += ", " + e.Who
		}
		if e.Void {
			words = "(undone) " + words
		}
		p.para(fmt.Sprintf("%5d  %s  ", e.Event, e.At.Local().Format("2 Jan 15:04")), words)
	}
}

// fromShelf prints what of the parts of a repair is here already, or on a donor board.
func fromShelf(p *page, x casework.Step) {
	for _, l := range x.Shelf {
		p.para("  From your shelf: ", fmt.Sprintf("%d × %s (%s)%s", l.Count, l.Name, l.Line, at(l.Place)))
	}
	if len(x.Shelf) > 0 {
		return
	}
	for _, l := range x.Partly {
		p.para("  Partly on your shelf: ", fmt.Sprintf("%d × %s (%s)%s", l.Count, l.Name, l.Line, at(l.Place)))
	}
	for _, l := range x.Donors {
		p.para("  On a donor board: ", fmt.Sprintf("%d × %s (%s) on %s%s", l.Count, l.Name, l.Line, l.Board, at(l.Place)))
	}
}

// shelfAt says in a few words where the parts of a repair are, "" if not on the shelf.
func shelfAt(x casework.Step) string {
	var places []string
	for _, l := range x.Shelf {
		if l.Place != "" && !slices.Contains(places, l.Place) {
			places = append(places, l.Place)
		}
	}
	if len(x.Shelf) == 0 {
		return ""
	}
	return "; from your shelf" + at(strings.Join(places, ", "))
}

func at(place string) string {
	if place == "" {
		return ""
	}
	return ": " + place
}
