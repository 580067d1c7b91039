package marking

import (
	"math"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

// Tolerance is how far the value may lie from the marking: fractions (Low is
// negative), or for small capacitors an absolute figure in farad.
type Tolerance struct {
	Low, High float64
	Farad     float64
}

// Symmetric is ±t.
func Symmetric(t float64) Tolerance { return Tolerance{Low: -t, High: t} }

// String gives "±5 %", "+80 −20 %" or "±0.25 pF"; "" for none.
func (t Tolerance) String() string {
	switch {
	case t.Farad > 0:
		return "±" + unit.Format(t.Farad, "F")
	case t.Low == 0 && t.High == 0:
		return ""
	case math.Abs(t.Low+t.High) < 1e-12:
		return "±" + unit.Format(t.High, "%")
	}
	return "+" + percent(t.High) + " −" + percent(math.Abs(t.Low)) + " %"
}

func percent(f float64) string { return unit.Format(f*100, "") }

// width is the tolerance as one symmetric fraction, for choosing an E series.
func (t Tolerance) width(value float64) float64 {
	if t.Farad > 0 && value > 0 {
		return t.Farad / value
	}
	return math.Max(t.High, -t.Low)
}

var tolLetters = map[byte]Tolerance{
	'L': Symmetric(0.0001), 'P': Symmetric(0.0002), 'W': Symmetric(0.0005), 'B': Symmetric(0.001), 'C': Symmetric(0.0025),
	'D': Symmetric(0.005), 'F': Symmetric(0.01), 'G': Symmetric(0.02), 'H': Symmetric(0.03), 'J': Symmetric(0.05),
	'K': Symmetric(0.10), 'M': Symmetric(0.20), 'N': Symmetric(0.30),
}

var capLetters = map[byte]Tolerance{
	'Q': {Low: -0.10, High: 0.30}, 'T': {Low: -0.10, High: 0.50}, 'S': {Low: -0.20, High: 0.50},
	'Z': {Low: -0.20, High: 0.80}, 'P': {Low: 0, High: 1.00},
}

var picoLetters = map[byte]Tolerance{
	'A': {Farad: 0.05e-12}, 'B': {Farad: 0.1e-12}, 'C': {Farad: 0.25e-12}, 'D': {Farad: 0.5e-12}, 'F': {Farad: 1e-12},
}

// ToleranceLetter reads a tolerance letter of IEC 60062 on a part of the given
// kind; on capacitors below 10 pF the letters A to F are picofarads.
func ToleranceLetter(letter byte, kind part.Kind, value float64) (Tolerance, bool) {
	if kind.Capacitor() {
		if t, ok := picoLetters[letter]; ok && value > 0 && value < 10e-12*(1-1e-9) {
			return t, true
		}
		if t, ok := capLetters[letter]; ok {
			return t, true
		}
		if letter == 'B' || letter == 'C' || letter == 'D' || letter == 'A' {
			return picoLetters[letter], true // a maker's odd use above 10 pF keeps the picofarad meaning
		}
	}
	t, ok := tolLetters[letter]
	return t, ok
}
