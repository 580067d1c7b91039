package casework

import (
	"fmt"
	"math"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/note"
)

// strainMost bounds how many observations are compared in pairs; the least to
// be expected are the ones that can clash.
const strainMost = 10

// strain says which two observations fit together least, if the evidence is strained.
func (s *sheet) strain(known []Observed) (*Strain, error) {
	if len(s.c.Evidence.Seen) == 0 || !s.now.Strained() {
		return nil, nil
	}
	pick, err := s.startling(known)
	if err != nil {
		return nil, err
	}
	ev := belief.Evidence{Acts: s.c.Evidence.Acts}
	for _, i := range pick {
		ev.Seen = append(ev.Seen, s.c.Evidence.Seen[i])
	}
	clash, err := s.e.Conflicts(s.ctx, ev)
	if err != nil {
		return nil, err
	}
	if len(clash) == 0 {
		return &Strain{Pair: []Observed{}, Text: fmt.Sprintf("Nothing this note knows explains all of this well together (%s that it is a fault the note does not know). "+
			"Look again at what was seen, or look wider than the suspects.", percent(s.now.Unknown))}, nil
	}
	a, b := known[pick[clash[0].A]], known[pick[clash[0].B]]
	return &Strain{Pair: []Observed{a, b}, Text: fmt.Sprintf("Nothing known explains “%s” together with “%s”: most likely one of the two was misread, or it is a fault this note does not know (%s). "+
		"Look again at events %d and %d before going on.", a.Words, b.Words, percent(s.now.Unknown), a.Event, b.Event)}, nil
}

// startling picks the observations that some fault alone would least have let expect.
func (s *sheet) startling(known []Observed) ([]int, error) {
	type look struct {
		i int
		p float64
	}
	var all []look
	for i, o := range s.c.Evidence.Seen {
		if known[i].Earlier {
			continue
		}
		p, err := s.expected(o)
		if err != nil {
			return nil, err
		}
		all = append(all, look{i, p})
	}
	slices.SortStableFunc(all, func(a, b look) int { return cmpDown(b.p, a.p) })
	var out []int
	for _, l := range all[:min(len(all), strainMost)] {
		out = append(out, l.i)
	}
	slices.Sort(out)
	return out, nil
}

// expected is how likely such an observation is for some fault or other.
func (s *sheet) expected(o belief.Observation) (float64, error) {
	p, err := s.e.UnknownChances(s.ctx, o.Finding)
	if err != nil {
		return 0, err
	}
	switch s.k.m.Findings[o.Finding].Kind {
	case note.Sign:
		if o.Of == 0 {
			return p[1-o.Value], nil
		}
		return math.Pow(p[0], float64(o.Value)/float64(o.Of)) * math.Pow(p[1], 1-float64(o.Value)/float64(o.Of)), nil
	case note.Pick:
		return p[o.Value], nil
	}
	return p[s.e.Closest(o.Finding, o.Number)], nil
}

const (
	warnPart  = 0.05 // chance of the consequence from which a warning is worth giving,
	warnSoon  = 0.2  // and from which it is given before anybody asks about the repair
	warnCause = 0.25 // chance, given the consequence, that its cause is there and stays
)

// warnings foresee repairs of a consequence whose cause would stay.
func (s *sheet) warnings() []Warning {
	out := []Warning{}
	if s.c.Closed != nil || s.c.Works {
		return out
	}
	w := s.worlds()
	for r := range s.k.m.Repairs {
		x := &s.k.m.Repairs[r]
		clears := map[int]bool{}
		for _, c := range x.Clears {
			clears[c.Mode] = true
		}
		var worst Warning
		for _, c := range x.Clears {
			if s.now.Now[c.Mode] < warnPart {
				continue
			}
			for _, k := range s.k.m.Modes[c.Mode].Causes {
				if clears[k.Mode] || s.mended(k.Mode) && s.now.Now[k.Mode] < warnCause {
					continue
				}
				if p := w.both(k.Mode, c.Mode); p >= warnCause && p > worst.P {
					worst = Warning{Repair: x.ID, Mode: s.k.m.Modes[k.Mode].ID, P: p, Text: s.warning(x, c.Mode, k, p), Likely: s.now.Now[c.Mode] >= warnSoon}
				}
			}
		}
		if worst.P > 0 {
			out = append(out, worst)
		}
	}
	slices.SortStableFunc(out, func(a, b Warning) int { return cmpDown(a.P, b.P) })
	return out
}

// mended says that a repair for a fault has been made.
func (s *sheet) mended(mode int) bool {
	for r, n := range s.c.Repairs {
		if n > 0 && slices.ContainsFunc(s.k.m.Repairs[r].Clears, func(c note.Clear) bool { return c.Mode == mode }) {
			return true
		}
	}
	return false
}

func (s *sheet) warning(r *note.Repair, part int, k note.Cause, p float64) string {
	return fmt.Sprintf("“%s” may not last: if it is %s, %s is behind it in %s of cases, and what is new would fail again in %s of those. Find out about that first.",
		r.Title, s.k.m.Modes[part].Title, s.k.m.Modes[k.Mode].Title, percent(p), percent(k.Chance))
}
