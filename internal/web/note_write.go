package web

import (
	"bytes"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/notedesk"
)

type writePage struct {
	Base
	Style, Script string
	Text          string
	Folder        string // of the user's own notes, "" if there is none
	From          string // the shipped note the text was taken from
	Look          *draftLook
	Taken         *notedesk.Taken // what is there already
	Then          string          // what was to be done when it was
	Entry         takeInEntry     // a device that waits to be taken in with it
}

// A draftLook is what is shown of a text as it is typed.
type draftLook struct {
	noteCraft
	Sort, ID string
	Title    string
	Problems []ProblemLine
	Errors   int
	Warnings int
	Faults   int
	Checks   int
	Repairs  int
	Model    bool
}

const firstText = `device: my-device
title: My device
category: Misc
parts:
  switch:
    title: mains switch
    kind: switch
    modes: {open: {title: mains switch burnt out}}
symptoms:
  dead:
    ask: Does nothing happen at all?
    says: [dead, does not turn on, no power]
    shows: {switch open: nearly always}
checks:
  through:
    title: Ring through the switch
    how: Unplugged. Probes on its two contacts, switch on.
    with: [multimeter]
    takes: 3 min
    finds:
      open: {ask: Is it open with the switch on?, shows: {switch open: always}}
repairs:
  new-switch:
    title: Replace the switch
    takes: 15 min
    buys: [{what: mains switch, price: 3 EUR}]
    clears: {switch: all}
trials:
  - title: dead means the switch, as long as nothing else is in the note
    given: [dead]
    expect: switch
`

func (s *Server) newWritePage(r *http.Request, text string) *writePage {
	return &writePage{Base: s.base(r, pageTitles["write"], "notes"), Style: s.static.path("notes.css"), Script: s.static.path("notes.js"),
		Text: text, Folder: s.desk.Folder(), Entry: readTakeIn(r)}
}

// writeForm begins with a small note, or with ?from= (a device) or ?block= with one that is there.
func (s *Server) writeForm(w http.ResponseWriter, r *http.Request) error {
	p := s.newWritePage(r, firstText)
	sort, id := "device", r.FormValue("from")
	if b := r.FormValue("block"); b != "" {
		sort, id = "block", b
	}
	if id != "" {
		t, err := s.desk.Library().Text(sort, id)
		if err != nil {
			return missing(fmt.Sprintf("there is no bench note %q to begin with", clip(id)), "look through the list of notes")
		}
		p.Text = string(t.Text)
		if t.Rank == 0 {
			p.From = id
		}
	}
	if err := s.look(r, p); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "write", p)
}

// textOf is the text as it was sent; browsers end lines with CR LF.
func textOf(r *http.Request) string {
	return strings.ReplaceAll(r.PostFormValue("text"), "\r\n", "\n")
}

// writeNote looks at the text, saves it, or saves it and takes a device in.
func (s *Server) writeNote(w http.ResponseWriter, r *http.Request) error {
	p := s.newWritePage(r, textOf(r))
	if err := s.look(r, p); err != nil {
		return s.again(w, err, "write", &p.Base, p)
	}
	do := r.PostFormValue("do")
	if do == "" && r.PostFormValue("over") != "" {
		do = r.PostFormValue("then")
	}
	if do != "save" && do != "take-in" {
		return s.render(w, http.StatusOK, "write", p)
	}
	saved, err := s.desk.Save(r.Context(), []byte(p.Text), r.PostFormValue("over"))
	if err != nil {
		if errors.As(err, &p.Taken) {
			p.Then = do
		}
		return s.again(w, err, "write", &p.Base, p)
	}
	if do == "take-in" && saved.Sort == "device" {
		return s.takeInWith(w, r, p, saved.ID)
	}
	return goTo(w, r, savedPath(saved))
}

func savedPath(x notedesk.Saved) string {
	q := "?saved=" + url.QueryEscape(x.File)
	switch x.Sort {
	case "device":
		return "/notes/" + x.ID + q
	case "block":
		return "/blocks/" + x.ID + q
	}
	return "/notes" + q
}

// takeInWith opens a case with the note that was just saved.
func (s *Server) takeInWith(w http.ResponseWriter, r *http.Request, p *writePage, device string) error {
	age, err := orZero(r, "age", "the age")
	if err != nil {
		return s.again(w, err, "write", &p.Base, p)
	}
	open := casework.Opening{By: by(r), Device: device, Label: p.Entry.Label, Age: age}
	open.By.Seen = 0
	var then []casework.Deed
	if p.Entry.What != "" {
		then = append(then, casework.Saying{By: open.By, Text: p.Entry.What})
	}
	rec, err := s.bench.Open(r.Context(), open, then...)
	if err != nil {
		return s.again(w, err, "write", &p.Base, p)
	}
	if p.Entry.What != "" {
		return goTo(w, r, casePath(rec.Case)+"?heard=2")
	}
	return goTo(w, r, casePath(rec.Case))
}

// look tries the page's text.
func (s *Server) look(r *http.Request, p *writePage) error {
	l, err := s.lookAt(r, p.Text)
	p.Look = l
	return err
}

func (s *Server) lookAt(r *http.Request, text string) (*draftLook, error) {
	l := &draftLook{}
	if strings.TrimSpace(text) == "" {
		return l, nil
	}
	d, err := s.desk.Try(r.Context(), []byte(text))
	if err != nil {
		return l, err
	}
	l.Sort, l.ID, l.Errors = d.Sort, d.ID, d.Errors()
	l.Warnings = len(d.Problems) - l.Errors
	l.Problems = problemLines(d.Problems, strings.Split(text, "\n"))
	if d.Model == nil {
		return l, nil
	}
	m := d.Model
	l.Model, l.Title, l.Faults, l.Checks, l.Repairs = true, m.Title, len(m.Modes), len(m.Checks), len(m.Repairs)
	l.Picture = drawn(m)
	if l.Sort != "device" {
		return l, nil
	}
	return l, l.reckon(r, m)
}

// reckon works out what a draft makes one believe. That it cannot is shown, not an error.
func (l *draftLook) reckon(r *http.Request, m *note.Model) error {
	raised, err := notedesk.RaisesNow(r.Context(), m)
	if err == nil {
		l.Trials, err = notedesk.TrialsNow(r.Context(), m)
	}
	if r.Context().Err() != nil {
		return err
	}
	if err != nil {
		l.Trouble = err.Error()
	}
	l.take(raised)
	return nil
}

// writeLook is the part of the page that the script puts in place while one types.
func (s *Server) writeLook(w http.ResponseWriter, r *http.Request) error {
	l, err := s.lookAt(r, textOf(r))
	if err != nil {
		if casework.CodeOf(err) != casework.BadInput {
			return err
		}
		l = &draftLook{}
		l.Trouble = err.Error()
	}
	var b bytes.Buffer
	if err := s.pages["write"].ExecuteTemplate(&b, "draft-look", l); err != nil {
		return fmt.Errorf("web: the look at a draft: %w", err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if _, err := b.WriteTo(w); err != nil {
		s.log.Debug("a visitor went away", "err", err)
	}
	return nil
}
