package cli

import "testing"

func TestDaysFor(t *testing.T) {
	for _, c := range []struct {
		days  float64
		parts bool
		want  string
	}{{1, false, "1 day of waiting"}, {1, true, "1 day for the parts"}, {7, true, "7 days for the parts"}, {0.5, false, "0.5 days of waiting"}} {
		if got := daysFor(c.days, c.parts); got != c.want {
			t.Errorf("%v, %v: %q, want %q", c.days, c.parts, got, c.want)
		}
	}
}
