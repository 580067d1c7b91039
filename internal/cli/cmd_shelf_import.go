package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/casework"
)

// shelfImportCmd reads a list, and puts it on the shelf if told to.
type shelfImportCmd struct {
	File     string   `arg:""`
	Column   []string `name:"column" sep:"none"`
	Take     bool     `name:"take"`
	LeaveOut bool     `name:"leave-out"`
}

// shelfImport is how a list was understood, and what was written of it.
type shelfImport struct {
	List    *casework.ListDraft    `json:"list"`
	Written *casework.ShelfReceipt `json:"written"` // null: only looked at
}

func (c *shelfImportCmd) run(ctx context.Context, s *session) (answer, error) {
	data, err := readInput(s, c.File)
	if err != nil {
		return nil, err
	}
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	a := &shelfImport{}
	if a.List, err = b.OpenList(data, c.File, nil); err != nil {
		return nil, err
	}
	if len(c.Column) > 0 {
		columns, err := c.columns(a.List)
		if err == nil {
			a.List, err = b.TryList(a.List.Token, columns)
		}
		if err != nil {
			return nil, err
		}
	}
	if !c.Take || a.List.Problem != "" || a.List.Bad > 0 && !c.LeaveOut {
		return a, nil
	}
	r, err := b.TakeList(ctx, a.List.Token, a.List.Columns, c.LeaveOut, s.by())
	if err != nil {
		return nil, err
	}
	a.Written = &r
	return a, nil
}

// columns are those guessed, changed as was typed: heading=field.
func (c *shelfImportCmd) columns(d *casework.ListDraft) ([]string, error) {
	out := append([]string{}, d.Columns...)
	for _, typed := range c.Column {
		heading, field, ok := strings.Cut(typed, "=")
		at := -1
		for i, h := range d.Headings {
			if strings.EqualFold(strings.TrimSpace(h), strings.TrimSpace(heading)) {
				at = i
			}
		}
		if !ok || at < 0 {
			return nil, &usageError{text: fmt.Sprintf("--column %q names no column of the list", typed), next: `type it as: --column "Qty=pieces"; the columns are ` + strings.Join(d.Headings, ", ")}
		}
		field = strings.TrimSpace(field)
		if field != "" && !slices.Contains(casework.ListFields(), field) {
			return nil, &usageError{text: fmt.Sprintf("%q is nothing a column can hold", field), next: "a column holds one of: " + strings.Join(casework.ListFields(), ", ")}
		}
		out[at] = field
	}
	return out, nil
}

func (a *shelfImport) no() bool { return a.List.Problem != "" || a.List.Bad > 0 && a.Written == nil }

func (a *shelfImport) text(p *page) {
	d := a.List
	for i, h := range d.Headings {
		holds := d.Columns[i]
		if holds == "" {
			holds = "(left out)"
		}
		p.para(fmt.Sprintf("  %-20s ", h), holds)
	}
	if d.Problem != "" {
		p.para("", d.Problem)
		return
	}
	p.line(fmt.Sprintf("%s can be taken, %d cannot; %d say no value", plural(d.Good, "line", "lines"), d.Bad, d.Unread))
	for i, t := range d.Troubles {
		if i == 20 {
			p.line(fmt.Sprintf("  (and %d more)", d.Bad-i))
			break
		}
		p.para(fmt.Sprintf("  line %d: ", t.Line), t.Text)
	}
	switch {
	case a.Written != nil:
		p.para("", fmt.Sprintf("%s; fettler shelf undo %d takes all of it back", a.Written.Words, a.Written.Event))
	case d.Bad > 0:
		p.para("", "nothing was written: mend these lines, or take the others with --take --leave-out")
	default:
		p.para("", "nothing was written yet: --take puts them on the shelf")
	}
}

// shelfExportCmd writes the shelf as a list.
type shelfExportCmd struct {
	File string `arg:"" optional:""`
}

// shelfExported is the list.
type shelfExported struct {
	File string `json:"file"` // "" if it was not written to one
	CSV  string `json:"csv"`  // "" if it was
}

func (c *shelfExportCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	var w bytes.Buffer
	if err := b.ExportShelf(ctx, &w); err != nil {
		return nil, err
	}
	if c.File != "" {
		return &shelfExported{File: c.File}, writeNew(c.File, w.Bytes())
	}
	return &shelfExported{CSV: w.String()}, nil
}

func (a *shelfExported) text(p *page) {
	if a.File != "" {
		p.line("written: " + a.File)
		return
	}
	fmt.Fprint(p.w, a.CSV)
}

// readInput reads a file, or standard input for "-".
func readInput(s *session, name string) ([]byte, error) {
	var w bytes.Buffer
	var err error
	if name == "-" {
		_, err = w.ReadFrom(s.in)
	} else {
		f, _, e := openFile(name, "name a file that is there, or - for what is piped in")
		if e != nil {
			return nil, e
		}
		_, err = w.ReadFrom(f)
		err = errors.Join(err, f.Close())
	}
	if err != nil {
		return nil, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("%q cannot be read", name), Next: "name a file that is there, or - for what is piped in", Err: err}
	}
	return w.Bytes(), nil
}
