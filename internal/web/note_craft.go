package web

import (
	"html/template"
	"net/http"
	"strings"

	"fettler/internal/note"
	"fettler/internal/notedesk"
)

// A noteCraft is what a note's author wants to know of it.
type noteCraft struct {
	Style     string
	Picture   template.HTML
	Raised    []SymptomRow
	Trials    []notedesk.Trial
	Failed    int    // trials
	Trouble   string // why nothing can be reckoned
	Rehearsal notedesk.Progress
}

// A SymptomRow is a symptom with what it raises, once for each of its answers.
type SymptomRow struct {
	Title string
	notedesk.Raised
}

// craftOf reckons on a model of the library; the results are kept with the model.
func (s *Server) craftOf(m *note.Model) *noteCraft {
	c := &noteCraft{Style: s.static.path("notes.css"), Picture: drawn(m), Rehearsal: s.desk.Rehearsed(m)}
	raised, err := s.desk.Raises(m)
	if err == nil {
		c.Trials, err = s.desk.Trials(m)
	}
	if err != nil {
		c.Trouble = err.Error()
	}
	c.take(raised)
	return c
}

func (c *noteCraft) take(raised []notedesk.Raised) {
	for _, r := range raised {
		row := SymptomRow{r.Title, r}
		if r.Answer != "" {
			row.Title += ": " + r.Answer
		}
		c.Raised = append(c.Raised, row)
	}
	for _, t := range c.Trials {
		if !t.Passed {
			c.Failed++
		}
	}
}

// drawn is the picture of a model, "" if there is nothing to draw, as of a device
// that is all one block. notecraft escapes what it writes, so it is HTML as it stands.
func drawn(m *note.Model) template.HTML {
	svg := notedesk.Draw(m).SVG
	if !strings.Contains(svg, `class="nc-card"`) {
		return ""
	}
	return template.HTML(svg)
}

func (s *Server) noteModel(r *http.Request) (*note.Model, error) {
	id := r.PathValue("note")
	if s.o.Notes == nil {
		return nil, missing("the notes are not at hand here", "go back to the list")
	}
	m, err := s.o.Notes.Model(id)
	if err != nil {
		return nil, missing("there is no bench note “"+clip(id)+"” that can be used", "look through the list of notes")
	}
	return m, nil
}

// notePicture is the picture as a file of its own.
func (s *Server) notePicture(w http.ResponseWriter, r *http.Request) error {
	m, err := s.noteModel(r)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "image/svg+xml")
	if _, err := w.Write([]byte(notedesk.Draw(m).SVG)); err != nil {
		s.log.Debug("a visitor went away", "err", err)
	}
	return nil
}

// noteRehearse begins a rehearsal.
func (s *Server) noteRehearse(w http.ResponseWriter, r *http.Request) error {
	m, err := s.noteModel(r)
	if err != nil {
		return err
	}
	if err := s.desk.Rehearse(m); err != nil {
		return err
	}
	return goTo(w, r, "/notes/"+m.ID+"#rehearsal")
}

// ownNotes are the user's own notes, on the page of all.
type ownNotes struct {
	Folder   string // "" if there is none
	Problems []ProblemLine
	Errors   int
	Saved    string // a file that was just written
	Again    bool   // they were just read again
}

func (s *Server) ownNotes(r *http.Request) ownNotes {
	o := ownNotes{Folder: s.desk.Folder(), Saved: r.FormValue("saved"), Again: r.FormValue("again") != ""}
	if o.Folder == "" {
		return o
	}
	all := s.desk.Problems()
	o.Problems, o.Errors = problemLines(all, nil), len(all.Errors())
	return o
}

// notesAgain reads the notes again, for whoever writes them in an editor.
func (s *Server) notesAgain(w http.ResponseWriter, r *http.Request) error {
	if err := s.desk.Read(r.Context()); err != nil {
		return err
	}
	return goTo(w, r, "/notes?again=1#own")
}

// A ProblemLine is one thing wrong in a note.
type ProblemLine struct {
	File         string
	Line, Column int
	Text, Hint   string
	Warning      bool
	Source       string // the line it is in
}

// problemLines lists problems; lines are those of the draft, whose name goes without saying.
func problemLines(all note.Problems, lines []string) []ProblemLine {
	var out []ProblemLine
	for _, p := range all {
		x := ProblemLine{File: p.File, Line: p.Line, Column: p.Column, Text: p.Text, Hint: p.Hint, Warning: p.Warning}
		if p.File == notedesk.DraftName && lines != nil {
			x.File = ""
			if p.Line > 0 && p.Line <= len(lines) {
				x.Source = lines[p.Line-1]
			}
		}
		out = append(out, x)
	}
	return out
}
