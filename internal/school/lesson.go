package school

import (
	"context"
	"time"

	"fettler/internal/journal"
	"fettler/internal/ledger"
)

// A Lesson is what a closed case teaches, reckoned when it was closed by the note
// alone, without what earlier cases had taught: so the ledger does not teach itself.
// Faults are numbered as in the sheet.
type Lesson struct {
	Sheet string        `json:"sheet"`          // key of the note's sheet
	Note  *ledger.Sheet `json:"note,omitempty"` // the sheet itself, with the first case closed by it

	Sets    []Set           `json:"sets,omitempty"`    // which faults were there together, and the chance
	Unknown float64         `json:"unknown,omitempty"` // chance of a fault the note does not know
	Looks   []ledger.Look   `json:"looks,omitempty"`   // signs looked for before the first repair
	Tries   []ledger.Try    `json:"tries,omitempty"`   // repairs whose effect was seen
	Said    []ledger.Saying `json:"said,omitempty"`    // chances stated, and what came
	Cost    ledger.Cost     `json:"cost"`
	Gain    ledger.Gain     `json:"gain"`
}

// A Set is one set of faults and the chance of just these.
type Set struct {
	Modes []int   `json:"m"`
	P     float64 `json:"p"`
}

// A Closing is a closed case, as far as the school is concerned.
type Closing struct {
	Revision int // event since which it stands so
	At       time.Time
	Lesson   *Lesson
	Fixed    bool
	Gone     bool // it taught something once and does no more
}

// Found is what a case was found to teach.
type Found struct {
	Closing
	OK  bool // it ever taught anything
	Err error
}

// Cases reads what the events of cases mean.
type Cases interface {
	// Closings says what cases teach, given the last event of each.
	Closings(ctx context.Context, lasts []journal.Event) []Found
	// EverClosed tells whether a case was ever closed, given its last event.
	EverClosed(ctx context.Context, last journal.Event) (bool, error)
}
