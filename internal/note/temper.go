package note

import "math"

// A Mix tells what share of the faults of a product category falls to each
// class of cause, as repair records count it. It returns nil for a category it
// knows nothing about.
type Mix func(category string) map[Class]float64

// defaultStrength is how far class totals move towards the records.
const defaultStrength = 0.7

// Bounds of what records may do to a note. The records of a category are about
// other devices too, and count what volunteers name; what the note says of this
// device should not be drowned in that.
const (
	leastMix  = 0.02 // no class's share in the records counts for less
	mostMoved = 4    // no mode's weight moves by more than this factor, up or down
	weakMix   = 0.5  // how much of the strength is left for a device with mix: weak
)

// temper moves the classes' totals of a device towards the shares that the
// records of its category give them. Rates judged part by part are good inside
// a class and poor between classes (how often a lead breaks against how often a
// board dies); the records are the other way round, since they know nothing of
// this particular device.
//
// With T the total of a class in the notes and m its share in the records, the
// target is T^(1-s)·m^s, scaled so that the classes known to both keep their
// common sum; s is the strength, 0 to leave the notes alone, 1 for the records
// only. A class the device does not have, or the records do not know, is left
// alone. The modes of a class keep their ratios.
//
// A share below leastMix counts as leastMix. In the end no mode's weight has
// moved by more than the factor mostMoved; where the cap bites, class totals
// stay short of their targets.
//
// When blocks have burdens, both they and the class totals are margins of one
// table, met by iterative proportional fitting: restore the one, then the
// other, in turn. It converges when the two can be met at once; when they
// cannot, the classes have the last word.
//
// Reference: W. E. Deming, F. F. Stephan, On a least squares adjustment of a
// sampled frequency table when the expected marginal totals are known, Annals
// of Mathematical Statistics 11 (1940) 427–444.
func temper(w []float64, classes []Class, mix map[Class]float64, strength float64, restore func()) {
	target := targets(totals(w, classes), mix, strength)
	if len(target) == 0 {
		return
	}
	notes := append([]float64(nil), w...)
	fit(w, classes, target, restore)
	for i := range w {
		w[i] = min(max(w[i], notes[i]/mostMoved), notes[i]*mostMoved)
	}
}

// fit meets the class targets and the burdens in turn, the classes last.
func fit(w []float64, classes []Class, target map[Class]float64, restore func()) {
	const rounds = 60
	for range rounds {
		now, moved := totals(w, classes), 0.0
		for i, c := range classes {
			if t, ok := target[c]; ok && now[c] > 0 {
				w[i] *= t / now[c]
				moved = max(moved, math.Abs(math.Log(t/now[c])))
			}
		}
		if moved < 1e-9 {
			return
		}
		before := append([]float64(nil), w...)
		restore()
		if near(before, w) {
			return
		}
	}
	now := totals(w, classes)
	for i, c := range classes {
		if t, ok := target[c]; ok && now[c] > 0 {
			w[i] *= t / now[c]
		}
	}
}

func near(a, b []float64) bool {
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-9*math.Abs(a[i]) {
			return false
		}
	}
	return true
}

func totals(w []float64, classes []Class) map[Class]float64 {
	sum := map[Class]float64{}
	for i, c := range classes {
		sum[c] += w[i]
	}
	return sum
}

// targets are the totals to aim at; a class that one of the two does not know keeps its own.
func targets(now, mix map[Class]float64, strength float64) map[Class]float64 {
	out := map[Class]float64{}
	kept, sum := 0.0, 0.0
	for _, c := range Classes() { // in a fixed order, so that the same notes give the same bits
		if t, m := now[c], mix[c]; t > 0 && m > 0 && !math.IsInf(m, 0) {
			m = max(m, leastMix)
			out[c] = math.Pow(t, 1-strength) * math.Pow(m, strength)
			kept += t
			sum += out[c]
		}
	}
	for c := range out {
		out[c] *= kept / sum
	}
	for c, t := range now {
		if _, both := out[c]; !both && kept > 0 && t > 0 {
			out[c] = t
		}
	}
	return out
}
