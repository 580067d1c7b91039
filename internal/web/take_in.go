package web

import (
	"net/http"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/note"
)

// takeInEntry is what is asked when a device comes in.
type takeInEntry struct {
	Device   string // what it is, in words
	What     string // what it does, in words
	Label    string
	Age      string
	Note     string // chosen note
	Category string // chosen category, if no note fits
	AskLive  bool   // it has not been said yet whether this bench works inside with the power on
	Live     string // and what is said now: yes or no
}

type takeInPage struct {
	Base
	Entry      takeInEntry
	Found      *casework.Found // nil: nothing asked yet
	Categories []string
}

func readTakeIn(r *http.Request) takeInEntry {
	get := func(k string) string { return strings.TrimSpace(r.PostFormValue(k)) }
	return takeInEntry{Device: get("device"), What: get("what"), Label: get("label"), Age: get("age"), Note: get("note"), Category: get("category"), Live: get("live")}
}

func (s *Server) takeInPage(r *http.Request, in takeInEntry, found *casework.Found) *takeInPage {
	title := pageTitles["take-in"]
	if found != nil {
		title = "Which of these is it?"
	}
	in.AskLive = s.liveNotSaid(r)
	return &takeInPage{Base: s.base(r, title, "bench"), Entry: in, Found: found, Categories: note.Categories()}
}

// takeInForm asks what came in; with ?note= it is for a device of that note.
func (s *Server) takeInForm(w http.ResponseWriter, r *http.Request) error {
	in := takeInEntry{Note: r.FormValue("note")}
	for _, d := range s.bench.Devices(r.Context()) {
		if d.ID == in.Note {
			in.Device = d.Title
		}
	}
	return s.render(w, http.StatusOK, "take-in", s.takeInPage(r, in, nil))
}

// takeIn opens a case, or asks back which device it is.
func (s *Server) takeIn(w http.ResponseWriter, r *http.Request) error {
	in := readTakeIn(r)
	ask := s.takeInPage(r, in, nil)
	age, err := orZero(r, "age", "the age")
	if err != nil {
		return s.again(w, err, "take-in", &ask.Base, ask)
	}
	if in.Note == "" && in.Category == "" {
		found, err := s.bench.FindDevice(r.Context(), in.Device)
		if err != nil {
			return s.again(w, err, "take-in", &ask.Base, ask)
		}
		if !found.Sure {
			return s.render(w, http.StatusOK, "take-in", s.takeInPage(r, in, &found))
		}
		in.Note = found.Devices[0].ID
	}
	open := casework.Opening{By: by(r), Device: in.Note, Category: in.Category, Label: in.Label, Age: age}
	open.By.Seen = 0
	var then []casework.Deed
	if in.What != "" {
		then = append(then, casework.Saying{By: open.By, Text: in.What})
	}
	rec, err := s.bench.Open(r.Context(), open, then...)
	if err != nil {
		return s.again(w, err, "take-in", &ask.Base, ask)
	}
	if err := s.sayLive(r, in.Live); err != nil {
		return err
	}
	if in.What != "" {
		return goTo(w, r, casePath(rec.Case)+"?heard=2")
	}
	return goTo(w, r, casePath(rec.Case))
}
