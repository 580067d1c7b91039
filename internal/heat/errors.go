package heat

import (
	"errors"
	"fmt"
	"math"
	"strconv"
)

// A FieldError says which input is wrong and what would be right. Its text is
// meant for the user.
type FieldError struct {
	Field   string // for example "board thickness"
	Problem string // what was given
	Allowed string // the range with its unit, or what to do
}

func (e *FieldError) Error() string {
	return fmt.Sprintf("heat: %s is %s: give %s", e.Field, e.Problem, e.Allowed)
}

// ErrBalance is wrapped by the error returned when the energy balance of a run
// does not close; it means a fault in this package.
var ErrBalance = errors.New("energy balance does not close")

func num(v float64) string { return strconv.FormatFloat(v, 'g', 5, 64) }

// inRange reports a value that is not a number or outside [lo, hi].
func inRange(field string, v, lo, hi float64, unit string) error {
	if v >= lo && v <= hi { // false for NaN
		return nil
	}
	got := num(v)
	if math.IsNaN(v) {
		got = "not a number"
	}
	if unit != "" {
		unit = " " + unit
		if !math.IsNaN(v) {
			got += unit
		}
	}
	return &FieldError{Field: field, Problem: got, Allowed: num(lo) + " to " + num(hi) + unit}
}

// optional accepts zero as "use the default".
func optional(field string, v, lo, hi float64, unit string) error {
	if v == 0 {
		return nil
	}
	err := inRange(field, v, lo, hi, unit)
	var fe *FieldError
	if errors.As(err, &fe) {
		fe.Allowed += ", or 0 for the default"
	}
	return err
}

func orDefault(v, def float64) float64 {
	if v == 0 {
		return def
	}
	return v
}
