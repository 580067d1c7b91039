package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/library"
)

// noteLintCmd reports all that is wrong with a folder of notes.
type noteLintCmd struct {
	Folder string `arg:"" optional:""`
}

// lintReport is all that is wrong with a folder of notes.
type lintReport struct {
	Folder   string        `json:"folder"`
	Notes    int           `json:"notes"`
	Errors   int           `json:"errors"`
	Problems []lintProblem `json:"problems"`
}

// A lintProblem is one thing wrong in a note.
type lintProblem struct {
	File    string `json:"file"`
	Line    int    `json:"line"` // 0 if it is the file as a whole
	Column  int    `json:"column"`
	Text    string `json:"text"`
	Hint    string `json:"hint,omitempty"`
	Warning bool   `json:"warning"` // the note can be used all the same
}

func (c *noteLintCmd) run(ctx context.Context, s *session) (answer, error) {
	dir := c.Folder
	if dir == "" {
		var err error
		if dir, _, err = s.notesFolder(); err != nil {
			return nil, err
		}
	}
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return nil, &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("there is no folder %q", dir), Next: "name the folder the notes are in", Err: err}
	}
	lib, err := library.Load(ctx, note.Dir(dir, os.DirFS(dir)))
	var known note.Problems
	if err != nil && !errors.As(err, &known) {
		return nil, err
	}
	all, err := lib.Check(ctx)
	if err != nil {
		return nil, err
	}
	a := &lintReport{Folder: dir, Problems: []lintProblem{}}
	if a.Notes, err = countNotes(dir); err != nil {
		return nil, err
	}
	for _, p := range all {
		if !strings.HasPrefix(p.File, "library/") || within(p.File, dir) {
			a.Problems = append(a.Problems, lintProblem{p.File, p.Line, p.Column, p.Text, p.Hint, p.Warning})
			if !p.Warning {
				a.Errors++
			}
		}
	}
	return a, nil
}

// within says that a file lies in a folder.
func within(file, dir string) bool {
	return strings.HasPrefix(file, filepath.ToSlash(filepath.Clean(dir))+"/")
}

func countNotes(dir string) (int, error) {
	n := 0
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && filepath.Ext(path) == ".yaml" {
			n++
		}
		return err
	})
	if err != nil {
		return 0, &casework.Error{Code: casework.BadInput, Text: err.Error(), Next: "see that the folder can be read", Err: err}
	}
	return n, nil
}

func (a *lintReport) no() bool { return a.Errors > 0 }

func (a *lintReport) text(p *page) {
	for _, x := range a.Problems {
		p.line(note.Problem{Pos: note.Pos{File: x.File, Line: x.Line, Column: x.Column}, Text: x.Text, Hint: x.Hint, Warning: x.Warning}.String())
	}
	p.line(fmt.Sprintf("%s, %s, %s", plural(a.Notes, "note", "notes"), plural(a.Errors, "error", "errors"), plural(len(a.Problems)-a.Errors, "warning", "warnings")))
}

// noteListCmd lists the devices with what their notes hold.
type noteListCmd struct{}

// noteList is the device notes.
type noteList struct {
	Notes []noteLine `json:"notes"`
}

// A noteLine is one device note.
type noteLine struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	Own     bool   `json:"own"`
	Faults  int    `json:"faults"`
	Checks  int    `json:"checks"`
	Repairs int    `json:"repairs"`
	Trouble string `json:"trouble,omitempty"` // why it cannot be used
}

func (c *noteListCmd) run(ctx context.Context, s *session) (answer, error) {
	lib, err := s.notes(ctx)
	if err != nil {
		return nil, err
	}
	a := &noteList{Notes: []noteLine{}}
	for _, d := range lib.Devices() {
		l := noteLine{ID: d.ID, Title: d.Title, Own: d.Own}
		m, err := lib.Model(d.ID)
		if err != nil {
			l.Trouble = err.Error()
		} else {
			l.Faults, l.Checks, l.Repairs = len(m.Modes), len(m.Checks), len(m.Repairs)
		}
		a.Notes = append(a.Notes, l)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
	}
	return a, nil
}

func (a *noteList) text(p *page) {
	for _, l := range a.Notes {
		own := ""
		if l.Own {
			own = " (your own)"
		}
		p.head("%s%s", l.ID, own)
		if l.Trouble != "" {
			p.para("    cannot be used: ", l.Trouble)
			continue
		}
		p.para("    ", fmt.Sprintf("%s; %s, %s, %s", l.Title, plural(l.Faults, "fault", "faults"), plural(l.Checks, "check", "checks"), plural(l.Repairs, "repair", "repairs")))
	}
}

// noteSchemaCmd prints the JSON Schema of notes, for editors.
type noteSchemaCmd struct{}

// noteSchema is the JSON Schema of notes.
type noteSchema struct {
	Schema rawJSON `json:"schema"`
}

func (c *noteSchemaCmd) run(context.Context, *session) (answer, error) {
	return &noteSchema{rawJSON(note.Schema())}, nil
}

func (a *noteSchema) text(p *page) { p.line(strings.TrimSpace(string(a.Schema))) }
