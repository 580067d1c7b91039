package appraise

import (
	"cmp"
	"slices"
)

const mostModes = 5 // listed under a class

// suspects are the classes by chance, each with the modes that make it up.
// Inside a class the notes decide, parts named included.
func (s *study) suspects() []Suspect {
	out := make([]Suspect, len(classes))
	modes := s.modes()
	for k, c := range classes {
		out[k] = Suspect{Class: c, Chance: s.chance[k], Modes: modes[k][:min(len(modes[k]), mostModes)]}
		if len(modes[k]) > 0 {
			top := modes[k][0]
			out[k].Subclass, out[k].Part, out[k].Mode, out[k].Device = top.Subclass, top.Part, top.Title, top.Device
		}
	}
	slices.SortStableFunc(out, func(a, b Suspect) int { return cmp.Compare(b.Chance, a.Chance) })
	return out
}

// modes shares each class's chance out over the notes' modes of it.
func (s *study) modes() [][]Mode {
	out := make([][]Mode, len(classes))
	sum := make([]float64, len(classes))
	for _, q := range s.notes {
		for i, p := range q.full.First {
			m := &q.bench.model.Modes[i]
			k := classIndex(m.Class)
			sum[k] += q.share * p
			out[k] = append(out[k], Mode{
				Device: q.device.ID, ID: m.ID, Title: m.Title, Subclass: m.Subclass,
				Part: q.bench.model.Parts[m.Part].Title, Chance: q.share * p,
			})
		}
	}
	for k := range out {
		for i := range out[k] {
			if sum[k] > 0 {
				out[k][i].Chance *= s.chance[k] / sum[k]
			}
		}
		slices.SortStableFunc(out[k], func(a, b Mode) int { return cmp.Compare(b.Chance, a.Chance) })
	}
	return out
}
