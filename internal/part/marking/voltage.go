package marking

import "strings"

// ratedCodes are the EIA codes of rated voltage: a digit for the decade and a
// letter. Those of readCodes were read in makers' tables, the rest are from memory.
var ratedCodes = map[string]float64{
	"0E": 2.5, "0G": 4, "0J": 6.3, "1A": 10, "1C": 16, "1E": 25, "1V": 35, "1H": 50, "1J": 63, "1N": 75, "1K": 80,
	"2A": 100, "2B": 125, "2C": 160, "2D": 200, "2E": 250, "2V": 350, "2G": 400, "2W": 450, "2H": 500, "2J": 630,
	"3A": 1000, "3D": 2000, "3F": 3150,
}

const readCodes = " 0G 0J 1A 1C 1E 1V 1H 1N 2A 2D 2E 2H "

// RatedVoltage reads a two-character rated-voltage code, such as 1H for 50 V.
func RatedVoltage(code string) (volts float64, ok bool) {
	volts, ok = ratedCodes[strings.ToUpper(code)]
	return volts, ok
}

// smallCodes are the single letters on tantalum and surface-mount electrolytic
// capacitors; e is lower case.
var smallCodes = map[byte]float64{
	'e': 2.5, 'G': 4, 'J': 6.3, 'A': 10, 'C': 16, 'D': 20, 'E': 25, 'V': 35, 'H': 50,
}

// LetterVoltage reads the single letter on tantalum and surface-mount parts.
func LetterVoltage(letter byte) (volts float64, ok bool) {
	volts, ok = smallCodes[letter]
	return volts, ok
}

// usualVolts are the rated voltages electrolytics are made in.
var usualVolts = []float64{2, 2.5, 4, 6.3, 10, 16, 20, 25, 35, 40, 50, 63, 80, 100, 160, 200, 250, 315, 350, 385, 400, 420, 450, 500}

// dielectric holds what the code of a ceramic says.
type dielectric struct {
	lowC, highC float64
	minus, plus float64 // class 2: change of capacitance over the range, fractions
	classOne    bool
	ppmSpread   float64 // class 1: ppm/K around 0
}

var (
	lowLimit  = map[byte]float64{'X': -55, 'Y': -30, 'Z': 10}
	highLimit = map[byte]float64{'4': 65, '5': 85, '6': 105, '7': 125, '8': 150}
	drift     = map[byte][2]float64{
		'P': {-0.10, 0.10}, 'R': {-0.15, 0.15}, 'S': {-0.22, 0.22}, 'T': {-0.33, 0.22}, 'U': {-0.56, 0.22}, 'V': {-0.82, 0.22},
	}
)

// decodeDielectric reads X7R, Y5V, C0G, NP0 and the like (EIA-198).
func decodeDielectric(code string) (dielectric, bool) {
	c := strings.ToUpper(code)
	switch c {
	case "C0G", "COG", "NP0", "NPO":
		return dielectric{lowC: -55, highC: 125, classOne: true, ppmSpread: 30}, true
	}
	if len(c) != 3 {
		return dielectric{}, false
	}
	lo, ok1 := lowLimit[c[0]]
	hi, ok2 := highLimit[c[1]]
	d, ok3 := drift[c[2]]
	return dielectric{lowC: lo, highC: hi, minus: d[0], plus: d[1]}, ok1 && ok2 && ok3
}
