package note

import (
	"fmt"
	"math"
	"strings"
)

// secondFault is Σ ln(1+odds) over the modes of a device. It sets how usual a
// second independent fault is. With many modes the number of independent
// faults is close to Poisson with this mean L, and given that there is at
// least one, there is another with probability 1 - L/(e^L - 1): 0.124 for
// L = 0.26, one in eight.
const secondFault = 0.26

// leastShare keeps every mode possible: one whose rate is stated as 0, because it
// only follows from others, still has this part of the sum.
const leastShare = 1e-6

// addPriors turns the modes' weights into odds: the blocks' burdens first, then
// the tempering towards the category's class shares if there is a mix, then the
// common scale, which is all that a block by itself has.
func (c *composer) addPriors() {
	w := c.weights
	total := 0.0
	for _, x := range w {
		total += x
	}
	if c.alone && !c.failed(0) && total > 0 && !math.IsInf(total, 0) {
		c.setOdds(w, total)
		return
	}
	if len(w) == 0 || c.alone || c.failed(0) {
		if len(w) == 0 && !c.alone && !c.failed(0) {
			c.fail(c.dev.id, "give it blocks: or parts:", "%q has nothing that can fail", c.dev.id.text)
		}
		return
	}
	if !(total > 0) || math.IsInf(total, 0) {
		c.fail(c.dev.id, "", "the rates of %q add up to %g", c.dev.id.text, total)
		return
	}
	units := make([]int, len(w))
	classes := make([]Class, len(w))
	for i := range c.m.Modes {
		units[i] = c.m.Parts[c.m.Modes[i].Part].Unit
		classes[i] = c.m.Modes[i].Class
	}
	burdens := c.burdens(w, units)
	share(w, units, burdens)
	if strength := c.strength(); c.lib.settings.Mix != nil && strength > 0 {
		mix := c.lib.settings.Mix(c.m.Category)
		temper(w, classes, mix, strength, func() { share(w, units, burdens) })
		for i := range c.m.Modes {
			if mix[classes[i]] > 0 {
				c.m.Modes[i].Basis += "; its class moved towards its share in repair records of " + c.m.Category
			}
		}
	}
	c.setOdds(w, total)
}

// setOdds brings the weights to the common scale.
func (c *composer) setOdds(w []float64, total float64) {
	for i := range w {
		w[i] = max(w[i], leastShare*total)
	}
	k := scaleFor(w, secondFault)
	for i := range c.m.Modes {
		c.m.Modes[i].Odds = w[i] * k
	}
}

// strength is how far this device's classes move towards the records: not at
// all for a stand-in for many devices, and as the note says of itself.
func (c *composer) strength() float64 {
	s := c.lib.settings.strength()
	switch {
	case strings.HasPrefix(c.m.ID, genericPrefix), c.dev.mix == "none":
		return 0
	case c.dev.mix == "weak":
		return s * weakMix
	}
	return s
}

// burdens returns the stated share of each unit, -1 where there is none; nil if
// no unit states one.
func (c *composer) burdens(w []float64, units []int) []float64 {
	var out []float64
	sum := 0.0
	var at *node
	for _, u := range c.units[1:] {
		if u.use.burden < 0 {
			continue
		}
		if out == nil {
			out = make([]float64, len(c.units))
			for i := range out {
				out[i] = -1
			}
		}
		out[u.index], at = u.use.burden, u.use.name
		sum += u.use.burden
	}
	if out == nil {
		return nil
	}
	free := 0.0
	for i, x := range w {
		if out[units[i]] < 0 {
			free += x
		}
	}
	switch {
	case sum > 1+1e-9, sum >= 1 && free > 0:
		c.fail(at, "leave something for the others", "the burdens of the blocks add up to %.3g", sum)
		return nil
	case sum <= 0:
		c.fail(at, "", "a block that never fails is left out")
		return nil
	}
	for i := range c.m.Modes {
		if b := out[units[i]]; b >= 0 {
			c.m.Modes[i].Basis += fmt.Sprintf("; the block is said to have %.0f %% of the faults", b*100)
		}
	}
	return out
}

// share scales the weights so that every unit with a burden has that share of
// their sum, and the others keep their ratios in what is left. The sum stays.
func share(w []float64, units []int, burdens []float64) {
	if burdens == nil {
		return
	}
	sums := make([]float64, len(burdens))
	total, stated, free := 0.0, 0.0, 0.0
	for i, x := range w {
		sums[units[i]] += x
		total += x
	}
	for u, b := range burdens {
		switch {
		case b < 0:
			free += sums[u]
		case sums[u] > 0:
			stated += b
		}
	}
	rest := 1 - stated
	if free == 0 { // nobody to take the rest: the burdens are in proportion
		rest = 0
	}
	for i := range w {
		u := units[i]
		switch b := burdens[u]; {
		case sums[u] == 0:
		case b >= 0:
			w[i] *= total * b / (stated + rest) / sums[u]
		default:
			w[i] *= total * rest / (stated + rest) / free
		}
	}
}

// scaleFor finds k such that Σ ln(1 + k·w) = target, by Newton's method from
// k = target/Σw: the sum is concave in k, so the steps climb to the root and do not pass it.
func scaleFor(w []float64, target float64) float64 {
	sum := 0.0
	for _, x := range w {
		sum += x
	}
	k := target / sum
	for range 100 {
		f, slope := -target, 0.0
		for _, x := range w {
			f += math.Log1p(k * x)
			slope += x / (1 + k*x)
		}
		step := f / slope
		k -= step
		if math.Abs(step) <= 1e-14*k {
			break
		}
	}
	return k
}
