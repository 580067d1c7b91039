package soak

import (
	"fmt"
	"time"
)

// EventKind is what happened in a soak.
type EventKind string

const (
	Started  EventKind = "started"  // switched on
	Paused   EventKind = "paused"   // switched off; it was clean until then
	Clean    EventKind = "clean"    // looked at: it was clean until now and goes on
	Recurred EventKind = "recurred" // the symptom showed
)

// Heat is how warm a device is when it is switched on, if somebody says so.
type Heat string

const (
	HeatUnknown Heat = "" // reckoned from the times on and off; cold at first
	HeatCold    Heat = "cold"
	HeatWarm    Heat = "warm"
)

// An Event is something that happened at a time.
type Event struct {
	At   time.Time
	Kind EventKind
	Heat Heat // Started only
}

// State is where a soak stands.
type State string

const (
	NotStarted State = "not started"
	Running    State = "running"
	Resting    State = "paused"
	Proved     State = "clean long enough" // it may go on running
	Failed     State = "recurred"
)

// A Tally is how far a soak has got.
type Tally struct {
	State   State
	On      bool // the device is on
	Unit    Unit
	Need    float64
	Counted float64 // confirmed clean minutes or starts that count
	Pending float64 // more of them since somebody last looked
	Left    float64 // still to be had, Counted only
	Fixed   float64 // chance that it is fixed by what is Counted; 0 after a recurrence
	IfClean float64 // the same if what is Pending turns out clean

	OnMin    float64 // time on in all
	Starts   int
	ColdOnes int
	WarmOnes int
	Heat     float64 // 0 cold … 1 warmed through
	RunMin   float64 // length of the present run
	Oddities []string
}

// Follow folds the events of a soak, in their order, into how it stands at now.
// Nothing is kept between calls: the same question, events and now give the same
// tally. Times that run backwards count as no time and are reported in
// Tally.Oddities, as is an event that makes no sense where it stands; after a
// recurrence nothing counts. An unknown kind or a missing time is an error.
func Follow(q Question, events []Event, now time.Time) (Tally, error) {
	p, err := Make(q)
	if err != nil {
		return Tally{}, err
	}
	f := fold{q: p.Question, Tally: Tally{State: NotStarted, Unit: p.Unit, Need: p.Need}}
	for i, e := range events {
		if err := f.take(i+1, e); err != nil {
			return Tally{}, err
		}
	}
	if !f.last.IsZero() && f.State != Failed && now.After(f.last) {
		f.pass(now.Sub(f.last).Minutes())
	}
	return f.result(), nil
}

// fold is the state between two events.
type fold struct {
	Tally
	q        Question
	last     time.Time
	from     Heat // heat at the last start
	credited bool // the present run has counted as a start
	looked   bool // somebody has seen it clean
}

func (f *fold) take(i int, e Event) error {
	if e.At.IsZero() {
		return &FieldError{fmt.Sprintf("the time of event %d", i), "missing", "when it happened"}
	}
	switch {
	case f.State == Failed:
		f.odd(i, e, "comes after the recurrence and is left out; plan a new soak after the next repair")
		return known(i, e)
	case f.last.IsZero():
	case e.At.Before(f.last):
		f.odd(i, e, "is timed before the one before it; the time between counts as nothing")
	default:
		f.pass(e.At.Sub(f.last).Minutes())
	}
	if f.last.IsZero() || e.At.After(f.last) {
		f.last = e.At
	}
	switch e.Kind {
	case Started:
		return f.start(i, e)
	case Paused, Clean:
		if !f.On {
			f.odd(i, e, "comes while the device is off")
			return nil
		}
		f.Counted, f.Pending = f.Counted+f.Pending, 0
		f.looked = true
		if e.Kind == Paused {
			f.On, f.State, f.RunMin = false, Resting, 0
		}
	case Recurred:
		f.State, f.On = Failed, false
	default:
		return known(i, e)
	}
	return nil
}

func known(i int, e Event) error {
	switch e.Kind {
	case Started, Paused, Clean, Recurred:
		return nil
	}
	return &FieldError{fmt.Sprintf("the kind of event %d", i), "\"" + string(e.Kind) + "\"",
		"\"started\", \"paused\", \"clean\" or \"recurred\""}
}

func (f *fold) odd(i int, e Event, what string) {
	if len(f.Oddities) < 20 {
		f.Oddities = append(f.Oddities, fmt.Sprintf("event %d (%q) %s", i, e.Kind, what))
	}
}

func (f *fold) start(i int, e Event) error {
	if f.On {
		f.odd(i, e, "comes while the device is on")
		return nil
	}
	switch e.Heat {
	case HeatUnknown:
	case HeatCold:
		f.Tally.Heat = 0
	case HeatWarm:
		f.Tally.Heat = 1
	default:
		return &FieldError{fmt.Sprintf("the heat of event %d", i), "\"" + string(e.Heat) + "\"", "\"cold\", \"warm\" or nothing"}
	}
	f.On, f.State, f.RunMin, f.credited = true, Running, 0, false
	f.Starts++
	switch h := f.Tally.Heat; {
	case h <= coldAt:
		f.from = HeatCold
		f.ColdOnes++
	case h >= warmAt:
		f.from = HeatWarm
		f.WarmOnes++
	default:
		f.from = HeatUnknown
	}
	return nil
}

// result fills in what follows from the counts.
func (f *fold) result() Tally {
	t := f.Tally
	t.Left = max(0, t.Need-t.Counted)
	if t.Left <= 1e-9*t.Need {
		t.Left = 0
	}
	if t.State == Failed {
		t.Fixed, t.IfClean = 0, 0
		return t
	}
	t.Fixed, t.IfClean = f.q.fixed(t.Counted), f.q.fixed(t.Counted+t.Pending)
	if t.Left == 0 && f.looked {
		t.State = Proved
	}
	return t
}
