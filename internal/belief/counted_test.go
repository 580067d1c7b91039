package belief_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// clicker is a device of one part. Its sign shows half the time with the fault and a
// quarter of the time without: 1-(1-0.25)·(1-1/3) = 0.5.
func clicker(t *testing.T) *belief.Engine {
	m := &note.Model{ID: "clicker", Modes: modes(1, "relay")}
	m.Findings = []note.Finding{{ID: "clicks", Kind: note.Sign, Leak: 0.25, Trigger: []note.Trigger{{Mode: 0, Chance: 1.0 / 3}}}}
	return engine(t, m, belief.Options{AllowNone: true, Unknown: -1})
}

func clicks(t *testing.T, e *belief.Engine, k, n int) float64 {
	b := believed(t, e, belief.Observation{Value: k, Of: n})
	return b.First[0] / (1 - b.First[0])
}

// Worked by hand: with chance a half the device's own chance is uniform, and k shows of n in one order have
// chance k!·(n-k)!/(n+1)!; with a quarter it is Beta(½, 1½), and 9 of 10 have ½·1½·…·8½·1½/(2·3·…·11) =
// 1.5·17!!/2⁹/11!. Odds start at 1.
func TestCountedSignByHand(t *testing.T) {
	e := clicker(t)
	for _, c := range []struct {
		k, n int
		want float64
	}{
		{1, 1, 0.5 / 0.25},
		{0, 1, 0.5 / 0.75},
		{2, 2, (1.0 / 3) / (0.5 * 1.5 / 6)},
		{9, 10, (1.0 / 110) / (1.5 * 34459425 / 512 / 39916800)},
	} {
		if got := clicks(t, e, c.k, c.n); math.Abs(got/c.want-1) > 1e-12 {
			t.Errorf("%d of %d: odds %v, want %v", c.k, c.n, got, c.want)
		}
	}
}

// The same by integrating over the device's own chance, with gonum's Beta density.
func TestCountedSignByIntegration(t *testing.T) {
	e := clicker(t)
	for _, c := range []struct{ k, n int }{{3, 3}, {6, 10}, {18, 20}, {90, 100}} {
		weight := func(p float64) float64 {
			own := distuv.Beta{Alpha: 2 * p, Beta: 2 * (1 - p)}
			return quad.Fixed(func(u float64) float64 { // x = u² tames the pole of the density at 0
				x := u * u
				return 2 * u * own.Prob(x) * math.Pow(x, float64(c.k)) * math.Pow(1-x, float64(c.n-c.k))
			}, 0, 1, 2000, nil, 0)
		}
		if got, want := clicks(t, e, c.k, c.n), weight(0.5)/weight(0.25); math.Abs(got/want-1) > 1e-3 {
			t.Errorf("%d of %d: odds %v, by integration %v", c.k, c.n, got, want)
		}
	}
}

// Looking on and on at one device does not make certain: nine in ten says about as much at a hundred
// looks as at a thousand, and the more so the less of one's looks showed it. Nothing underflows.
func TestCountingOnDoesNotMakeCertain(t *testing.T) {
	e := clicker(t)
	ten, hundred, thousand := clicks(t, e, 9, 10), clicks(t, e, 90, 100), clicks(t, e, 900, 1000)
	if one := clicks(t, e, 1, 1); one > ten || ten > hundred*1.2 || math.Abs(thousand/hundred-1) > 0.05 || thousand > 10 {
		t.Errorf("odds %.3f at 1 of 1, %.3f at 9 of 10, %.3f at 90 of 100, %.3f at 900 of 1000", one, ten, hundred, thousand)
	}
	if none := clicks(t, e, 0, 1000); !(none > 0 && none < 0.5) {
		t.Errorf("odds %v at 0 of 1000", none)
	}
}
