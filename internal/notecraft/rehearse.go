package notecraft

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
)

// Options set how a note is rehearsed. The zero value is the default.
type Options struct {
	Faults []int // the modes to draw; nil means every one of the note
	// Most bounds how many faults are drawn if Faults is nil; 0 means 60, less than
	// 0 all of them. Where the note has more they are taken at even steps of the
	// summed odds, and each counts for its steps.
	Most int

	Seed     uint64      // of every draw; the same seed gives the same report
	Runs     int         // how often each fault is drawn; 0 means once
	Drawn    bool        // symptoms are drawn from the note's chances instead of taken at their likeliest
	Denied   bool        // symptoms that do not show are stated as not there, instead of not mentioned
	Cheapest bool        // the planner's cheapest move is followed, not the one shown (plan.Advice.Careful): for comparison
	Moves    int         // moves after which a run is given up; 0 means 25
	Workers  int         // runs at once; 0 means one per processor
	Effort   plan.Effort // how long the planner thinks about each move
	Belief   belief.Options
	// Bench is whose costs count. If it states no worth, the note's worth and
	// scrap value are taken, or 50 where the note has none, time at 4 an hour
	// and waiting at 0.20 a day.
	Bench plan.Settings
}

// defaultWorth is taken for a device whose note does not say what it is worth;
// defaultRate and defaultDayRate are what an evening's hour and a day of waiting are
// counted as. They are judgements: enough that advice does not waste time, little
// enough that a note is judged by what it can find rather than by thrift.
const (
	defaultWorth   = 50
	defaultRate    = 4
	defaultDayRate = 0.2
	defaultMoves   = 25
	defaultMost    = 60

	// A run asks for many beliefs with many repairs behind them; these bounds keep
	// each cheap. What they cost in precision is far below what one draw decides.
	defaultCandidates = 60
	defaultStates     = 4000
)

func (o Options) withDefaults(m *note.Model) Options {
	o.Runs = max(1, o.Runs)
	if o.Moves <= 0 {
		o.Moves = defaultMoves
	}
	if o.Most == 0 {
		o.Most = defaultMost
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	if o.Belief.Candidates == 0 {
		o.Belief.Candidates = defaultCandidates
	}
	if o.Belief.MaxStates == 0 {
		o.Belief.MaxStates = defaultStates
	}
	if o.Bench.Worth == 0 {
		o.Bench.Worth, o.Bench.Scrap = m.Worth, m.Scrap
		if o.Bench.Worth == 0 {
			o.Bench.Worth = defaultWorth
		}
		if o.Bench.Rate == 0 {
			o.Bench.Rate = defaultRate
		}
		if o.Bench.DayRate == 0 {
			o.Bench.DayRate = defaultDayRate
		}
	}
	return o
}

// faults settles which modes are drawn, and returns what each counts for.
func (o *Options) faults(m *note.Model) map[int]float64 {
	weights := map[int]float64{}
	sum := 0.0
	for i := range m.Modes {
		weights[i] = m.Modes[i].Odds
		sum += m.Modes[i].Odds
	}
	if o.Faults != nil {
		return weights
	}
	if o.Most < 0 || o.Most >= len(m.Modes) {
		for i := range m.Modes {
			o.Faults = append(o.Faults, i)
		}
		return weights
	}
	clear(weights)
	step := sum / float64(o.Most)
	next, so := step/2, 0.0
	for i := range m.Modes {
		for so += m.Modes[i].Odds; next < so; next += step {
			weights[i]++
		}
		if weights[i] > 0 {
			o.Faults = append(o.Faults, i)
		}
	}
	return weights
}

// An End is how a run ended.
type End int

const (
	// Cured: the fault and what it brought are gone, and the test of the whole passed.
	Cured End = iota
	// Hidden: the test of the whole passed although the fault is still there.
	Hidden
	// Stopped: the advice was to stop, with the fault still there.
	Stopped
	// Lost: there was no end after as many moves as were allowed.
	Lost
	// Silent: the fault shows in no symptom, so nobody would bring the device.
	Silent
)

func (e End) String() string {
	return [...]string{"cured", "hidden", "stopped", "lost", "silent"}[e]
}

// A Run is the advice followed against one fault.
type Run struct {
	Mode    int   // the fault that was drawn
	There   []int // it and the damage it brought, ascending
	Shown   []int // the symptoms that were stated
	End     End
	Named   int // number of moves after which the fault was first the likeliest suspect; -1 if it never was
	Moves   []plan.Move
	Money   float64
	Minutes float64
	Days    float64
}

// Rehearse breaks the device in every way its note knows, one fault after the
// other, follows the advice as it is shown against each, and reports which are found
// and at what cost, and what in the note is of no use.
func Rehearse(ctx context.Context, m *note.Model, o Options) (*Report, error) {
	o = o.withDefaults(m)
	e, err := belief.New(m, o.Belief)
	if err != nil {
		return nil, fmt.Errorf("rehearsing %s: %w", m.ID, err)
	}
	if err := o.Bench.Validate(); err != nil {
		return nil, fmt.Errorf("rehearsing %s: %w", m.ID, err)
	}
	weights := o.faults(m)
	for _, i := range o.Faults {
		if i < 0 || i >= len(m.Modes) {
			return nil, fmt.Errorf("rehearsing %s: there is no fault %d, the note has %d", m.ID, i, len(m.Modes))
		}
	}
	s := &stage{m: m, e: e, o: o, house: newHouse(m), known: map[string]*answer{}, weights: weights}
	runs := make([]Run, len(o.Faults)*o.Runs)
	errs := make([]error, len(runs))
	jobs := make(chan int)
	var crew sync.WaitGroup
	for range min(o.Workers, len(runs)) {
		crew.Go(func() {
			for k := range jobs {
				runs[k], errs[k] = s.run(ctx, o.Faults[k/o.Runs], k%o.Runs)
			}
		})
	}
	for k := range runs {
		jobs <- k
	}
	close(jobs)
	crew.Wait()
	for k, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("rehearsing %s with %s: %w", m.ID, m.Modes[runs[k].Mode].ID, err)
		}
	}
	return s.report(runs), nil
}
