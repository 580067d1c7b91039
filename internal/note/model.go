package note

// A Model is one device composed from its notes: what can be wrong with it, what
// each fault does, what can be seen, and what can be done. It is what a set of
// bench notes means once every name has been resolved; nothing in it refers to
// YAML any more. Cross references are indexes into the slices of the same
// Model, because the belief engine walks them millions of times; every item
// also has an ID ("supply.reservoir.dried-out") that is stable across versions
// of a note, which is what a journal stores.
//
// A Model is immutable after it has been built and safe for concurrent use.
type Model struct {
	ID         string
	Title      string
	About      string
	Category   string   // product category of the open repair data standard
	Names      []string // other words people use for such a device
	MassKg     float64  // mass of one device, 0 if not stated
	Worth      float64  // what a working one is worth second-hand, in Currency
	Scrap      float64  // what a dead one brings or saves as a donor, in Currency
	TryMinutes float64  // what trying whether it works takes, 0 for the usual few minutes
	Currency   string   // currency of every price in the notes, "EUR"

	Hazards    []Hazard
	Units      []Unit      // the blocks the device is made of
	Access     []Access    // Access[0] is the closed device
	Conditions []Condition // upstream before downstream
	Parts      []Part
	Modes      []Mode // causes before what they bring about
	Findings   []Finding
	Checks     []Check
	Repairs    []Repair
	Trials     []Trial
}

// Class is the coarse kind of cause a fault mode is counted under when cases
// are compared across devices, one of Classes.
type Class string

// A Unit is one block in the device.
type Unit struct {
	ID    string // "supply"; the device's own parts are in the unit ""
	Title string
	Block string // the note it came from
}

// A Condition is a node of the device's cause-and-effect graph: a rail, a
// signal, a motion, or the state of one part. Its states are ordered by
// severity, States[0] being good. In a candidate its state is the most severe
// of what the present faults do to it and what it inherits from upstream.
type Condition struct {
	ID     string
	Title  string
	Unit   int
	States []string
	From   []Link
}

// A Link says what an upstream condition does to this one: when From is in
// state s, this condition is at least in state Map[s].
type Link struct {
	Cond int
	Map  []int
}

// A Part is a component, or a group of alike ones, that can fail.
type Part struct {
	ID    string
	Title string
	Unit  int
	Kind  string // "electrolytic capacitor"
	Mark  string // designators, "C1, C2"
	Value string // "4700 µF 63 V"
	Count int
	Cond  int // the condition that tells this part's own state: States[0] "sound", then its modes
}

// A Mode is one way in which a part fails.
type Mode struct {
	ID       string // "supply.reservoir.dried-out"
	Name     string // "dried-out"
	Title    string // "reservoir capacitors dried out"
	Part     int
	Class    Class
	Subclass string
	// Odds are the prior odds of the mode in a device that was brought in as
	// broken; together the modes of a device are scaled so that a second
	// independent fault is about one in eight.
	Odds    float64
	Basis   string // where the prior comes from, in words
	Effects []Effect
	// Causes are the modes that bring this one about, each with its chance:
	// P(mode | causes present) = 1 - (1-p)·Π(1-chance), p = Odds/(1+Odds).
	Causes []Cause
}

// An Effect is what a mode does for certain: Cond is at least in State.
type Effect struct {
	Cond  int
	State int
}

// A Cause says that Mode brings about the mode it belongs to with Chance.
type Cause struct {
	Mode   int
	Chance float64
}

// FindingKind tells how a finding's value depends on the candidate.
type FindingKind int

const (
	// Sign shows or does not show; P(shows) is a noisy-OR with leak over Triggers.
	Sign FindingKind = iota
	// Pick is one of several Answers, by a table on the state of Cond.
	Pick
	// Reading is a number, distributed by the state of Cond.
	Reading
)

// A Finding is something that can be observed.
type Finding struct {
	ID      string
	Title   string
	Ask     string // the question to put to whoever looks
	Kind    FindingKind
	Unit    int
	Check   int      // the check that reveals it, or -1 for a symptom seen from outside for free
	Says    []string // how people put it
	Comes   bool     // may come and go: count it as n of m rather than yes or no
	Denies  []int    // the symptoms that are not there while this one is
	Leak    float64
	Trigger []Trigger

	Cond    int         // Pick, Reading: the condition it depends on
	Answers []string    // Pick
	Table   [][]float64 // Pick: Table[state of Cond][answer], each row sums to 1
	Measure string      // Reading: base unit, "V"
	Dist    []Dist      // Reading: per state of Cond
}

// A Trigger is one cause in a Sign's noisy-OR: a fault mode (Mode ≥ 0), or
// (Mode < 0) the condition Cond being in one of the States (bit s set).
type Trigger struct {
	Mode   int
	Cond   int
	States uint64
	Chance float64
}

// A Dist is the distribution of a reading in one state: normal, or normal in
// the logarithm, such that 90 % of readings lie from Low to High. Over and
// Under mark half-open ranges ("over 1 MΩ"), uniform beyond their one edge.
type Dist struct {
	Low, High float64
	Log       bool
	Over      bool // at or above Low; the meter may show overload (+Inf)
	Under     bool // at or below High
}

// A Check is something one does to learn, at a cost, one or more findings.
type Check struct {
	ID       string
	Title    string
	How      string
	With     []string // instruments: "multimeter", "series lamp"
	Unit     int
	Minutes  float64
	Access   int
	Live     bool // done with power on
	Hazards  []Hazard
	Harm     float64 // chance of breaking something by doing it
	Findings []int
}

// A Repair is something one does to clear fault modes.
type Repair struct {
	ID      string
	Title   string
	How     string
	With    []string
	Unit    int
	Clears  []Clear
	Minutes float64
	Access  int
	Live    bool
	Hazards []Hazard
	Buys    []Item
	Price   float64 // sum of Buys
	Days    float64 // waiting for the parts when they are not at hand, or for it to dry
	Harm    float64 // chance of doing harm
	Harms   int     // the mode that harm brings, or -1 if it is not modelled
	Whole   bool    // swaps a whole block rather than parts of it
}

// A Clear says that a repair removes Mode with chance Success.
type Clear struct {
	Mode    int
	Success float64
}

// An Item is something to buy for a repair.
type Item struct {
	What  string
	Count int
	Price float64 // of one
}

// Access is how far the device is opened. Behind is the access one has to pass
// first; Access[0] is closed and has Behind -1.
type Access struct {
	ID           string
	Title        string
	How          string
	Behind       int
	OpenMinutes  float64
	CloseMinutes float64
	Tries        bool // the device can be powered and tried while it is this far open
}

// A Hazard is a way to get hurt, with the caution that is shown where it matters.
type Hazard struct {
	Kind   string // one of HazardKinds: "mains", "stored charge", …
	Text   string // what is special here; empty for the kind's usual caution
	Volts  float64
	Joules float64
}

// A Trial is a test case inside a note: with these findings, this suspect comes first.
type Trial struct {
	Title  string
	Given  []Given
	Expect []string // mode IDs, or prefixes of them, any of which may come first
	Within int      // "among the first n", 1 if not stated
	Where  Pos
}

// Given is one observation of a trial.
type Given struct {
	Finding int
	Value   int
	Reading float64
}

// Pos is a place in a note file.
type Pos struct {
	File         string
	Line, Column int
}
