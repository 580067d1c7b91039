package ecap

import "fmt"

// Point is one ambient temperature of a comparison.
type Point struct {
	AmbientC float64
	OldYears float64 // running day and night, at most 15
	NewYears float64
	Ratio    float64 // of the uncapped figures, new over old
}

// Compare says how much life a better part buys: expected years of both at
// evenly spaced ambient temperatures, for a plot. The ambient of the two is
// ignored; everything else, ripple rise included, is taken from each. n is the number of
// points, 2 to 1000.
func Compare(old, better Life, fromC, toC float64, n int) ([]Point, error) {
	if n < 2 || n > 1000 || !finite(fromC, toC) || fromC >= toC {
		return nil, fmt.Errorf("a comparison needs 2 to 1000 points over a rising range of temperature")
	}
	out := make([]Point, n)
	for i := range out {
		t := fromC + (toC-fromC)*float64(i)/float64(n-1)
		old.AmbientC, better.AmbientC = t, t
		a, err := old.Expect()
		if err != nil {
			return nil, fmt.Errorf("the old part: %w", err)
		}
		b, err := better.Expect()
		if err != nil {
			return nil, fmt.Errorf("the better part: %w", err)
		}
		out[i] = Point{t, a.StatedHours / HoursPerYear, b.StatedHours / HoursPerYear, b.Hours / a.Hours}
	}
	return out, nil
}
