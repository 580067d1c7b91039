package casework

import (
	"fmt"
	"math"
	"strings"

	"fettler/internal/note"
	"fettler/internal/quantity"
)

// beyond is how many times outside all that a note lets expect a reading may be
// before somebody is asked whether it is really so.
const beyond = 10

// mostShown is the most a hand-held multimeter shows, per base unit. Common practice, no
// single source: 1000 V, 20 A and 200 MΩ are the last ranges of ordinary ones.
var mostShown = map[string]float64{"V": 1000, "A": 20, "Ω": 200e6, "F": 0.2, "Hz": 200e6}

// doubt says why a reading is hard to believe, "" if it is not. with names the
// instruments of its check.
func doubt(f *note.Finding, with []string, n float64) string {
	if math.IsInf(n, 0) || math.IsNaN(n) || len(f.Dist) == 0 {
		return ""
	}
	low, high, least := math.Inf(1), 0.0, math.Inf(1)
	for _, d := range f.Dist {
		switch {
		case d.Over:
			low, high = min(low, d.Low), math.Inf(1)
		case d.Under:
			low, high, least = 0, max(high, d.High), min(least, 0)
		default:
			low, high, least = min(low, d.Low), max(high, d.High), min(least, d.Low)
		}
	}
	if most, ok := mostShown[f.Measure]; ok && math.Abs(n) > most && byMeter(with) {
		return fmt.Sprintf("a hand meter shows %s at most", quantity.Format(most, f.Measure, 3))
	}
	switch {
	case n < 0 && least >= 0 && f.Measure != "°C" && n < -high/100:
		if f.Measure == "V" || f.Measure == "A" {
			return "it is below nothing: are the leads the other way round?"
		}
		return "that cannot be below nothing"
	case n > beyond*high, n >= 0 && n < low/beyond:
		return "this check lets expect " + expected(f)
	}
	return ""
}

func byMeter(with []string) bool {
	for _, w := range with {
		if strings.Contains(strings.ToLower(w), "multimeter") {
			return true
		}
	}
	return false
}

// expected lists the ranges of a reading.
func expected(f *note.Finding) string {
	var out []string
	for _, d := range f.Dist {
		if w := distWords(d, f.Measure); len(out) == 0 || out[len(out)-1] != w {
			out = append(out, w)
		}
	}
	if n := len(out); n > 1 {
		return strings.Join(out[:n-1], ", ") + " or " + out[n-1]
	}
	return strings.Join(out, "")
}

// believable asks back about a reading that is hard to believe, unless whoever
// reports is sure.
func (c *Case) believable(f int, v Value, sure bool) error {
	x := &c.Model.Findings[f]
	if sure || x.Kind != note.Reading || v.Reading == "" || v.Reading == overload {
		return nil
	}
	n, err := quantity.ParseIn(v.Reading, x.Measure)
	if err != nil {
		return nil // said elsewhere
	}
	var with []string
	if x.Check >= 0 {
		with = c.Model.Checks[x.Check].With
	}
	if why := doubt(x, with, n); why != "" {
		return fail(Doubtful, "look at the unit and the decimal point; if that is what it really showed, say so", "really %s for “%s”? %s", v.Reading, x.Title, raised(why))
	}
	return nil
}
