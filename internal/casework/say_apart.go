package casework

import (
	"context"
	"slices"
	"strings"
	"unicode"

	"fettler/internal/belief"
)

const (
	// apartLift is how much less likely two symptoms are together than if they
	// had nothing to do with each other, for one of them to be asked back: "dead"
	// and "the standby light is on". Two faults at once, each with its symptom,
	// are about as likely as chance has it.
	apartLift = 0.2
	// apartMost bounds how many symptoms of one text are compared in pairs.
	apartMost = 5
)

// apart makes doubtful what a text was read as stating, where by the note two
// things hardly ever show together: the one that fewer words say, or both.
func (s scene) apart(k *knowledge, h Heard) Heard {
	var at []int // of h.Read, the ones stated
	var ev belief.Evidence
	for i, r := range h.Read {
		if !r.Denied && !r.Comes {
			at = append(at, i)
			ev.Seen = append(ev.Seen, belief.Observation{Finding: k.names.findings[r.Finding], Value: 1})
		}
	}
	if len(at) < 2 || len(at) > apartMost {
		return h
	}
	e, err := k.rough()
	if err != nil {
		return h
	}
	clash, err := e.Conflicts(context.Background(), ev)
	if err != nil {
		return h
	}
	doubt := map[int]bool{}
	for _, c := range clash {
		a, b := at[c.A], at[c.B]
		if c.Lift > apartLift || doubt[a] || doubt[b] {
			continue
		}
		group := []Heed{h.Read[a], h.Read[b]}
		switch d := len(strings.Fields(h.Read[a].Text)) - len(strings.Fields(h.Read[b].Text)); {
		case d > 0:
			group, doubt[b] = group[1:], true
		case d < 0:
			group, doubt[a] = group[:1], true
		default:
			doubt[a], doubt[b] = true, true
		}
		h.Doubtful = append(h.Doubtful, group)
	}
	read := []Heed{}
	for i, r := range h.Read {
		if !doubt[i] {
			read = append(read, r)
		}
	}
	h.Read = read
	return h
}

// Without is what was heard, less what was not meant.
func (h Heard) Without(findings []string) Heard {
	meant := func(list []Heed) []Heed {
		out := []Heed{}
		for _, r := range list {
			if !slices.Contains(findings, r.Finding) {
				out = append(out, r)
			}
		}
		return out
	}
	h.Read = meant(h.Read)
	groups := [][]Heed{}
	for _, g := range h.Doubtful {
		if g = meant(g); len(g) > 0 {
			groups = append(groups, g)
		}
	}
	h.Doubtful = groups
	return h
}

// unnamed leaves out the words that only say which device it is, or are in the
// name of what was read or asked back: of "motor hums" the motor.
func (k *knowledge) unnamed(list []string, h Heard) []string {
	said := k.m.Title + " " + strings.Join(k.m.Names, " ")
	for _, group := range append([][]Heed{h.Read}, h.Doubtful...) {
		for _, r := range group {
			said += " " + r.Title
		}
	}
	name := strings.FieldsFunc(strings.ToLower(said), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return slices.DeleteFunc(list, func(words string) bool {
		return !slices.ContainsFunc(strings.Fields(strings.ToLower(words)), func(w string) bool { return !slices.Contains(name, w) })
	})
}
