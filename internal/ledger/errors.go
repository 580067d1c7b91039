package ledger

import (
	"fmt"
	"math"
	"strconv"
	"unicode/utf8"
)

// A FieldError says which figure of a record, sheet or setting is wrong and what
// would be right. Its text is meant for the user.
type FieldError struct {
	Where   string // for example "case 17 of bench hall"; empty if there is only one place
	Field   string
	Problem string
	Allowed string
}

func (e *FieldError) Error() string {
	where := e.Where
	if where != "" {
		where += ": "
	}
	return fmt.Sprintf("ledger: %s%s is %s: give %s", where, e.Field, e.Problem, e.Allowed)
}

func num(v float64) string {
	if math.IsNaN(v) {
		return "not a number"
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// A checker keeps the first thing that is wrong.
type checker struct {
	where string
	err   error
}

func (c *checker) fail(field, problem, allowed string) {
	if c.err == nil {
		c.err = &FieldError{c.where, field, problem, allowed}
	}
}

func (c *checker) in(field string, v, lo, hi float64) {
	if !(v >= lo && v <= hi) { // also true for NaN
		c.fail(field, num(v), num(lo)+" to "+num(hi))
	}
}

func (c *checker) name(field, s string, empty bool) {
	switch {
	case s == "" && !empty:
		c.fail(field, "empty", "a name")
	case !utf8.ValidString(s):
		c.fail(field, "not readable text", "plain UTF-8")
	case len(s) > 300:
		c.fail(field, fmt.Sprintf("%d bytes long", len(s)), "at most 300")
	}
}

func (c *checker) atMost(field string, n, most int) {
	if n > most {
		c.fail(field, fmt.Sprintf("a list of %d", n), fmt.Sprintf("at most %d", most))
	}
}
