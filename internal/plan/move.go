package plan

import (
	"fmt"
	"math"
)

// Kind is the sort of a move.
type Kind int

const (
	// Check is doing one of the model's checks.
	Check Kind = iota
	// Repair is doing one of the model's repairs.
	Repair
	// Test is putting the device together as far as needed, powering it and
	// seeing whether it works: the test of the whole.
	Test
	// Stop is to leave off: scrap it, pass it on, or keep it for parts.
	Stop
)

func (k Kind) String() string {
	switch k {
	case Check:
		return "check"
	case Repair:
		return "repair"
	case Test:
		return "test"
	default:
		return "stop"
	}
}

// A Move is something to do next. Index is the check or repair; -1 for Test and Stop.
type Move struct {
	Kind  Kind
	Index int
}

// Settings are what this bench and its owner make of costs and risks. The zero
// value is a bench that counts neither time nor waiting, has every instrument
// and shies at nothing.
type Settings struct {
	Rate    float64  // money per hour of own time; may be 0
	DayRate float64  // money per day of waiting for parts
	Worth   float64  // what the working device is worth to its user
	Scrap   float64  // what the broken device still brings when one stops
	Budget  float64  // most money to spend on it, 0 for no limit
	Lacks   []string // instruments this bench does not have
	NoLive  bool     // nothing is done with power on and the device open
	Refuse  []string // kinds of hazard not to go near
	Premium float64  // money per move that carries a hazard: what the risk is worth avoiding
}

// Validate returns a sentence about the first figure that makes no sense.
func (s Settings) Validate() error {
	for _, x := range []struct {
		name string
		v    float64
	}{{"the rate per hour", s.Rate}, {"the cost of a day's waiting", s.DayRate}, {"the worth of the device", s.Worth},
		{"the scrap value", s.Scrap}, {"the budget", s.Budget}, {"the premium for hazards", s.Premium}} {
		if math.IsNaN(x.v) || math.IsInf(x.v, 0) || x.v < 0 || x.v > 1e9 {
			return fmt.Errorf("%s is %v; it must be a figure from 0 to a thousand million", x.name, x.v)
		}
	}
	return nil
}

// A Situation is where the case stands besides the belief.
type Situation struct {
	Access  int          // how far the device is open, an index into the model's Access
	Spent   float64      // money spent so far
	AtHand  map[int]bool // repairs whose parts are at hand: no price, no waiting
	Known   map[int]bool // findings already looked at in this epoch
	Pending bool         // a repair was done and the whole not tested since
	Done    map[int]bool // repairs already done; made again they have less of a chance (see encore)
}

// Cost is what a move takes, before anything is learnt from it.
type Cost struct {
	Money   float64 // parts
	Minutes float64 // the work itself
	Access  float64 // minutes of opening or closing to get there
	Days    float64 // waiting
	Hazard  float64 // premium
	Harm    float64 // chance of doing harm × worth
	Total   float64 // all of it in money
}

// A Ranked move is one candidate for what to do next.
type Ranked struct {
	Move
	Cost    Cost
	Total   float64 // expected cost from now to the end when this is done first and the best after it
	Behind  float64 // how much more that is than for the best move
	Results []Result
	Blocked string  // why it cannot be done on this bench, "" if it can: "you have no ESR meter"
	Cures   float64 // Repair: chance that this clears what is wrong
	Bears   float64 // Check: how far it shifts the chances of what is suspected, in the mean
	Pays    *Break  // the break-even that decided between it and the runner-up, if there is one
}

// A Result is one way a move can come out.
type Result struct {
	Values []Value // the findings' outcomes; empty for a repair, a test or stop
	Works  bool    // Test: it works
	P      float64
	Next   Move      // what would then be best
	Total  float64   // expected cost after it
	Tops   []Suspect // what one would then believe
}

// A Value is an outcome of one finding: Outcome indexes belief.Engine.Outcomes.
type Value struct {
	Finding int
	Outcome int
}

// A Suspect is a mode with its chance.
type Suspect struct {
	Mode int
	P    float64
}

// A Break is a break-even: the move pays against Rival while What is on the given side of At.
type Break struct {
	What  string // RepairMinutes, RepairPrice or DeviceWorth
	At    float64
	Over  bool    // pays when above
	Now   float64 // what the figure is now
	Rival Move    // the move it ties with at At
}

// Advice is the answer to "what next?".
type Advice struct {
	Best    Ranked
	Ranking []Ranked // best first, Stop among them; blocked moves last
	// Gain is what going on from here is expected to leave at least: worth × chance of
	// success less all costs, relative to stopping at once. Negative or zero means stop.
	Gain float64
	// Success is the chance that the device will work in the end, Money and Minutes what is
	// expected to be spent until then, under the plan as far as it is thought out: the best move, the
	// next where that was looked into, and from there on the base policy. Advice asked for anew at
	// every place looks more often and gives up later. So this is what can be counted on, not what to expect: on
	// shipped devices Rehearse, which follows the advice itself, finds Success higher by a tenth
	// or so. Where there is time for it, its Outlook is the better founded one.
	Success float64
	Money   float64
	Minutes float64
	// StopAfter are the repairs after which, if it still does not work and nothing
	// else was learnt, going on no longer pays: the point to stop, stated in advance.
	StopAfter []int
	Batch     *Batch  // why further repairs go with the best one before the test, nil if they do not
	Going     *Break  // the worth of the device above which going on beats stopping at once, nil if it never or always does
	Depth     int     // how many moves were looked ahead
	Lower     float64 // no policy can expect to cost less than this
}
