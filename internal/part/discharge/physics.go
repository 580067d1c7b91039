package discharge

import (
	"fmt"
	"math"
)

func positive(vs ...float64) bool {
	for _, v := range vs {
		if !(v > 0) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// Energy is ½·C·V², in joule; V may have either sign.
func Energy(farad, volts float64) (float64, error) {
	e := 0.5 * farad * volts * volts
	if !positive(farad) || math.IsNaN(e) || math.IsInf(e, 0) {
		return 0, fmt.Errorf("energy needs a capacitance above zero and a voltage; got %g F and %g V", farad, volts)
	}
	return e, nil
}

// Seconds is the time to fall from v0 to v through ohms: R·C·ln(V0/V). It is 0
// when the voltage is already that low.
func Seconds(farad, ohms, v0, v float64) (float64, error) {
	v0, v = math.Abs(v0), math.Abs(v)
	if !positive(farad, ohms, v) || math.IsNaN(v0) || math.IsInf(v0, 0) {
		return 0, fmt.Errorf("the time to discharge needs capacitance, resistance and an end voltage above zero")
	}
	if v0 <= v {
		return 0, nil
	}
	t := ohms * farad * math.Log(v0/v)
	if math.IsInf(t, 0) || math.IsNaN(t) {
		return 0, fmt.Errorf("the figures are too large to mean anything")
	}
	return t, nil
}

// VoltsAfter is V0·e^(−t/RC).
func VoltsAfter(farad, ohms, v0, seconds float64) (float64, error) {
	if !positive(farad, ohms) || !(seconds >= 0) || math.IsNaN(v0) || math.IsInf(v0, 0) {
		return 0, fmt.Errorf("the voltage left needs capacitance and resistance above zero and a time of 0 or more")
	}
	x := seconds / ohms / farad
	if math.IsNaN(x) {
		return 0, fmt.Errorf("the figures are too extreme to mean anything")
	}
	return v0 * math.Exp(-x), nil
}

// MaxOhms is the largest resistance that brings v0 down to v within seconds:
// t/(C·ln(V0/V)).
func MaxOhms(farad, v0, v, seconds float64) (float64, error) {
	v0, v = math.Abs(v0), math.Abs(v)
	if !positive(farad, v0, v, seconds) || v0 <= v {
		return 0, fmt.Errorf("the resistance needs capacitance and time above zero and an end voltage below the first")
	}
	r := seconds / (farad * math.Log(v0/v))
	if !positive(r) {
		return 0, fmt.Errorf("the figures are too extreme to mean anything")
	}
	return r, nil
}
