package journal

import (
	"context"
	"encoding/json"
	"fmt"
	"time"
)

// BenchCase is the case-less journal that holds what is true of the whole bench: its settings.
const BenchCase = ""

// Kind is the sort of an event; casework says which there are.
type Kind string

// An Event is one thing that happened. Events are never altered or removed.
type Event struct {
	Case    string          `json:"case"`
	Seq     int             `json:"seq"` // 1, 2, … within the case
	At      time.Time       `json:"at"`  // UTC, to the microsecond
	Kind    Kind            `json:"kind"`
	Who     string          `json:"who,omitempty"`
	Version int             `json:"v"` // of the payload's form; 1
	Data    json.RawMessage `json:"data"`
}

// A Journal keeps events. It is all that a store must be.
type Journal interface {
	// Append adds events to a case whose last event has the number after (0: it
	// has none yet), numbering them after+1, after+2, …; the numbers in the
	// events given are ignored. All are kept or none. If the case has moved on,
	// the error is a *Conflict. Once Append has returned nil the events survive
	// a crash of the process.
	Append(ctx context.Context, caseID string, after int, events ...Event) error
	// Events returns the events of a case with numbers above after, in order; none if there is no such case.
	Events(ctx context.Context, caseID string, after int) ([]Event, error)
	// Heads returns one head per case, most recently changed first. BenchCase is not among them.
	Heads(ctx context.Context) ([]Head, error)
}

// A Batcher is a journal that takes events of many cases at once. Without it they are
// appended one case after the other.
type Batcher interface {
	// AppendAll is Append for each of the batches, all of which are kept or none, but that a case
	// that has moved on is left as it is and counted.
	AppendAll(ctx context.Context, batches []Batch) (late int, err error)
}

// A Batch is what is to be appended to one case.
type Batch struct {
	Case   string
	After  int
	Events []Event
}

// A Tracker is a journal that says what has changed without reading all of it.
// Without it the heads are compared.
type Tracker interface {
	// Changed returns the last event of each case written to since mark, in the
	// order in which they were, and the mark to give next time; mark 0 is before everything.
	// BenchCase is not among them.
	Changed(ctx context.Context, mark int64) ([]Event, int64, error)
}

// A Head is the end of one case's journal.
type Head struct {
	Case    string
	Seq     int       // number of its last event
	First   time.Time // of its first event
	Changed time.Time // of its last event
}

// A Conflict is the error of an Append that came too late.
type Conflict struct {
	Case       string
	After, Now int // what the writer took for the last event, and what it is
}

func (c *Conflict) Error() string {
	return fmt.Sprintf("case %q has moved on from event %d to event %d", c.Case, c.After, c.Now)
}
