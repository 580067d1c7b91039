package soak

import (
	"fmt"
	"math"
	"strconv"
)

// A FieldError says which input is wrong and what would be right. Its text is
// meant for the user.
type FieldError struct {
	Field   string // for example "the time between showings"
	Problem string // what was given
	Allowed string // the range with its unit, or what to do
}

func (e *FieldError) Error() string {
	return fmt.Sprintf("soak: %s is %s: give %s", e.Field, e.Problem, e.Allowed)
}

func num(v float64) string {
	if math.IsNaN(v) {
		return "not a number"
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

func bad(field string, v float64, allowed string) error {
	return &FieldError{Field: field, Problem: num(v), Allowed: allowed}
}

// inRange reports a value that is not a number or outside [lo, hi].
func inRange(field string, v, lo, hi float64, unit string) error {
	if v >= lo && v <= hi { // false for NaN
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return bad(field, v, num(lo)+" to "+num(hi)+unit)
}

// optional accepts zero as "use the default".
func optional(field string, v, lo, hi float64, unit string) error {
	if v == 0 {
		return nil
	}
	return inRange(field, v, lo, hi, unit+", or 0 for the default")
}

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
