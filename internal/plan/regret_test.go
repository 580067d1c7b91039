package plan

import (
	"fmt"
	"math/rand/v2"
	"os"
	"sort"
	"strconv"
	"testing"
)

// regretModels is how many random devices the regret is measured on; FETTLER_MODELS sets another number.
const regretModels = 60

func models(t testing.TB) int {
	s := os.Getenv("FETTLER_MODELS")
	if s == "" {
		return regretModels
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 20 {
		t.Fatalf("FETTLER_MODELS is %q; it must be a number from 20", s)
	}
	return n
}

// A tally is the regret of one policy over many devices, ascending.
type tally []float64

func (t tally) mean() float64 {
	sum := 0.0
	for _, x := range t {
		sum += x / float64(len(t))
	}
	return sum
}

func (t tally) String() string {
	sort.Float64s(t)
	n := len(t)
	return fmt.Sprintf("mean %.2f %%, median %.2f %%, 95th percentile %.2f %%, worst %.2f %%", 100*t.mean(), 100*t[n/2], 100*t[n*95/100], 100*t[n-1])
}

// measure returns, for one drawn device, the cost of deciding by one-step
// look-ahead, the cost with 30 expansions, and proven bounds on the least possible cost.
func measure(t testing.TB, rng *rand.Rand) (once, deeper, lower, upper float64) {
	p, b, at := drawn(t, rng, 3+rng.IntN(6), 1+rng.IntN(6), 3+rng.IntN(3))
	y := best(p, b, at, 0.001*p.base(b, at).total, 60_000)
	once = follow(p, b, at, 0, map[key]float64{})
	deeper = follow(p, b, at, 30, map[key]float64{})
	if once < y.lower-1e-4 || deeper < y.lower-1e-4 {
		t.Fatalf("a policy costs %.6f or %.6f, less than the least possible %.6f", once, deeper, y.lower)
	}
	return once, deeper, y.lower, y.upper.total
}

// The regret of a policy is how much more it costs in expectation than the best
// there is. It is measured against the proven lower bound of a search run until
// it is closed to a thousandth (or as far as 60 000 expansions bring it), so it is
// never understated.
func TestRegret(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 1))
	n := models(t)
	var once, deeper, open tally
	for range n {
		a, b, lower, upper := measure(t, rng)
		once, deeper, open = append(once, a/lower-1), append(deeper, b/lower-1), append(open, upper/lower-1)
	}
	t.Logf("%d devices; one-step look-ahead: %v", n, once)
	t.Logf("%d devices; 30 expansions: %v", n, deeper)
	t.Logf("%d devices; left open by the yardstick: %v", n, open)
	for name, x := range map[string]tally{"one-step look-ahead": once, "30 expansions": deeper} {
		if x.mean() > 0.02 || x[n*95/100] > 0.08 {
			t.Errorf("%s: mean %.2f %%, 95th percentile %.2f %%; at most 2 and 8 are allowed", name, 100*x.mean(), 100*x[n*95/100])
		}
	}
}
