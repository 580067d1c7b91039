package marking

import (
	"fmt"
	"strconv"
	"strings"
)

// Date is one date a code may mean. Month and Week are zero when the code does
// not give them.
type Date struct {
	Year, Month, Week int
}

var months = [...]string{"", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// String gives "May 2009" or "week 8 of 2012".
func (d Date) String() string {
	if d.Week > 0 {
		return fmt.Sprintf("week %d of %d", d.Week, d.Year)
	}
	if d.Month >= 1 && d.Month <= 12 {
		return fmt.Sprintf("%s %d", months[d.Month], d.Year)
	}
	return strconv.Itoa(d.Year)
}

const (
	yearLetters  = "ABCDEFHJKLMNPRSTUVWX" // a cycle of 20; A is 1990, 2010, 2030
	monthLetters = "123456789OND"
	firstYear    = 1970
	lastYear     = 2049
)

// DecodeYearMonth reads the two-character date code of IEC 60062: a year letter in a
// cycle of twenty years, and a month. It gives every year of 1970…2049 that fits: the
// code alone cannot tell which.
func DecodeYearMonth(code string) ([]Date, error) {
	if len(code) != 2 {
		return nil, fmt.Errorf("%q is not a date code of two characters", code)
	}
	y := strings.IndexByte(yearLetters, code[0])
	m := strings.IndexByte(monthLetters, code[1])
	if y < 0 || m < 0 {
		return nil, fmt.Errorf("%q is not a date code: a year letter (not G, I, O, Q, Y, Z), then 1–9, O, N or D", code)
	}
	var out []Date
	for year := 1970 + y; year <= lastYear; year += 20 {
		out = append(out, Date{Year: year, Month: m + 1})
	}
	return out, nil
}

// DecodeYearWeek reads YYWW (1208 is week 8 of 2012); years 70 to 99 are taken as
// the last century.
func DecodeYearWeek(code string) (Date, error) {
	n, err := strconv.Atoi(code)
	if len(code) != 4 || err != nil || strings.Trim(code, "0123456789") != "" {
		return Date{}, fmt.Errorf("%q is not a date code YYWW", code)
	}
	year, week := n/100, n%100
	if week < 1 || week > 53 {
		return Date{}, fmt.Errorf("%q is not a date code YYWW: there is no week %d", code, week)
	}
	if year >= 70 {
		return Date{Year: 1900 + year, Week: week}, nil
	}
	return Date{Year: 2000 + year, Week: week}, nil
}

// past drops dates after the given year, if one is given.
func past(ds []Date, year int) []Date {
	if year == 0 {
		return ds
	}
	var out []Date
	for _, d := range ds {
		if d.Year <= year {
			out = append(out, d)
		}
	}
	return out
}
