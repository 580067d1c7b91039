package ecap

import (
	"fmt"
	"math"

	"fettler/internal/part"
)

// Grade is a kind of general-purpose series with its own limits when new. The
// zero value is the ordinary one. Low-impedance series are stated at 100 kHz and lie
// several times lower: these limits say nothing about them.
type Grade int

// The grades whose published limits are tabled.
const (
	Ordinary Grade = iota // 85 °C, radial
	Compact               // 85 °C, small cans
	Bipolar               // 105 °C, bipolar
)

// columns are the upper ends of the rated-voltage columns, in volts.
var columns = []float64{6.3, 10, 16, 25, 35, 50, 63, 100, 160, 250, 450}

// tanLimits are the tan δ limits at 120 Hz and 20 °C of one maker's series each;
// 0 = not made.
var tanLimits = [...][]float64{
	Ordinary: {0.22, 0.19, 0.16, 0.14, 0.12, 0.10, 0.09, 0.08, 0.16, 0.18, 0.20},
	Compact:  {0.28, 0.24, 0.20, 0.16, 0.14, 0.12, 0.10, 0.08, 0.20, 0.20, 0.25},
	Bipolar:  {0.24, 0.20, 0.17, 0.15, 0.14, 0.12, 0, 0.10, 0, 0, 0},
}

var limitSource = part.Source{Text: "makers' series data after IEC 60384-4, 120 Hz, 20 °C", Mark: part.Read}

// LimitSource is where the limits of this package come from.
func LimitSource() part.Source { return limitSource }

// TanDelta is the most tan δ may be when new, at 120 Hz and 20 °C. Above 1000 µF
// 0.02 is added for each further full 1000 µF (makers differ by one step). A rated voltage
// between two columns takes the higher column.
func TanDelta(g Grade, farad, volts float64) (float64, error) {
	if !finite(farad, volts) || !(farad > 0) || farad > 10 || !(volts > 0) {
		return 0, fmt.Errorf("the limit needs a capacitance and a rated voltage, both above zero, in farad and volts")
	}
	if g < Ordinary || g > Bipolar {
		return 0, fmt.Errorf("the grade is not one of those tabled")
	}
	for i, top := range columns {
		if volts <= top*(1+1e-9) {
			t := tanLimits[g][i]
			if t == 0 {
				return 0, fmt.Errorf("no limit is published for that grade at %g V", volts)
			}
			return t + 0.02*math.Max(0, math.Floor(farad*1e3*(1+1e-9))-1), nil
		}
	}
	return 0, fmt.Errorf("the published limits end at 450 V, not %g V", volts)
}

// ESR is tan δ / (2π·f·C).
func ESR(tanDelta, hertz, farad float64) (float64, error) {
	if !finite(tanDelta, hertz, farad) || tanDelta < 0 || !(hertz > 0) || !(farad > 0) {
		return 0, fmt.Errorf("ESR needs tan δ of 0 or more and frequency and capacitance above zero")
	}
	r := tanDelta / (2 * math.Pi * hertz * farad)
	if !finite(r) {
		return 0, fmt.Errorf("frequency and capacitance are too small to mean anything")
	}
	return r, nil
}

// MaxESR is the most the ESR may be when new, at 120 Hz and 20 °C.
func MaxESR(g Grade, farad, volts float64) (float64, error) {
	t, err := TanDelta(g, farad, volts)
	if err != nil {
		return 0, err
	}
	return ESR(t, 120, farad)
}
