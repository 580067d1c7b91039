package web

import "fettler/internal/casework"

// wasShown is from what chance on a fault stands in the list of what it was; less
// likely ones are behind a click.
const wasShown = 0.05

// A WasLine is a fault that a closed case may have come with.
type WasLine struct {
	casework.Chance
	Unknown bool
	After   string // what has become of it, in words; may be empty
}

// wasLines lists what a closed case was, likeliest first, and what has become of it.
func wasLines(v *casework.View) (first, more []WasLine) {
	o := v.Outcome
	if o == nil {
		return nil, nil
	}
	var all []WasLine
	placed := !(o.Unknown > 0) || o.Stated
	unknown := WasLine{Chance: casework.Chance{Title: "a fault this note does not know", Now: o.Unknown, Before: o.Unknown}, Unknown: true}
	for _, b := range o.Because {
		if !placed && o.Unknown >= b.Now {
			all, placed = append(all, unknown), true
		}
		all = append(all, WasLine{Chance: b, After: became(v, b.Mode)})
	}
	if !placed {
		all = append(all, unknown)
	}
	for i, l := range all {
		if i == 0 || l.Now >= wasShown && len(first) < suspectsShown {
			first = append(first, l)
		} else {
			more = append(more, l)
		}
	}
	return first, more
}

// became says whether a repair has dealt with a fault.
func became(v *casework.View, mode string) string {
	for _, s := range v.Suspects {
		if s.Mode != mode || !(s.Arrival > 0) {
			continue
		}
		switch left := s.Now / s.Arrival; {
		case left < 0.1:
			return "repaired"
		case left < 0.5:
			return "repaired, it seems"
		}
		return ""
	}
	return ""
}
