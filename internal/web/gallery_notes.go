package web

import (
	"html/template"
	"net/http"

	"fettler/internal/notedesk"
)

// deskScreens are the pages for whoever writes notes, with invented data.
func (s *Server) deskScreens(r *http.Request) []screen {
	write := func(b Base, text string) *writePage {
		p := s.newWritePage(r, text)
		b.Title, p.Folder = pageTitles["write"], "notes"
		p.Base = b
		return p
	}
	text := "device: hall-lamp\ntitle: Hall lamp (invented)\ncategory: Lampp\n"
	return []screen{
		{"write-mistakes", "a note with mistakes", "write", func(b Base) any {
			p := write(b, text)
			p.Look = &draftLook{Sort: "device", ID: "hall-lamp", Errors: 1, Problems: []ProblemLine{
				{Line: 3, Column: 11, Text: `unknown category "Lampp"`, Hint: "did you mean Lamp?", Source: "category: Lampp"},
				{Line: 1, Column: 1, Text: "the whole note is short", Warning: true}}}
			return p
		}},
		{"write-taken", "a note that is there already", "write", func(b Base) any {
			p := write(b, text)
			pr := explain(refusal("there is a note of yours in hall-lamp.yaml already", "say that it is to be replaced, or give this one another name"))
			p.Problem, p.Taken, p.Look = &pr, &notedesk.Taken{File: "hall-lamp.yaml", Mark: "00", Text: []byte("device: hall-lamp\ntitle: Lamp\n")}, &draftLook{}
			return p
		}},
		{"assemble-device", "a device without a note, as it was taken in", "assemble", func(b Base) any {
			p := s.newAssemblePage(r, takeInEntry{Device: "foot massager", What: "buzzes and does not turn"})
			b.Title = pageTitles["assemble"]
			p.Base, p.Power, p.Has[0].On = b, "mains", true
			return p
		}},
		{"note-rehearsed", "a note with its trials and its rehearsal", "note", func(b Base) any {
			b.Title = "Hall lamp (invented)"
			p := &notePage{Base: b, Faults: 2, Currency: "EUR", Craft: &noteCraft{Style: s.static.path("notes.css"), Picture: template.HTML("<p>(the picture)</p>")}}
			p.Device.ID, p.Device.Title, p.Device.Category, p.Device.Own = "hall-lamp", b.Title, "Lamp", true
			first := []notedesk.Suspect{{ID: "bulb.open", Title: "bulb burnt out", Before: 0.5, After: 0.8}, {ID: "switch.open", Title: "switch burnt out", Before: 0.2, After: 0.19}}
			p.Craft.Trials = []notedesk.Trial{{Title: "dark means the switch", Where: "hall-lamp.yaml:25:5", Given: []string{"stays dark"}, Expect: []string{"switch burnt out"}, Within: 1, Place: 2, Chance: 0.19, First: first},
				{Title: "dark means the bulb", Where: "hall-lamp.yaml:29:5", Given: []string{"stays dark"}, Expect: []string{"bulb burnt out"}, Within: 1, Place: 1, Chance: 0.8, First: first, Passed: true}}
			p.Craft.take([]notedesk.Raised{{Symptom: "dark", Title: "stays dark", Suspects: first, Unknown: 0.03}})
			p.Craft.Rehearsal = notedesk.Progress{Done: &notedesk.Rehearsal{Title: b.Title, Currency: "EUR", Faults: 30, Drawn: 24, Cured: 0.81, Named: 0.93, Money: 6.2, Minutes: 24, Moves: 3.4,
				Missed: []notedesk.Missed{{Title: "pins loose in the socket", End: "stopped", Moves: 4, Minutes: 31}},
				Twins:  []notedesk.Alike{{Titles: []string{"wire broken at the plug", "wire broken in the base"}, Shared: []string{"Replace the lead"}}},
				Idle:   []string{"Ring through the dimmer"}}}
			return p
		}},
	}
}
