package casework

import (
	"regexp"
	"slices"

	"fettler/internal/note"
)

// onlyTrained tells words that keep a device, or a way of opening it, for trained hands.
var onlyTrained = regexp.MustCompile(`(?i)\btrained hands\b|\b(without|with) training\b|\bonly (by|for) trained\b`)

// guarded tells, per access level, what only hands trained on such a device may open: all
// of a device that makes microwaves, and what a note's own words keep for them.
// What lies behind a guarded level is guarded too.
func guarded(m *note.Model) []bool {
	out := make([]bool, len(m.Access))
	whole := keptShut(m.Hazards)
	for l := 1; l < len(out); l++ {
		a := m.Access[l]
		behind := a.Behind > 0 && a.Behind < l && out[a.Behind]
		out[l] = whole || behind || onlyTrained.MatchString(a.Title+" "+a.How)
	}
	return out
}

// keptShut tells a device that only trained hands may open at all.
func keptShut(hs []note.Hazard) bool {
	return note.StaysShut(hs) || slices.ContainsFunc(hs, func(h note.Hazard) bool { return onlyTrained.MatchString(h.Text) })
}

// guard marks the steps at guarded levels. m's slices of steps are its own to change.
func guard(m *note.Model) {
	at := guarded(m)
	mark := func(hs []note.Hazard, level int) []note.Hazard {
		if level < 0 || level >= len(at) || !at[level] {
			return hs
		}
		return append(append([]note.Hazard(nil), hs...), note.Hazard{Kind: trainedHands})
	}
	for i := range m.Checks {
		m.Checks[i].Hazards = mark(m.Checks[i].Hazards, m.Checks[i].Access)
	}
	for i := range m.Repairs {
		m.Repairs[i].Hazards = mark(m.Repairs[i].Hazards, m.Repairs[i].Access)
	}
}
