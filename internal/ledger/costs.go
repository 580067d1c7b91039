package ledger

import (
	"math"
	"slices"
)

// Misses say how far foretold costs were off, as real minus foretold.
type Misses struct {
	N         int
	Bias      float64 // mean
	BiasError float64 // standard error of the mean; 0 if N < 2
	Spread    float64 // standard deviation about the mean; 0 if N < 2
	Median    float64
	LowerQ    float64 // quartiles
	UpperQ    float64
	Ratio     float64 // Σ real / Σ foretold; 0 if nothing was foretold
	Ranges    int     // cases with a stated 90 % range
	InRange   int     // of these, cases that fell into it
	RangeLow  float64 // what share of cases falls into the ranges: 90 % interval
	RangeHigh float64
	Foretold  []Point // per case, foretold against real, in the order of closing
}

// CostMisses are the misses of one currency's money, and of the minutes.
type CostMisses struct {
	Currency string
	Money    Misses
	Minutes  Misses
}

// Costs compares foretold and real costs, by currency in alphabetical order.
func (b *Book) Costs() []CostMisses {
	type pairs struct{ money, minutes []foretold }
	by := map[string]*pairs{}
	for _, r := range b.byTime() {
		c := r.Cost
		if !c.Foretold {
			continue
		}
		if by[c.Currency] == nil {
			by[c.Currency] = &pairs{}
		}
		p := by[c.Currency]
		p.money = append(p.money, foretold{c.MoneyMean, c.MoneyLow, c.MoneyHigh, c.Money})
		p.minutes = append(p.minutes, foretold{c.MinMean, c.MinLow, c.MinHigh, c.Minutes})
	}
	var out []CostMisses
	for _, cur := range sortedKeys(by) {
		out = append(out, CostMisses{cur, misses(by[cur].money), misses(by[cur].minutes)})
	}
	return out
}

type foretold struct{ mean, low, high, real float64 }

func misses(all []foretold) Misses {
	m := Misses{N: len(all)}
	if m.N == 0 {
		return m
	}
	n := float64(m.N)
	off := make([]float64, m.N)
	said, real := 0.0, 0.0
	for i, f := range all {
		off[i] = f.real - f.mean
		m.Bias += off[i] / n
		said += f.mean
		real += f.real
		m.Foretold = append(m.Foretold, Point{f.mean, f.real})
		if f.low != 0 || f.high != 0 {
			m.Ranges++
			if f.low <= f.real && f.real <= f.high {
				m.InRange++
			}
		}
	}
	if m.N > 1 {
		for _, o := range off {
			m.Spread += square(o-m.Bias) / (n - 1)
		}
		m.Spread = math.Sqrt(m.Spread)
		m.BiasError = m.Spread / math.Sqrt(n)
	}
	slices.Sort(off)
	m.LowerQ, m.Median, m.UpperQ = quantile(off, 0.25), quantile(off, 0.5), quantile(off, 0.75)
	if said != 0 {
		m.Ratio = real / said
	}
	if m.Ranges > 0 {
		m.RangeLow, m.RangeHigh = clopperPearson(m.InRange, m.Ranges, 0.9)
	}
	return m
}

// quantile interpolates linearly between the sorted values.
func quantile(sorted []float64, p float64) float64 {
	at := p * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
