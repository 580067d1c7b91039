package ledger

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Calibration says how far stated chances can be trusted.
//
//	Brier = Reliability − Resolution + Uncertainty + WithinVariance − WithinCovariance
//
// exactly; the last two vanish when all chances in a bin are equal. Skill is
// 1 − Brier/Uncertainty: 0 for always stating the base rate, 1 for foresight;
// it is 0 as well when everything, or nothing, came true.
//
// References: Murphy 1973; Stephenson, Coelho and Jolliffe 2008 (the last two terms).
type Calibration struct {
	N                int
	BaseRate         float64 // share that came true
	Brier            float64 // mean (p − came)²
	Reliability      float64
	Resolution       float64
	Uncertainty      float64
	WithinVariance   float64
	WithinCovariance float64
	Skill            float64
	Bins             []Bin // the reliability diagram; empty bins are left out
}

// A Bin is a point of the reliability diagram: chances from From to To were
// stated N times, Stated on average, and came true with frequency Came, for which
// the sample allows Low … High (90 %, Clopper–Pearson).
type Bin struct {
	From, To     float64
	N            int
	Stated, Came float64
	Low, High    float64
}

// Calibrate judges stated chances in so many equal bins; 0 stands for 10.
// The cost is linear. No sayings give the zero Calibration.
func Calibrate(said []Saying, bins int) (Calibration, error) {
	c := &checker{}
	if bins == 0 {
		bins = 10
	}
	c.in("the number of bins", float64(bins), 1, 1000)
	for _, s := range said {
		c.in("a chance stated", s.P, 0, 1)
	}
	if c.err != nil || len(said) == 0 {
		return Calibration{}, c.err
	}
	out := Calibration{N: len(said)}
	all := make([]Bin, bins)
	came := make([]int, bins)
	at := func(p float64) int { return min(int(p*float64(bins)), bins-1) }
	hits := 0
	for _, s := range said {
		b := at(s.P)
		all[b].N++
		all[b].Stated += s.P
		if s.Came {
			came[b]++
			hits++
		}
	}
	n := float64(len(said))
	out.BaseRate = float64(hits) / n
	out.Uncertainty = out.BaseRate * (1 - out.BaseRate)
	for b := range all {
		x := &all[b]
		if x.N == 0 {
			continue
		}
		x.From, x.To = float64(b)/float64(bins), float64(b+1)/float64(bins)
		x.Stated /= float64(x.N)
		x.Came = float64(came[b]) / float64(x.N)
		x.Low, x.High = clopperPearson(came[b], x.N, 0.9)
		share := float64(x.N) / n
		out.Reliability += share * square(x.Stated-x.Came)
		out.Resolution += share * square(x.Came-out.BaseRate)
		out.Bins = append(out.Bins, *x)
	}
	for _, s := range said {
		x, o := all[at(s.P)], 0.0
		if s.Came {
			o = 1
		}
		out.Brier += square(s.P-o) / n
		out.WithinVariance += square(s.P-x.Stated) / n
		out.WithinCovariance += 2 * (s.P - x.Stated) * (o - x.Came) / n
	}
	if out.Uncertainty > 0 {
		out.Skill = 1 - out.Brier/out.Uncertainty
	}
	return out, nil
}

// Calibration judges all chances stated in the cases that count; about picks one
// sort, "" takes all.
func (b *Book) Calibration(about string, bins int) (Calibration, error) {
	var said []Saying
	for _, e := range b.counting() {
		for _, s := range e.Said {
			if about == "" || s.About == about {
				said = append(said, s)
			}
		}
	}
	return Calibrate(said, bins)
}

func square(x float64) float64 { return x * x }

// clopperPearson is the exact two-sided interval for k of n.
func clopperPearson(k, n int, level float64) (low, high float64) {
	tail := (1 - level) / 2
	high = 1
	if k > 0 {
		low = distuv.Beta{Alpha: float64(k), Beta: float64(n - k + 1)}.Quantile(tail)
	}
	if k < n {
		high = distuv.Beta{Alpha: float64(k + 1), Beta: float64(n - k)}.Quantile(1 - tail)
	}
	return math.Max(0, low), math.Min(1, high)
}
