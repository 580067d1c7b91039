package notedesk

import (
	"context"
	"fmt"
	"sync"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/notecraft"
	"fettler/internal/quantity"
)

// work is what has been worked out about one model.
type work struct {
	raises    func() ([]Raised, error)
	trials    func() ([]Trial, error)
	rehearsal *Rehearsal // nil until there is one; guarded by Desk.mu
	failed    string     // why the last rehearsal came to nothing; guarded by Desk.mu
}

// statesKept is how finely is reckoned here: suspects are shown to a whole per cent.
const statesKept = 1500

// of returns the work on a model. A model that is in no library, such as a
// draft's, is worked on each time anew.
func (d *Desk) of(m *note.Model) *work {
	d.mu.Lock()
	defer d.mu.Unlock()
	if w := d.worked[m]; w != nil {
		return w
	}
	w := &work{
		raises: sync.OnceValues(func() ([]Raised, error) { return raises(context.Background(), m) }),
		trials: sync.OnceValues(func() ([]Trial, error) { return trials(context.Background(), m) }),
	}
	if d.worked == nil || len(d.worked) >= mostWorked {
		d.worked = map[*note.Model]*work{}
	}
	d.worked[m] = w
	return w
}

// mostWorked bounds how many models are kept: more than a library has.
const mostWorked = 500

// A Picture is a device drawn from its note.
type Picture struct {
	Device string `json:"device"`
	Title  string `json:"title"`
	SVG    string `json:"svg"`
}

// Draw draws a device or block.
func Draw(m *note.Model) Picture {
	return Picture{m.ID, m.Title, string(notecraft.Picture(m))}
}

// A Raised is what one symptom by itself, seen and nothing else known, makes one suspect.
type Raised struct {
	Symptom  string    `json:"symptom"`          // ID of the finding
	Title    string    `json:"title"`            // what it is
	Answer   string    `json:"answer,omitempty"` // one of several answers, or a reading
	Suspects []Suspect `json:"suspects"`         // likeliest first, those worth telling
	Unknown  float64   `json:"unknown"`          // chance of a fault the note does not know
}

// A Suspect is a fault with its chance before and after something was seen.
type Suspect struct {
	ID     string  `json:"id"`
	Title  string  `json:"title"`
	Class  string  `json:"class"`
	Before float64 `json:"before"` // in a device brought in as broken
	After  float64 `json:"after"`
}

// Suspects below leastTold are not told, nor more than mostTold of one symptom.
const (
	leastTold = 0.02
	mostTold  = 6
)

// Raises tells what each symptom of a device raises.
func (d *Desk) Raises(m *note.Model) ([]Raised, error) { return d.of(m).raises() }

// RaisesNow tells the same of a draft, which is not kept.
func RaisesNow(ctx context.Context, m *note.Model) ([]Raised, error) { return raises(ctx, m) }

func raises(ctx context.Context, m *note.Model) ([]Raised, error) {
	e, err := belief.New(m, belief.Options{Candidates: 1, MaxStates: statesKept})
	if err != nil {
		return nil, fmt.Errorf("what the symptoms of %s raise: %w", m.ID, err)
	}
	all, err := notecraft.RaisesAll(ctx, e)
	if err != nil {
		return nil, err
	}
	out := make([]Raised, len(all))
	for i, r := range all {
		f := &m.Findings[r.Seen.Finding]
		out[i] = Raised{Symptom: f.ID, Title: f.Title, Unknown: r.Unknown, Suspects: suspects(m, r.Suspects)}
		switch f.Kind {
		case note.Pick:
			out[i].Answer = f.Answers[r.Seen.Value]
		case note.Reading:
			out[i].Answer = quantity.Format(r.Seen.Number, f.Measure, 3)
		}
	}
	return out, nil
}

// suspects puts the likeliest into words; at least one, if there is any.
func suspects(m *note.Model, all []notecraft.Suspect) []Suspect {
	out := []Suspect{}
	for k, s := range all {
		if k > 0 && s.Posterior < leastTold || k >= mostTold {
			break
		}
		x := &m.Modes[s.Mode]
		out = append(out, Suspect{x.ID, x.Title, string(x.Class), s.Prior, s.Posterior})
	}
	return out
}

// A Trial is a test case written into a note, and how it came out.
type Trial struct {
	Device string    `json:"device"`
	Title  string    `json:"title"`
	Where  string    `json:"where"` // file:line:column
	Given  []string  `json:"given"` // what is seen
	Expect []string  `json:"expect"`
	Within int       `json:"within"` // the expected one is to be among so many
	Place  int       `json:"place"`  // where it came, from 1; 0 if the note has no such fault
	Chance float64   `json:"chance"` // of the expected one
	First  []Suspect `json:"first"`
	Passed bool      `json:"passed"`
	Words  string    `json:"words"`
}

// Trials runs the trials of a device.
func (d *Desk) Trials(m *note.Model) ([]Trial, error) { return d.of(m).trials() }

// TrialsNow runs those of a draft, which are not kept.
func TrialsNow(ctx context.Context, m *note.Model) ([]Trial, error) { return trials(ctx, m) }

func trials(ctx context.Context, m *note.Model) ([]Trial, error) {
	out := []Trial{}
	if len(m.Trials) == 0 {
		return out, nil
	}
	all, err := notecraft.TrialsOf(ctx, m)
	for _, r := range all {
		x := Trial{Device: r.Device, Title: r.Trial.Title, Where: place(r.Trial.Where), Expect: []string{}, Within: max(1, r.Trial.Within),
			Place: r.Place, Chance: r.Chance, Passed: r.Passed, Words: r.Words(m), Given: []string{}, First: suspects(m, r.First)}
		for _, id := range r.Trial.Expect {
			x.Expect = append(x.Expect, titleOf(m, id))
		}
		for _, g := range r.Trial.Given {
			x.Given = append(x.Given, given(&m.Findings[g.Finding], g))
		}
		out = append(out, x)
	}
	return out, err
}

func given(f *note.Finding, g note.Given) string {
	switch {
	case f.Kind == note.Pick:
		return f.Title + ": " + f.Answers[g.Value]
	case f.Kind == note.Reading:
		return f.Title + ": " + quantity.Format(g.Reading, f.Measure, 3)
	case g.Value == 0:
		return "not: " + f.Title
	}
	return f.Title
}

// titleOf is the title of a mode, or of the part or unit that an ID names.
func titleOf(m *note.Model, id string) string {
	for i := range m.Modes {
		if m.Modes[i].ID == id {
			return m.Modes[i].Title
		}
	}
	for i := range m.Parts {
		if m.Parts[i].ID == id {
			return m.Parts[i].Title + ", any fault of it"
		}
	}
	for i := range m.Units {
		if m.Units[i].ID == id {
			return m.Units[i].Title + ", any fault of it"
		}
	}
	return id
}

func place(p note.Pos) string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}
