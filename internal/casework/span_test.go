package casework_test

import (
	"testing"

	"fettler/internal/casework"
)

// A time in words has at most three digits that count, and never a power of ten.
func TestSpansOfTime(t *testing.T) {
	for min, want := range map[float64]string{
		0.5: "about every 30 s", 5: "about every 5 min", 59.6: "about every 60 min", 90: "about every 1.5 h", 24 * 60: "about every 24 h",
		48 * 60: "about every 2 days", 416 * 1440: "about every 416 days", 2346 * 1440: "about every 2350 days",
	} {
		if got := (casework.SoakHistory{Pattern: "on average", EveryMin: min}).Words(); got != want {
			t.Errorf("%g min: %q, want %q", min, got, want)
		}
	}
}
