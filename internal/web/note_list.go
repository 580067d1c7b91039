package web

import (
	"net/http"
	"slices"
	"strings"

	"fettler/internal/casework"
)

type notesPage struct {
	Base
	Ask    string
	Groups []NoteGroup
	Count  int
	Found  *casework.Found // answer to Ask
	Own    ownNotes
}

// A NoteGroup is the notes of one category.
type NoteGroup struct {
	Title   string
	Devices []casework.Device
}

// noteList shows the devices the bench knows, or those that ?ask= names.
func (s *Server) noteList(w http.ResponseWriter, r *http.Request) error {
	p := &notesPage{Base: s.base(r, "Bench notes", "notes"), Ask: strings.TrimSpace(r.FormValue("ask"))}
	all := s.bench.Devices(r.Context())
	p.Count, p.Groups, p.Own = len(all), noteGroups(all), s.ownNotes(r)
	if p.Ask != "" {
		found, err := s.bench.FindDevice(r.Context(), p.Ask)
		if err != nil {
			return s.again(w, err, "notes", &p.Base, p)
		}
		p.Found = &found
	}
	return s.render(w, http.StatusOK, "notes", p)
}

func noteGroups(all []casework.Device) []NoteGroup {
	var out []NoteGroup
	for _, d := range all {
		title := d.Category
		if d.Generic {
			title = "For devices without a note of their own"
		}
		i := slices.IndexFunc(out, func(g NoteGroup) bool { return g.Title == title })
		if i < 0 {
			out, i = append(out, NoteGroup{Title: title}), len(out)
		}
		out[i].Devices = append(out[i].Devices, d)
	}
	slices.SortStableFunc(out, func(a, b NoteGroup) int {
		if ga, gb := a.Devices[0].Generic, b.Devices[0].Generic; ga != gb {
			if ga {
				return 1
			}
			return -1
		}
		return strings.Compare(a.Title, b.Title)
	})
	return out
}

// instruments lists what the steps of all notes call for.
func (s *Server) instruments() []string {
	if s.o.Notes == nil {
		return nil
	}
	var out []string
	for _, d := range s.o.Notes.Devices() {
		m, err := s.o.Notes.Model(d.ID)
		if err != nil {
			continue // its own page says what is wrong with it
		}
		for i := range m.Checks {
			out = append(out, m.Checks[i].With...)
		}
		for i := range m.Repairs {
			out = append(out, m.Repairs[i].With...)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
