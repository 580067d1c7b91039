package belief

import (
	"math"

	"fettler/internal/note"
)

// A reading far from every state's range says little about which state it is:
// with this chance it comes from a slip of hand or eye instead, spread like the
// readings of all states together.
const slip = 0.02

// z90 is half the width of the central 90 % of a normal distribution, in
// standard deviations (the 0.95 quantile).
const z90 = 1.6448536269514722

// signChance is P(the sign shows | no direct trigger counted): 1-(1-leak)·Π(1-q)
// over the condition triggers that are active, where state gives the state of a condition.
func signChance(f *note.Finding, state func(cond int) int) float64 {
	quiet := 1 - f.Leak
	for _, t := range f.Trigger {
		if t.Mode < 0 && t.States>>uint(state(t.Cond))&1 == 1 {
			quiet *= 1 - t.Chance
		}
	}
	return 1 - quiet
}

// concord says how alike the looks at one device are when a sign is counted: the
// chance a note gives is that of the average device, and each device has a chance of
// its own, Beta distributed around it with this concentration (both parameters
// added up). 2 is where "half the time", which says least, leaves a device's own chance
// open from never to always, all alike (Bayes's prior). The intraclass correlation is
// 1/(1+2), a third: however often one looks at one device, it counts for less than three devices.
const concord = 2

// countLikelihood is the chance, without the binomial coefficient that all candidates
// share, that a sign with chance p per look shows k times in n: Beta-binomial with
// parameters p·concord and (1-p)·concord, so that a single look has chance p.
// J. G. Skellam, A probability distribution derived from the binomial distribution by
// regarding the probability of success as variable between the sets of trials, J. R. Stat.
// Soc. B 10:257-261, 1948 (from memory).
func countLikelihood(p float64, k, n int) float64 {
	w := 1.0
	for i := range n {
		if i < k {
			w *= (p*concord + float64(i)) / float64(concord+i)
		} else {
			w *= ((1-p)*concord + float64(i-k)) / float64(concord+i)
		}
	}
	return w
}

// readingWeights returns, for each state of the finding's condition, the
// likelihood of number x relative to the likeliest state, so that the largest is 1.
// Numbers outside every range leave the states equal.
func readingWeights(f *note.Finding, x float64) []float64 {
	w := make([]float64, len(f.Dist))
	mean := 0.0
	for i, d := range f.Dist {
		w[i] = density(d, x)
		mean += w[i] / float64(len(w))
	}
	best := 0.0
	for i := range w {
		w[i] = (1-slip)*w[i] + slip*mean
		best = math.Max(best, w[i])
	}
	for i := range w {
		if best > 0 {
			w[i] /= best
		} else {
			w[i] = 1
		}
	}
	return w
}

// overload is how often a meter shows overload when the true value lies in an
// open range ("over 1 MΩ") rather than some large figure.
const overload = 0.7

// density is the probability density of x under d. For d.Over it is log-uniform
// over three decades above Low, with chance overload for +Inf; for d.Under
// uniform from zero to High in magnitude, or below a negative High over its own size.
func density(d note.Dist, x float64) float64 {
	switch {
	case d.Over:
		if math.IsInf(x, 1) {
			return overload
		}
		low := math.Max(d.Low, math.SmallestNonzeroFloat64)
		if x < d.Low || x > low*1000 {
			return 0
		}
		return (1 - overload) / (math.Max(x, low) * math.Log(1000))
	case d.Under:
		if d.High > 0 && math.Abs(x) <= d.High {
			return 1 / (2 * d.High)
		}
		if d.High <= 0 && x <= d.High && x >= 2*d.High-1 {
			return 1 / (1 - d.High)
		}
		return 0
	case math.IsInf(x, 0):
		return 0
	case d.Log:
		if x <= 0 {
			return 0
		}
		mu, sigma := logShape(d)
		return normal((math.Log(x)-mu)/sigma) / (sigma * x)
	default:
		mu, sigma := shape(d)
		return normal((x-mu)/sigma) / sigma
	}
}

func shape(d note.Dist) (mu, sigma float64) {
	return (d.Low + d.High) / 2, math.Max((d.High-d.Low)/(2*z90), 1e-12)
}

func logShape(d note.Dist) (mu, sigma float64) {
	lo, hi := math.Log(d.Low), math.Log(d.High)
	return (lo + hi) / 2, math.Max((hi-lo)/(2*z90), 1e-12)
}

func normal(z float64) float64 {
	return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
}

// quantile is the inverse of the cumulative distribution of d, for 0 < p < 1.
func quantile(d note.Dist, p float64) float64 {
	switch {
	case d.Over:
		if p > 1-overload {
			return math.Inf(1)
		}
		return math.Max(d.Low, math.SmallestNonzeroFloat64) * math.Pow(1000, p/(1-overload))
	case d.Under:
		if d.High > 0 {
			return p * d.High
		}
		return d.High - (1-p)*(1-d.High)
	case d.Log:
		mu, sigma := logShape(d)
		return math.Exp(mu + sigma*math.Sqrt2*math.Erfinv(2*p-1))
	default:
		mu, sigma := shape(d)
		return mu + sigma*math.Sqrt2*math.Erfinv(2*p-1)
	}
}
