package notecraft

import (
	"fettler/internal/note"
)

// Counts say how much a note knows.
type Counts struct {
	Modes    int `json:"modes"`
	Symptoms int `json:"symptoms"`
	Checks   int `json:"checks"`
	Repairs  int `json:"repairs"`
}

// Count counts what is in a model.
func Count(m *note.Model) Counts {
	c := Counts{Modes: len(m.Modes), Checks: len(m.Checks), Repairs: len(m.Repairs)}
	for i := range m.Findings {
		if m.Findings[i].Check < 0 {
			c.Symptoms++
		}
	}
	return c
}

// A Mark is what is kept of one device's rehearsal: enough for the table of the library.
type Mark struct {
	Device  string  `json:"device"`
	Counts  Counts  `json:"counts"`  // as the note was then
	Cured   float64 `json:"cured"`   // share of faults that end cured, by their odds
	Named   float64 `json:"named"`   // share of faults that are at some time the likeliest suspect
	Money   float64 `json:"money"`   // mean, in the note's currency
	Minutes float64 `json:"minutes"` // mean
	Moves   float64 `json:"moves"`   // mean
	Twins   int     `json:"twins"`   // groups of faults that nothing tells apart
}

// Mark keeps what the table of the library wants to know of a report.
func (r *Report) Mark(m *note.Model) Mark {
	return Mark{Device: m.ID, Counts: Count(m), Cured: round(r.Ended[Cured], 3), Named: round(r.Named, 3),
		Money: round(r.Money, 2), Minutes: round(r.Minutes, 1), Moves: round(r.Moves, 1), Twins: len(r.Twins)}
}

const shelfHead = `# What is in the library

This page is made from the notes: ` + "`go test ./internal/notecraft -run TestShelf -update`" + ` writes it anew.

*Cured* is the share of runs at whose end the device works: two dozen faults of its note are drawn, spread evenly over how often
they happen, and against each the advice as it is shown is followed with answers drawn from the note. *Named* is the share that was the first
suspect at some time. *Money* and *minutes* are the means of these runs, for a bench that counts an hour of its own
time as 4 and a day of waiting as 0.20. That says how good a note is at telling its own faults apart, not how good it is about the
world. The figures come from a rehearsal that takes minutes: ` + "`go test ./internal/notecraft -run TestShelf -rehearse stale -update -timeout 2h`" + `; a † says
that the note has grown or shrunk since.

`
