package casework

import (
	"slices"

	"fettler/internal/note"
)

const (
	asksMost = 8
	askLeast = 0.005 // bits below which a question is not worth anybody's breath
	askSure  = 0.03  // chance of yes, beyond what shows for no reason, or of no, below which it is as good as answered
	topsMost = 3
)

// field is finding f as a form asks for it.
func (s *sheet) field(f int) Field {
	x := &s.k.m.Findings[f]
	out := Field{Finding: x.ID, Title: x.Title, Ask: x.Ask, Comes: x.Comes, Answers: []string{}, Expect: []string{}, Now: s.valueNow(f)}
	switch x.Kind {
	case note.Sign:
		out.Kind = "sign"
	case note.Pick:
		out.Kind, out.Answers = "pick", x.Answers
	default:
		out.Kind, out.Unit, out.Overlap = "reading", x.Measure, overlaps(x.Dist)
		for st, d := range x.Dist {
			out.Expect = append(out.Expect, s.k.m.Conditions[x.Cond].States[st]+": "+distWords(d, x.Measure))
		}
	}
	return out
}

// valueNow is what is known of a finding in this epoch, "" if it was not looked at.
func (s *sheet) valueNow(f int) string {
	now := len(s.c.Evidence.Acts)
	for i := len(s.c.Looks) - 1; i >= 0; i-- {
		if o := s.c.Evidence.Seen[i]; o.Finding == f && o.Epoch == now {
			return s.c.Looks[i].Value.words()
		}
	}
	return ""
}

func (s *sheet) symptoms() []Field {
	out := []Field{}
	for i := range s.k.m.Findings {
		if s.k.m.Findings[i].Check < 0 {
			out = append(out, s.field(i))
		}
	}
	return out
}

// questions are the free signs never looked at, most telling first, but those that what
// is known has as good as answered ("completely dead?" of what hums). While a
// repair waits to be tried, and on a closed case, there is nothing to see.
func (s *sheet) questions() ([]Question, error) {
	out := []Question{}
	if s.c.Pending || s.c.Closed != nil {
		return out, nil
	}
	looked := map[int]bool{}
	for _, o := range s.c.Evidence.Seen {
		looked[o.Finding] = true
	}
	w := s.worlds()
	for f := range s.k.m.Findings {
		x := &s.k.m.Findings[f]
		if x.Check >= 0 || x.Kind != note.Sign || looked[f] || s.denies(f) {
			continue
		}
		odd, err := s.e.UnknownChances(s.ctx, f)
		if err != nil {
			return nil, err
		}
		q := w.question(f, odd)
		if because := (q.Yes - x.Leak) / (1 - x.Leak); q.Bits >= askLeast && because >= askSure && q.Yes <= 1-askSure {
			q.Field = s.field(f)
			out = append(out, q)
		}
	}
	slices.SortStableFunc(out, func(a, b Question) int { return cmpDown(a.Bits, b.Bits) })
	return out[:min(len(out), asksMost)], nil
}
