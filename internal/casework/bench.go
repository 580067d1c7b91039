package casework

import (
	"context"
	"crypto/rand"
	"sync"
	"time"

	"fettler/internal/belief"
	"fettler/internal/journal"
	"fettler/internal/ledger"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/school"
)

// Notes is where models come from; *note.Library is one.
type Notes interface {
	Devices() []note.DeviceInfo
	Model(id string) (*note.Model, error)
}

// An Adviser says what to do next; *plan.Planner is one.
type Adviser interface {
	Advise(ctx context.Context, b *belief.Belief, sit plan.Situation) (*plan.Advice, error)
}

// Options are what a Bench needs besides notes and journal. The zero value is the default.
type Options struct {
	// Belief is how to reason; MaxStates 0 stands for 3000 here.
	Belief belief.Options
	// Advisers makes an adviser for an engine; nil means the planner of package plan.
	Advisers func(e *belief.Engine, s plan.Settings) (Adviser, error)
	// Now is the clock; nil means time.Now.
	Now func() time.Time
	// Zone is where the bench stands: its days begin and end there; nil means time.Local.
	Zone *time.Location
	// NewID makes names for cases; nil means short random ones.
	NewID func() string
	// Photos keeps pictures; nil means none can be kept.
	Photos journal.Files
	// Files keeps what came from other benches, as Photos are; nil means nothing can be taken over.
	Files journal.Files
}

// A Bench is the repair bench with all its cases. It is safe for concurrent use.
type Bench struct {
	notes   Notes
	journal Journal
	o       Options

	mu     sync.Mutex
	known  map[string]*knowledge // by device
	views  map[string]*kept      // by case
	listed map[string]line       // by case

	darkroom  sync.Mutex // one picture is worked on at a time
	school    *school.School
	studying  sync.Mutex            // one brings lessons up to date at a time
	searching sync.Mutex            // one brings the index up to date at a time
	lessons   *ledger.Lessons       // to reason with; nil for none
	plains    map[string]*knowledge // by device, without lessons
	shelves   shelfDesk
	shopped   map[string]*worths // by case; under mu
	baskets   map[string]keptBasket
	mull      chan struct{} // one case is thought about at length at a time
}

// New returns a bench over a journal and notes.
func New(j Journal, n Notes, o Options) *Bench {
	b := &Bench{notes: n, journal: j, o: o, known: map[string]*knowledge{}, plains: map[string]*knowledge{}, views: map[string]*kept{}, listed: map[string]line{},
		mull: make(chan struct{}, 1)}
	b.school = school.New(j, closings{b}, school.Options{Files: o.Files})
	return b
}

func (b *Bench) now() time.Time {
	if b.o.Now != nil {
		return b.o.Now()
	}
	return time.Now()
}

// day is the day it was at the bench at a moment, which the journal keeps in UTC.
func (b *Bench) day(t time.Time, layout string) string {
	if b.o.Zone == nil {
		return t.Local().Format(layout)
	}
	return t.In(b.o.Zone).Format(layout)
}

// letters are those that are not mistaken for one another when read aloud or copied by hand.
const letters = "bcdfghjkmnpqrstvwxz23456789"

// newID is a short random name: six letters are some 400 million.
func (b *Bench) newID() string {
	if b.o.NewID != nil {
		return b.o.NewID()
	}
	var raw [6]byte
	rand.Read(raw[:]) // never fails, see crypto/rand
	for i := range raw {
		raw[i] = letters[int(raw[i])%len(letters)]
	}
	return string(raw[:3]) + "-" + string(raw[3:])
}
