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
	"fettler/internal/notedesk"
)

// notePictureCmd draws a device.
type notePictureCmd struct {
	Device string `arg:""`
	Out    string `name:"out" short:"o"`
}

// notePicture is a picture, or where it was put.
type notePicture struct {
	notedesk.Picture
	File string `json:"file,omitempty"` // where it was written to
}

func (c *notePictureCmd) run(ctx context.Context, s *session) (answer, error) {
	if c.Out != "" && !strings.EqualFold(filepath.Ext(c.Out), ".svg") {
		return nil, &usageError{text: fmt.Sprintf("%q is no name for a picture", c.Out), next: "let it end in .svg"}
	}
	m, err := s.device(ctx, c.Device, "picture")
	if err != nil {
		return nil, err
	}
	a := &notePicture{Picture: notedesk.Draw(m), File: c.Out}
	if c.Out == "" {
		return a, nil
	}
	return a, writeNew(c.Out, []byte(a.SVG))
}

func (a *notePicture) text(p *page) {
	if a.File != "" {
		p.line("the picture is in " + a.File)
		return
	}
	fmt.Fprint(p.w, a.SVG)
}

// noteRaisesCmd tells what each symptom of a device raises.
type noteRaisesCmd struct {
	Device string `arg:""`
}

// raisedList is what the symptoms of a device raise.
type raisedList struct {
	Device   string            `json:"device"`
	Title    string            `json:"title"`
	Symptoms []notedesk.Raised `json:"symptoms"`
}

func (c *noteRaisesCmd) run(ctx context.Context, s *session) (answer, error) {
	m, err := s.device(ctx, c.Device, "raises")
	if err != nil {
		return nil, err
	}
	all, err := notedesk.RaisesNow(ctx, m)
	if err != nil {
		return nil, err
	}
	return &raisedList{m.ID, m.Title, all}, nil
}

func (a *raisedList) text(p *page) {
	p.head("%s: %s", a.Device, a.Title)
	p.para("", "Each symptom alone, and nothing else known; in brackets the chance before.")
	for _, r := range a.Symptoms {
		p.gap()
		if r.Answer != "" {
			p.para("", r.Title+": "+r.Answer)
		} else {
			p.para("", r.Title)
		}
		for _, x := range r.Suspects {
			p.para(fmt.Sprintf("%6s  ", percent(x.After)), x.Title+" ("+percent(x.Before)+")")
		}
		if r.Unknown >= 0.02 {
			p.para(fmt.Sprintf("%6s  ", percent(r.Unknown)), "something the note does not know")
		}
	}
}

// noteRehearseCmd follows the advice against each fault of a note.
type noteRehearseCmd struct {
	Device string `arg:""`
	Most   int    `name:"most"`
	Seed   uint64 `name:"seed"`
}

// rehearsed is how a rehearsal came out.
type rehearsed struct {
	notedesk.Rehearsal
}

func (c *noteRehearseCmd) run(ctx context.Context, s *session) (answer, error) {
	if c.Most < 0 {
		return nil, &usageError{text: "--most is below nothing", next: "say how many faults are to be drawn, or leave it out for all"}
	}
	m, err := s.device(ctx, c.Device, "rehearse")
	if err != nil {
		return nil, err
	}
	n := len(m.Modes)
	if c.Most > 0 {
		n = min(n, c.Most)
	}
	s.say("(rehearsing %s; Ctrl-C ends it)", plural(n, "fault", "faults"))
	r, err := notedesk.RehearseNow(ctx, m, c.Most, c.Seed)
	if err != nil {
		return nil, err
	}
	return &rehearsed{*r}, nil
}

func (a *rehearsed) text(p *page) {
	for _, l := range strings.Split(strings.TrimSpace(a.Words), "\n") {
		p.para("", l)
	}
	if a.Drawn < a.Faults {
		p.para("", fmt.Sprintf("Drawn were %d of %d faults, spread evenly over how often they happen.", a.Drawn, a.Faults))
	}
}

// noteTrialsCmd runs the trials written into notes.
type noteTrialsCmd struct {
	Which string `arg:"" optional:""`
}

// trialList is how trials came out.
type trialList struct {
	Trials []notedesk.Trial `json:"trials"`
	Failed int              `json:"failed"`
}

func (c *noteTrialsCmd) run(ctx context.Context, s *session) (answer, error) {
	models, err := c.models(ctx, s)
	if err != nil {
		return nil, err
	}
	a := &trialList{Trials: []notedesk.Trial{}}
	for _, m := range models {
		some, err := notedesk.TrialsNow(ctx, m)
		if err != nil {
			return nil, err
		}
		a.Trials = append(a.Trials, some...)
	}
	for _, t := range a.Trials {
		if !t.Passed {
			a.Failed++
		}
	}
	return a, nil
}

// models are those of a folder's devices, of one device, or of all.
func (c *noteTrialsCmd) models(ctx context.Context, s *session) ([]*note.Model, error) {
	desk, only := (*notedesk.Desk)(nil), false
	switch info, err := os.Stat(c.Which); {
	case c.Which != "" && err == nil && info.IsDir():
		if desk, err = notedesk.Open(ctx, c.Which); err != nil {
			return nil, err
		}
		for _, p := range desk.Problems().Errors() {
			s.say("%s", p.String())
		}
		only = true
	case c.Which != "":
		m, err := s.device(ctx, c.Which, "trials")
		return []*note.Model{m}, err
	default:
		if desk, err = s.writingDesk(ctx); err != nil {
			return nil, err
		}
	}
	var out []*note.Model
	for _, d := range desk.Devices() {
		if only && !d.Own {
			continue
		}
		m, err := desk.Model(d.ID)
		if err != nil {
			s.say("%s is left out: %v", d.ID, err)
			continue
		}
		out = append(out, m)
	}
	return out, ctx.Err()
}

func (a *trialList) no() bool { return a.Failed > 0 }

func (a *trialList) text(p *page) {
	for _, t := range a.Trials {
		if !t.Passed {
			p.line(t.Words) // one line, for whoever follows the place
		}
	}
	p.line(fmt.Sprintf("%s, %d not as expected", plural(len(a.Trials), "trial", "trials"), a.Failed))
}

// noteDiffCmd compares two notes by what they make one believe.
type noteDiffCmd struct {
	Old string `arg:""`
	New string `arg:""`
}

// noteChanges are what a change did.
type noteChanges struct {
	notedesk.Changes
}

func (c *noteDiffCmd) run(ctx context.Context, s *session) (answer, error) {
	old, err := s.version(ctx, c.Old)
	if err != nil {
		return nil, err
	}
	now, err := s.version(ctx, c.New)
	if err != nil {
		return nil, err
	}
	x, err := notedesk.Diff(ctx, old, now)
	if err != nil {
		return nil, err
	}
	return &noteChanges{*x}, nil
}

func (a *noteChanges) no() bool { return !a.Same() }

func (a *noteChanges) text(p *page) {
	for _, l := range strings.Split(strings.TrimSpace(a.Words), "\n") {
		p.para("", l)
	}
}

// version is the model of a file, or of a device of the library.
func (s *session) version(ctx context.Context, name string) (*note.Model, error) {
	if ext := filepath.Ext(name); ext != ".yaml" && ext != ".yml" {
		return s.device(ctx, name, "diff")
	}
	desk, err := s.writingDesk(ctx)
	if err != nil {
		return nil, err
	}
	d, err := desk.TryFile(ctx, name)
	if err != nil {
		return nil, err
	}
	switch {
	case d.Errors() > 0:
		return nil, d.Problems.Errors()
	case d.Model == nil:
		return nil, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("%q is no device or block", name), Next: "name the note of a device"}
	}
	return d.Model, nil
}

// device is the model of a device, or an error that names what was meant; command is the one that was typed.
func (s *session) device(ctx context.Context, id, command string) (*note.Model, error) {
	lib, err := s.notes(ctx)
	if err != nil {
		return nil, err
	}
	m, err := lib.Model(id)
	if !errors.Is(err, note.ErrNoDevice) {
		return m, err
	}
	if m, err := lib.Block(id); err == nil {
		return m, nil
	}
	var ids []string
	for _, d := range lib.Devices() {
		ids = append(ids, d.ID)
	}
	e := &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("there is no bench note %q", id), Next: "fettler devices lists them, fettler devices WORDS searches them", Err: err}
	if n := nearest(id, ids); n != "" && command != "diff" {
		return nil, &tryError{e, []string{line([]string{"note", command, n})}}
	}
	return nil, e
}
