package web

import (
	"fmt"
	"net/http"
	"slices"

	"fettler/internal/casework"
	"fettler/internal/note"
)

type notePage struct {
	Base
	Device   casework.Device
	Trouble  string // why it cannot be read
	MassKg   float64
	Worth    float64
	Currency string
	Cautions []string
	Access   []note.Access
	Symptoms []string
	Units    []NoteUnit
	Faults   int
	Craft    *noteCraft // the picture and what the note makes one believe
	Saved    string     // the file it was just written to
}

// A NoteUnit is one block of a device: what fails in it, how to tell, what to do.
type NoteUnit struct {
	Title   string
	Anchor  string
	Block   string // the block's name
	Faults  []NoteFault
	Checks  []NoteStep
	Repairs []NoteStep
}

// A NoteFault is a fault mode with how usual it is.
type NoteFault struct {
	Title string
	Part  string
	Mark  string
	Value string
	P     float64 // before anything is looked at
	Basis string
}

// A NoteStep is a check or repair to read.
type NoteStep struct {
	Title    string
	How      string
	With     []string
	Minutes  float64
	Money    float64
	Access   string
	Live     bool
	Cautions []string
}

// noteRead shows what the bench knows of one sort of device.
func (s *Server) noteRead(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("note")
	all := s.bench.Devices(r.Context())
	i := slices.IndexFunc(all, func(d casework.Device) bool { return d.ID == id })
	if i < 0 {
		return missing(fmt.Sprintf("there is no bench note %q", clip(id)), "look through the list of notes")
	}
	p := &notePage{Base: s.base(r, all[i].Title, "notes"), Device: all[i]}
	switch {
	case s.o.Notes == nil:
		p.Trouble = "its text is not at hand here"
	default:
		m, err := s.o.Notes.Model(id)
		if err != nil {
			p.Trouble = err.Error()
		} else {
			p.read(m)
			p.Craft, p.Saved = s.craftOf(m), r.FormValue("saved")
		}
	}
	return s.render(w, http.StatusOK, "note", p)
}

// read fills the page from a model.
func (p *notePage) read(m *note.Model) {
	p.MassKg, p.Worth, p.Currency, p.Access, p.Faults = m.MassKg, m.Worth, m.Currency, m.Access, len(m.Modes)
	for i, c := range note.Cautions(m.Hazards) {
		p.Cautions = append(p.Cautions, m.Hazards[i].Kind+": "+c)
	}
	for i := range m.Findings {
		if m.Findings[i].Check < 0 {
			p.Symptoms = append(p.Symptoms, m.Findings[i].Title)
		}
	}
	p.Units = make([]NoteUnit, len(m.Units))
	for i, u := range m.Units {
		p.Units[i] = NoteUnit{Title: u.Title, Anchor: fmt.Sprintf("unit-%d", i), Block: u.Block}
		if u.Title == "" {
			p.Units[i].Title = m.Title
		}
	}
	for i := range m.Modes {
		x := &m.Modes[i]
		part := &m.Parts[x.Part]
		u := &p.Units[part.Unit]
		u.Faults = append(u.Faults, NoteFault{Title: x.Title, Part: part.Title, Mark: part.Mark, Value: part.Value, P: x.Odds / (1 + x.Odds), Basis: x.Basis})
	}
	for i := range m.Checks {
		x := &m.Checks[i]
		p.Units[x.Unit].Checks = append(p.Units[x.Unit].Checks, NoteStep{Title: x.Title, How: x.How, With: x.With, Minutes: x.Minutes,
			Access: m.Access[x.Access].Title, Live: x.Live, Cautions: note.Cautions(x.Hazards)})
	}
	for i := range m.Repairs {
		x := &m.Repairs[i]
		p.Units[x.Unit].Repairs = append(p.Units[x.Unit].Repairs, NoteStep{Title: x.Title, How: x.How, With: x.With, Minutes: x.Minutes, Money: x.Price,
			Access: m.Access[x.Access].Title, Live: x.Live, Cautions: note.Cautions(x.Hazards)})
	}
	for i := range p.Units {
		slices.SortStableFunc(p.Units[i].Faults, func(a, b NoteFault) int {
			switch {
			case a.P > b.P:
				return -1
			case a.P < b.P:
				return 1
			}
			return 0
		})
	}
	p.Units = slices.DeleteFunc(p.Units, func(u NoteUnit) bool { return len(u.Faults)+len(u.Checks)+len(u.Repairs) == 0 })
}
