package web

import "math"

// A Tape is a chance drawn as a length on a measure 1000 units long.
type Tape struct {
	Now     int // length of the filled part
	Before  int // where the triangle stands
	Moved   bool
	Unknown bool // hatched: a fault the note does not know
}

func newTape(now, before float64, unknown bool) Tape {
	t := Tape{Now: along(now), Before: along(before), Unknown: unknown}
	t.Moved = moved(now, before)
	return t
}

// moved says that a chance has changed so much that one can see it.
func moved(now, before float64) bool { return math.Abs(now-before) >= 0.01 }

// along is a chance as a length; what is there at all can be seen.
func along(p float64) int {
	switch {
	case math.IsNaN(p) || p <= 0:
		return 0
	case p >= 1:
		return 1000
	}
	return max(4, int(math.Round(1000*p)))
}
