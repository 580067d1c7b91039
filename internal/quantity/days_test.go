package quantity_test

import (
	"testing"

	"fettler/internal/quantity"
)

func TestDays(t *testing.T) {
	for days, want := range map[float64]string{0: "0 days", 0.5: "0.5 days", 1: "1 day", 1.5: "1.5 days", 7: "7 days"} {
		if got := quantity.Days(days); got != want {
			t.Errorf("%v: %q, want %q", days, got, want)
		}
	}
}
