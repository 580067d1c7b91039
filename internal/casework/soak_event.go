package casework

import "fettler/internal/soak"

// Events of proof: is it fixed, or merely resting. Payloads in this file.
const (
	KindSoakPlanned Kind = "soak-planned" // SoakPlanned
	KindSoaked      Kind = "soaked"       // Soaked
	KindGoneOver    Kind = "gone-over"    // GoneOver
)

// proofKind tells the kinds of this file.
func proofKind(k Kind) bool {
	switch k {
	case KindSoakPlanned, KindSoaked, KindGoneOver:
		return true
	}
	return false
}

// SoakHistory is how the symptom showed before the repair; package soak says what counts how.
type SoakHistory struct {
	Pattern  string  `json:"pattern"`            // "each time", "on average", "in a time" or "of starts"
	EveryMin float64 `json:"everyMin,omitempty"` // on average: minutes between showings
	Seen     int     `json:"seen,omitempty"`     // on average: showings that rests on, 0 by feel
	Times    int     `json:"times,omitempty"`    // in a time: how many times
	InMin    float64 `json:"inMin,omitempty"`    // in a time: in how many minutes
	Shown    int     `json:"shown,omitempty"`    // of starts: at so many it showed
	Of       int     `json:"of,omitempty"`       // of starts, each time: starts watched
	When     string  `json:"when,omitempty"`     // "cold", "warm", "late"; empty for any time
	AfterMin float64 `json:"afterMin,omitempty"` // late: only after so many minutes of running
}

func (h SoakHistory) soak() soak.History {
	return soak.History{Pattern: soak.Pattern(h.Pattern), EveryMin: h.EveryMin, Seen: h.Seen, Times: h.Times, InMin: h.InMin, Shown: h.Shown, Of: h.Of,
		When: soak.When(h.When), AfterMin: h.AfterMin}
}

func historyOf(h soak.History) SoakHistory {
	return SoakHistory{Pattern: string(h.Pattern), EveryMin: h.EveryMin, Seen: h.Seen, Times: h.Times, InMin: h.InMin, Shown: h.Shown, Of: h.Of,
		When: string(h.When), AfterMin: h.AfterMin}
}

// SoakPlanned begins a soak: how the symptom showed, and how sure one wants to be.
type SoakPlanned struct {
	SoakHistory
	Still *float64 `json:"still,omitempty"` // chance that the fault is still there; nil: what the case makes one believe
	Sure  float64  `json:"sure,omitempty"`  // wanted chance that it is fixed; 0 for 0.95
}

// Soaked is what happened in the soak begun last.
type Soaked struct {
	What   string  `json:"what"`             // "started", "paused", "clean" or "recurred"
	Heat   string  `json:"heat,omitempty"`   // started: "cold" or "warm", if somebody says so
	Values []Value `json:"values,omitempty"` // recurred: what it shows
}

// GoneOver is points of the test list done.
type GoneOver struct {
	Points []PointDone `json:"points"`
}

// PointDone is one point of the test list: "good", "bad" or "not here", which is
// for what the device has not got; empty takes back what was said before.
type PointDone struct {
	Point  string `json:"point"`
	Result string `json:"result,omitempty"`
	Words  string `json:"words,omitempty"`
}

// PointResults returns the results a point of the test list can have.
func PointResults() []string { return []string{"good", "bad", "not here"} }

// SoakWhats returns what can happen in a soak.
func SoakWhats() []string {
	return []string{string(soak.Started), string(soak.Paused), string(soak.Clean), string(soak.Recurred)}
}

// The deeds.

// SoakPlanning begins a soak.
type SoakPlanning struct {
	By
	SoakPlanned
}

// Soaking says what happened in the soak: it was switched on or off, was looked
// at and clean, or showed the symptom again. Answers, for the last, say what showed.
type Soaking struct {
	By
	What    string
	Heat    string
	Answers []Answer
}

// GoingOver writes down points of the test list.
type GoingOver struct {
	By
	Points []PointDone
}
