package marking

import (
	"math"
	"regexp"
	"slices"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

var (
	srcFuse    = part.Source{Text: "IEC 60127-1, marking of miniature fuse-links", Mark: part.Memory}
	reFuse     = regexp.MustCompile(`^(FF|F|M|TT|T)(\d{1,3}(?:\.\d{1,3})?)(m?A)?([LHE])?$`)
	reFuseBack = regexp.MustCompile(`^(\d{1,3}(?:\.\d{1,3})?)(m?A)(FF|F|M|TT|T)?([LHE])?$`)
	reFuseWord = regexp.MustCompile(`^(FF|F|M|TT|T)([LHE])?$`)
)

var speeds = map[string]string{
	"FF": "very quick-acting", "F": "quick-acting", "M": "medium time-lag", "T": "time-lag", "TT": "long time-lag",
}

var breaking = map[string]string{
	"L": "low breaking capacity (glass; 35 A or ten times the rating)",
	"E": "enhanced breaking capacity (150 A)",
	"H": "high breaking capacity (sand-filled; 1500 A)",
}

// fuseAmps are the rated currents of the standard's preferred series.
var fuseAmps = []float64{
	0.032, 0.04, 0.05, 0.063, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8,
	1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10, 12.5, 16, 20,
}

// fuses reads fuse ratings: speed letter, current, breaking-capacity letter, voltage.
func fuses(tok string, s *scan) []Reading {
	if s.class != "" || s.dielectric != "" || s.film || s.tempMaxC > 0 {
		return nil
	}
	f := fuseMark{volts: s.volts}
	w := 0.0
	switch {
	case tok == "" && s.amps > 0:
		f.amps, w = s.amps, 0.35
	case reFuse.MatchString(tok):
		m := reFuse.FindStringSubmatch(tok)
		f.speed, f.breaking = m[1], m[4]
		f.amps = fuseCurrent(m[2], m[3])
		w = 0.9
		if m[3] == "" {
			w = 0.08 // no A: the letter and number may be anything
		}
	case reFuseBack.MatchString(tok):
		m := reFuseBack.FindStringSubmatch(tok)
		f.amps, f.speed, f.breaking, w = fuseCurrent(m[1], m[2]), m[3], m[4], 0.7
	case s.amps > 0 && reFuseWord.MatchString(tok):
		m := reFuseWord.FindStringSubmatch(tok)
		f.speed, f.breaking, f.amps, w = m[1], m[2], s.amps, 0.9
	case s.amps > 0 && breaking[tok] != "":
		f.breaking, f.amps, w = tok, s.amps, 0.4
		for _, o := range s.core {
			if speeds[o] != "" {
				f.speed = o
			}
		}
	default:
		return nil
	}
	return f.reading(w)
}

type fuseMark struct {
	speed, breaking string
	amps, volts     float64
}

func fuseCurrent(digits, a string) float64 {
	if a == "mA" {
		return power10(digits, -3)
	}
	return power10(digits, 0)
}

func (f fuseMark) reading(w float64) []Reading {
	if !(f.amps > 0) || f.amps > 1000 {
		return nil
	}
	r := newReading(part.Fuse, "fuse rating", w, "current", srcFuse)
	r.Value, r.Unit, r.Amps = f.amps, "A", f.amps
	r.Speed, r.Breaking, r.VoltsAC = f.speed, f.breaking, f.volts
	r.Text = unit.Format(f.amps, "A")
	r.Reasons[0] = "a rated current"
	if f.speed != "" {
		r.Text += ", " + speeds[f.speed] + " (" + f.speed + ")"
	} else {
		r.times(0.6, "no speed letter made out: look at the holder or the board print before choosing")
	}
	if f.breaking != "" {
		r.Text += ", " + breaking[f.breaking]
	}
	if f.volts > 0 {
		r.Text += ", " + unit.Format(f.volts, "V")
		switch f.volts {
		case 32, 63, 125, 250, 300, 350, 400, 500:
		default:
			r.times(0.3, unit.Format(f.volts, "V")+" is not a usual fuse rating")
		}
	}
	if f.amps > 63 {
		r.times(0.1, "miniature fuses end well below that")
	}
	if !slices.ContainsFunc(fuseAmps, func(a float64) bool { return math.Abs(a-f.amps) < 1e-9*a }) {
		r.times(0.25, unit.Format(f.amps, "A")+" is not in the standard's series of currents (3, 6, 7 and 15 A exist in other systems)")
	}
	r.caution("replace with the same current, speed and breaking capacity, never a larger one or wire; a fuse seldom blows for nothing: find the short first, with the device unplugged")
	return []Reading{r}
}
