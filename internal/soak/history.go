package soak

import "math"

// Pattern is how it is known how often the symptom showed.
type Pattern string

const (
	EachTime  Pattern = "each time"   // at every start; Shown and Of say how often that was tried, if known
	OnAverage Pattern = "on average"  // once in EveryMin on average
	InTime    Pattern = "in a time"   // Times times in InMin
	OfStarts  Pattern = "of starts"   // at Shown of Of starts
	byFeel            = 3             // showings that an average or "each time" by feel counts for
	atMostMin         = 10_000 * 60.0 // 10,000 hours
)

// When is the condition in which alone the symptom shows.
type When string

const (
	Anytime When = ""
	Cold    When = "cold"
	Warm    When = "warm"
	Late    When = "late" // only after AfterMin of running
)

// A History is how the symptom showed before the repair.
type History struct {
	Pattern Pattern

	EveryMin float64 // OnAverage: minutes between showings
	Seen     int     // OnAverage: showings the average rests on; 0 for by feel, which counts as 3
	Times    int     // InTime: how many times
	InMin    float64 // InTime: in how many minutes
	Shown    int     // OfStarts, EachTime: starts at which it showed
	Of       int     // OfStarts, EachTime: starts watched
	Exact    bool    // take the average, or Shown/Of, as known exactly

	When     When
	AfterMin float64 // Late: shows only after this many minutes of running
}

// inStarts says that starts, and not minutes, count.
func (h History) inStarts() bool { return h.Pattern == EachTime || h.Pattern == OfStarts }

func (h History) check() error {
	count := func(field string, v, lo int) error { return inRange(field, float64(v), float64(lo), 1_000_000, "") }
	var err error
	switch h.Pattern {
	case OnAverage:
		err = first(inRange("the time between showings", h.EveryMin, 1.0/60, atMostMin, "minutes"),
			count("the number of showings the average rests on", h.Seen, 0))
	case InTime:
		err = first(never(h.Times), count("the number of showings", h.Times, 1),
			inRange("the time they took", h.InMin, 1.0/60, atMostMin, "minutes"))
	case OfStarts:
		err = first(count("the number of starts", h.Of, 1), never(h.Shown),
			inRange("the number of starts at which it showed", float64(h.Shown), 1, float64(h.Of), ""))
	case EachTime:
		err = count("the number of starts", h.Of, 0)
		if h.Shown != 0 && h.Shown != h.Of {
			err = bad("the number of starts at which it showed", float64(h.Shown),
				"as many as there were starts if it showed each time; else count it as \"of starts\"")
		}
	default:
		err = &FieldError{"how the symptom showed", "\"" + string(h.Pattern) + "\"",
			"\"each time\", \"on average\", \"in a time\" or \"of starts\""}
	}
	if err != nil {
		return err
	}
	switch h.When {
	case Anytime, Cold, Warm:
		return nil
	case Late:
		return inRange("the running time after which it shows", h.AfterMin, 1.0/60, atMostMin, "minutes")
	}
	return &FieldError{"when the symptom shows", "\"" + string(h.When) + "\"", "\"cold\", \"warm\", \"late\" or nothing for any time"}
}

func never(n int) error {
	if n == 0 {
		return bad("the number of showings", 0, "at least 1: a symptom that never showed cannot be shown to be gone")
	}
	return nil
}

// With adds to what was seen before the soak that ended in a recurrence, for the
// soak after the next repair: one more showing in the time, or among the starts,
// that were clean until then. Exact figures stay as they are.
func (h History) With(t Tally) History {
	if t.State != Failed || h.Exact {
		return h
	}
	switch h.Pattern {
	case OnAverage:
		n := float64(h.seen())
		h.EveryMin = (n*h.EveryMin + t.Counted + t.Pending) / (n + 1)
		h.Seen = h.seen() + 1
	case InTime:
		h.Times, h.InMin = h.Times+1, h.InMin+t.Counted+t.Pending
	default:
		k, n := h.starts()
		h.Pattern = OfStarts
		h.Shown, h.Of = k+1, n+1+int(t.Counted+t.Pending)
	}
	return h
}

func (h History) seen() int {
	if h.Seen == 0 {
		return byFeel
	}
	return h.Seen
}

func (h History) starts() (k, n int) {
	switch {
	case h.Pattern == OfStarts:
		return h.Shown, h.Of
	case h.Of == 0:
		return byFeel, byFeel
	}
	return h.Of, h.Of
}

// stays returns ln S(x), the chance of x clean minutes or starts if the fault is
// still there.
func (h History) stays(x float64) float64 {
	switch h.Pattern {
	case OnAverage:
		if h.Exact {
			return -x / h.EveryMin
		}
		n := float64(h.seen())
		return -n * math.Log1p(x/(n*h.EveryMin))
	case InTime:
		if h.Exact {
			return -x * float64(h.Times) / h.InMin
		}
		return -float64(h.Times) * math.Log1p(x/h.InMin)
	}
	k, n := h.starts()
	if h.Exact {
		if x == 0 {
			return 0
		}
		return x * math.Log1p(-float64(k)/float64(n)) // −Inf if it showed each time
	}
	a, b := float64(k)+0.5, float64(n-k)+0.5
	return lgamma(b+x) - lgamma(a+b+x) - lgamma(b) + lgamma(a+b)
}

// needs returns the fewest minutes or starts x with ln S(x) ≤ ln s.
func (h History) needs(lnS float64) float64 {
	if lnS >= 0 {
		return 0
	}
	n := float64(h.Times)
	b := h.InMin
	switch {
	case h.inStarts():
		return h.needsStarts(lnS)
	case h.Pattern == OnAverage:
		n, b = float64(h.seen()), float64(h.seen())*h.EveryMin
	}
	if h.Exact {
		return -lnS * b / n
	}
	return b * math.Expm1(-lnS/n)
}

// needsStarts searches by doubling and halving; S falls with x.
func (h History) needsStarts(lnS float64) float64 {
	enough := func(x float64) bool { return h.stays(x) <= lnS+1e-12*math.Abs(lnS) }
	hi := 1.0
	for !enough(hi) && hi < 1<<50 {
		hi *= 2
	}
	lo := math.Floor(hi / 2)
	for hi-lo > 1 {
		mid := math.Floor((lo + hi) / 2)
		if enough(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}

func lgamma(x float64) float64 { v, _ := math.Lgamma(x); return v }
