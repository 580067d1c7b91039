package casework

// Events of rework at the board; payloads in this file.
const (
	KindStepped  Kind = "stepped"  // Stepped
	KindRemoved  Kind = "removed"  // Removed
	KindRefitted Kind = "refitted" // Refitted
	KindOriented Kind = "oriented" // Oriented
	KindTagged   Kind = "tagged"   // Tagged
)

// reworkKind tells the kinds of this file.
func reworkKind(k Kind) bool {
	switch k {
	case KindStepped, KindRemoved, KindRefitted, KindOriented, KindTagged:
		return true
	}
	return false
}

// Stepped ticks a step of rework off, or says that it is not done after all.
type Stepped struct {
	Family string `json:"family"`         // package family, see package rework
	Part   string `json:"part,omitempty"` // designator, or what the part is
	Step   string `json:"step"`
	Done   bool   `json:"done"`
}

// Removed says what was taken off and where it is kept, so that none is left over.
type Removed struct {
	Sort  string `json:"sort"` // "screws", "cable" or "other"
	What  string `json:"what"`
	Where string `json:"where,omitempty"`
	Count int    `json:"count"`
}

// Refitted says that so many of what event Removed took off are back.
type Refitted struct {
	Removed int `json:"removed"`
	Count   int `json:"count"`
}

// Oriented says which way round a part sat before it was taken out, or sits after
// it was fitted.
type Oriented struct {
	Mark   string `json:"mark"`           // designator, or what the part is
	Sort   string `json:"sort,omitempty"` // "electrolytic", "diode" …, see package rework
	Side   string `json:"side,omitempty"` // "front" or "back"
	When   string `json:"when"`           // "before" or "after"
	Points string `json:"points"`         // one of package rework's directions
	Words  string `json:"words,omitempty"`
}

// Tagged is a designator put on a picture.
type Tagged struct {
	Photo  string  `json:"photo"` // hash
	Mark   string  `json:"mark"`
	Sort   string  `json:"sort,omitempty"` // of polarised part
	X      float64 `json:"x"`              // 0 left … 1 right, on the picture
	Y      float64 `json:"y"`              // 0 top … 1 bottom
	Points string  `json:"points,omitempty"`
	Words  string  `json:"words,omitempty"` // landmark: "towards the screw hole"
}

// The deeds.

// Stepping ticks a step off; Undone takes the tick away.
type Stepping struct {
	By
	Family string
	Part   string
	Step   string
	Undone bool
}

// Removing is something taken off the device.
type Removing struct {
	By
	Sort  string
	What  string
	Where string
	Count int // 0: 1
}

// Refitting puts back what an event took off; Count 0 is all that is still out.
type Refitting struct {
	By
	Removed int
	Count   int
}

// Orienting says which way round a part sits.
type Orienting struct {
	By
	Oriented
}

// Tagging puts a designator on a picture.
type Tagging struct {
	By
	Tagged
}
