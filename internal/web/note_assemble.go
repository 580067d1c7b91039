package web

import (
	"net/http"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/notedesk"
)

type assemblePage struct {
	Base
	Entry      takeInEntry // what was typed when it came in
	Name       string      // what it is called, as entered
	Power      string
	Powers     []casework.Choice
	Has        []hasTick
	Opening    string
	Minutes    string
	Worth      string
	Category   string
	Categories []string
}

// A hasTick is a thing a device may have.
type hasTick struct {
	notedesk.Has
	On bool
}

func (s *Server) newAssemblePage(r *http.Request, in takeInEntry) *assemblePage {
	p := &assemblePage{Base: s.base(r, pageTitles["assemble"], "notes"), Entry: in, Name: in.Device,

		Powers: notedesk.Powers(), Categories: note.Categories()}
	for _, h := range notedesk.Features() {
		p.Has = append(p.Has, hasTick{Has: h})
	}
	return p
}

// assembleForm asks what one can tell of a device from outside. What was typed
// when it was taken in comes along, so that it is not typed twice.
func (s *Server) assembleForm(w http.ResponseWriter, r *http.Request) error {
	get := func(k string) string { return strings.TrimSpace(r.FormValue(k)) }
	in := takeInEntry{Device: get("device"), What: get("what"), Label: get("label"), Age: get("age")}
	return s.render(w, http.StatusOK, "assemble", s.newAssemblePage(r, in))
}

// assemble writes the beginning of a note and shows it to be looked at, changed and saved.
func (s *Server) assemble(w http.ResponseWriter, r *http.Request) error {
	p := s.newAssemblePage(r, readTakeIn(r))
	a, err := p.answers(r)
	if err != nil {
		return s.again(w, err, "assemble", &p.Base, p)
	}
	_, text, err := notedesk.Assemble(a)
	if err != nil {
		return s.again(w, err, "assemble", &p.Base, p)
	}
	next := s.newWritePage(r, string(text))
	next.Title = "Look it over"
	next.Entry.Device = p.Name
	if err := s.look(r, next); err != nil {
		return s.again(w, err, "write", &next.Base, next)
	}
	return s.render(w, http.StatusOK, "write", next)
}

// answers reads the form, and keeps what was entered on the page.
func (p *assemblePage) answers(r *http.Request) (notedesk.Answers, error) {
	get := func(k string) string { return strings.TrimSpace(r.PostFormValue(k)) }
	p.Name, p.Power, p.Opening, p.Minutes, p.Worth, p.Category = get("title"), get("power"), get("opening"), get("minutes"), get("worth"), get("category")
	a := notedesk.Answers{Title: p.Name, Category: p.Category, Opening: p.Opening}
	for i := range p.Has {
		if get(p.Has[i].ID) != "" {
			p.Has[i].On = true
			*p.Has[i].Of(&a) = true
		}
	}
	for _, x := range p.Powers {
		if x.ID == p.Power {
			a.Power = notedesk.Power(x.ID)
		}
	}
	if a.Power == "" {
		return a, refusal("it is not said what it runs on", "choose one of the four")
	}
	var err error
	if a.OpenMinutes, err = orZero(r, "minutes", "the minutes"); err != nil {
		return a, err
	}
	a.Worth, err = orZero(r, "worth", "the worth")
	return a, err
}
