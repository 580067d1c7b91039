package plan

import (
	"math"
	"slices"
)

// The search values a look at something nobody complained of as if it had to be made some
// time, and so now as well as later. A repairer makes it when its turn comes: among looks
// that come to nearly the same, one that tells of what is suspected goes before one that
// does not. Common practice, no source.
const (
	mostSuspected = 6    // how many of the likeliest faults are what is suspected,
	leastSuspect  = 0.03 // if they are as likely as that
	astray        = 0.02 // mean shift of the chance of any of them below which a look does not bear on them
	onTrail       = 0.04 // and from which it does
)

// bearing says how far each check bears on what is suspected under b: the most by which it
// shifts, in the mean of its results, the chance of one of the likeliest faults.
func (p *Planner) bearing(b lot) func(check int) float64 {
	suspects := p.tops(b, mostSuspected)
	has := make([][]int, len(suspects)) // of b.ids, by suspect
	for i, s := range suspects {
		for k, id := range b.ids {
			if slices.Contains(p.worlds.list[id].modes, s.Mode) {
				has[i] = append(has[i], k)
			}
		}
	}
	return func(check int) float64 {
		all := p.worlds.chances(b, check)
		most := 0.0
		for i, s := range suspects {
			if s.P < leastSuspect {
				continue
			}
			with := make([]float64, len(all))
			for _, k := range has[i] {
				for r, chance := range p.worlds.tells(b.ids[k], check) {
					with[r] += b.w[k] * chance
				}
			}
			shift := 0.0
			for r := range all {
				shift += math.Abs(with[r] - s.P*all[r])
			}
			most = max(most, shift)
		}
		return most
	}
}

// trail is a look that bears on what is suspected, instead of one at index at that does not.
func (c care) trail(at int) int {
	is := c.ranking[at]
	if is.Kind != Check || is.Bears >= astray {
		return -1
	}
	for i, x := range c.ranking {
		if x.Kind == Check && c.near(i, at) && x.Bears >= onTrail {
			return i
		}
	}
	return -1
}
