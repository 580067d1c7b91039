package ledger

import (
	"math"
	"slices"
)

// A set is one candidate of a case: faults that were there together.
type set struct {
	p       float64
	members []member
}

// member is a fault in a set. own is the chance, by the note, that it came about
// by itself rather than by a cause that is in the set too: o/(o+b).
type member struct {
	mode int
	own  float64
}

// setsOf turns the chances of the single faults into candidates that exclude one
// another. The shares are laid end to end on a line, and with u uniform in [0, 1)
// the set consists of the shares that contain u, u+1, u+2, …: every fault keeps
// its chance exactly, a certain fault is in every set, and the number of faults
// in a set is the sum of the chances, rounded down or up. This is systematic
// sampling; n shares give at most n+1 sets per unit of the sum. What is not
// explained, the unknown fault, is left out.
func setsOf(s *Sheet, index map[string]int, because []Share) []set {
	ends := make([]float64, 0, len(because)) // ends of the shares on the line
	modes := make([]int, 0, len(because))
	factors := make([]float64, 0, len(because))
	at := 0.0
	for _, b := range because {
		if b.P <= 0 {
			continue
		}
		at += b.P
		ends = append(ends, at)
		modes = append(modes, index[b.Mode])
		f := b.Factor
		if f == 0 {
			f = 1
		}
		factors = append(factors, f)
	}
	parts := cuts(ends)
	out := make([]set, 0, len(parts))
	var in, together []int
	for _, cut := range parts {
		in = in[:0] // positions in ends
		for x := cut[0]; x < at; x++ {
			mid := x + (cut[1]-cut[0])/2
			if mid >= at {
				break
			}
			in = append(in, find(ends, mid))
		}
		if len(in) == 0 {
			continue
		}
		c := set{p: cut[1] - cut[0], members: make([]member, 0, len(in))}
		together = together[:0]
		for _, i := range in {
			together = append(together, modes[i])
		}
		for _, i := range in {
			m := member{mode: modes[i], own: s.own(modes[i], together)}
			c.members = append(c.members, m)
			c.p /= m.weight(factors[i])
		}
		out = append(out, c)
	}
	normalise(out, min(1, at))
	return out
}

// cuts divides [0, 1) where a share begins or ends, modulo 1.
func cuts(ends []float64) [][2]float64 {
	at := make([]float64, 0, len(ends)+2)
	at = append(at, 0, 1)
	for _, e := range ends {
		at = append(at, e-math.Floor(e))
	}
	slices.Sort(at)
	out := make([][2]float64, 0, len(at))
	for i := 1; i < len(at); i++ {
		if at[i]-at[i-1] > 1e-12 {
			out = append(out, [2]float64{at[i-1], at[i]})
		}
	}
	return out
}

// find returns the first share that ends after x.
func find(ends []float64, x float64) int {
	for i, e := range ends {
		if x < e {
			return i
		}
	}
	return len(ends) - 1
}

// given takes the candidates as they are stated.
func given(s *Sheet, index map[string]int, sets []Set) []set {
	var out []set
	total := 0.0
	for _, g := range sets {
		if g.P <= 0 {
			continue
		}
		c := set{p: g.P}
		if g.Factor != 0 {
			c.p /= g.Factor
		}
		total += g.P
		modes := make([]int, len(g.Modes))
		for i, m := range g.Modes {
			modes[i] = index[m]
		}
		for _, m := range modes {
			c.members = append(c.members, member{mode: m, own: s.own(m, modes)})
		}
		out = append(out, c)
	}
	normalise(out, min(1, total))
	return out
}

// own is the chance that mode i is there by itself, given those it is there
// together with: the weight of a candidate is Π(o + b), of which o is its own part.
func (s *Sheet) own(i int, together []int) float64 {
	stay := 1.0
	for _, c := range s.Modes[i].Causes {
		if slices.Contains(together, c.Mode) {
			stay *= 1 - c.Chance
		}
	}
	if stay == 1 {
		return 1
	}
	o := s.Modes[i].Odds
	return o / (o + 1 - stay)
}

// weight is by how much a factor on the odds changes the weight of a candidate with this member.
func (m member) weight(factor float64) float64 { return m.own*factor + 1 - m.own }

// normalise scales the sets' chances to the given sum.
func normalise(sets []set, sum float64) {
	total := 0.0
	for _, s := range sets {
		total += s.p
	}
	for i := range sets {
		sets[i].p *= sum / total
	}
}
