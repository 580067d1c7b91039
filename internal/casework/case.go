package casework

import (
	"time"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/shelf"
)

// A Case is what the events of one case amount to, given the note of its device.
type Case struct {
	ID     string
	Seq    int         // number of its last event
	Model  *note.Model // nil if there is no note
	Opened Opened
	Since  time.Time // when it was opened
	Last   time.Time // of the last event

	Evidence belief.Evidence
	Looks    []Look // one per Evidence.Seen
	Acts     []int  // one per Evidence.Acts: the event of the repair

	Access  int // index into Model.Access
	Money   float64
	Minutes float64
	Pending bool                 // repaired and not tested since
	Works   bool                 // the last trial of the whole went well, and nothing has shown or been repaired since
	AtHand  map[int]bool         // repairs whose parts were bought and are here
	Shelf   map[int][]shelf.Pick // repairs whose parts are all on the shelf: what to take
	Donors  map[int][]shelf.Pick // what is missing for a repair and still on a board
	Checks  map[int]int          // how often each check was done
	Repairs map[int]int          // how often each repair was done
	Offers  []Offer              // what can be bought, as last written down
	Orders  []int                // events of orders outstanding

	Settings Settings
	Closed   *ClosedCase
	ClosedAt time.Time
	Timeline []Entry
	Ignored  []string // what the journal names and the note does not know

	names  *names
	orders map[int]Ordered
	part   map[int][]shelf.Pick // per repair, what is on the shelf of it if not all is
	lacks  map[int][]int        // per repair, how many of each item are not on the shelf
	rework atBoard
	proof  proof
	trials []trial      // of the whole
	been   map[int]bool // access levels at which something was done
}

// A Look says where an observation came from.
type Look struct {
	Event int
	At    time.Time
	From  string
	Value Value
	// Implied says that nobody looked for this: it follows from the whole working.
	Implied bool
}

// standing lists the observations that no later look in the same epoch replaced.
func (c *Case) standing() []int {
	type key struct{ finding, epoch int }
	last := map[key]int{}
	for i, o := range c.Evidence.Seen {
		last[key{o.Finding, o.Epoch}] = i
	}
	var out []int
	for i, o := range c.Evidence.Seen {
		if last[key{o.Finding, o.Epoch}] == i {
			out = append(out, i)
		}
	}
	return out
}
