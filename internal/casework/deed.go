package casework

import "context"

// A Deed is something the bench reports: what one of the types below holds.
// Numbers left nil take what the note says. Each becomes one event.
type Deed interface {
	by() By
	// draft checks the deed against the case and makes the event's kind and payload.
	draft(ctx context.Context, s scene) (Kind, any, error)
}

// A scene is where a deed is done.
type scene struct {
	b *Bench
	c *Case
}

// By says who reports, and what they had seen when they did.
type By struct {
	Who    string // name of the person, free; may be empty
	Seen   int    // Header.Seq of the View they acted on; 0 for no matter
	Really bool   // what is hard to believe was really so
}

func (b By) by() By { return b }

// An Answer is what was found, in plain text: for a sign "yes", "no" or "3 of
// 10"; for a pick one of its answers; for a reading a value with its unit or
// "overload".
type Answer struct {
	Finding string
	Text    string
}

// Opening begins a case. Device is a note ID; without one, Category chooses the
// generic note of that category if there is one.
type Opening struct {
	By
	ID       string // a name for the case; empty for a new one
	Device   string
	Category string
	Label    string
	Age      float64
	Worth    *float64
	Owner    Owner
	Demo     bool
}

// Saying is free text: what the owner says is wrong.
type Saying struct {
	By
	Text   string
	Except []string // findings it is not to be read as
}

// Noticing is symptoms seen, or looked for and not there.
type Noticing struct {
	By
	Answers []Answer
	Before  int // event of the repair before which this held; 0 for now
}

// Checking is a check done. Before is the event of the repair that took the
// tested part out; 0 if it was tested in the device as it is now.
type Checking struct {
	By
	Check   string
	Answers []Answer
	Minutes *float64
	Before  int
}

// OpeningUp says how far the device is open now: an access level of the note.
type OpeningUp struct {
	By
	Access  string
	Minutes *float64
}

// Repairing is a repair done. Without Repair it is one the note does not know, and What says what.
type Repairing struct {
	By
	Repair  string
	What    string
	Money   *float64 // nil: what the note says, or 0 if the parts had been bought before or are on the shelf
	Minutes *float64
	NoShelf bool // leave on the shelf what is there

	books bool    // write down what is taken from the shelf
	kept  *[]Took // correction: what was taken
}

// Testing is a trial of the whole device. If it works, the symptoms it came
// with are taken to be gone and no other to have come; otherwise Answers say what it shows.
type Testing struct {
	By
	Works   bool
	Answers []Answer
	Minutes *float64
	Open    bool // it was tried open and still is
}

// Ordering is parts bought for repairs.
type Ordering struct {
	By
	Repairs []string
	What    string
	Money   float64
	Days    float64
	Here    bool // at hand at once, from a shelf or a shop
}

// Arriving says that an order is there; Order 0 is the only one outstanding.
type Arriving struct {
	By
	Order int
}

// Remarking is a remark.
type Remarking struct {
	By
	Text    string
	Private bool // not part of any export or write-up unless asked for
}

// Photographing names a picture by the SHA-256 of its content, in hexadecimal.
type Photographing struct {
	By
	Hash    string
	Caption string
	About   int
	Thumb   string // SHA-256 of the small one, may be empty
	Width   int    // pixels, 0 not known
	Height  int
	Side    string // of the board: "front", "back" or ""
	Stage   string // "before", "after" or ""
}

// Settling changes settings.
type Settling struct {
	By
	Settled
}

// Closing ends a case. Was, if given, says which faults it was; else that is computed.
type Closing struct {
	By
	Verdict Verdict
	Was     []string
	Kg      *float64
	Barrier string // what stood in the way, if it was not fixed; may be empty
	Remark  string
}

// Reopening takes a closed case up again.
type Reopening struct {
	By
	Why string
}
