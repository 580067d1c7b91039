package casework

import "fettler/internal/shelf"

func (s *sheet) check(i int) Step {
	x := &s.k.m.Checks[i]
	out := Step{ID: x.ID, Title: x.Title, Unit: s.unit(x.Unit), How: x.How, With: list(x.With), Minutes: x.Minutes, Access: s.c.level(x.Access), First: s.first(x.Access), Back: s.back(x.Access, x.Live),
		Live: x.Live, Harm: x.Harm, Fields: []Field{}, Buys: []Item{}, Clears: []Chance{}, Shelf: []shelf.Pick{}, Partly: []shelf.Pick{}, Donors: []shelf.Pick{}, Times: s.c.Checks[i]}
	s.caution(&out, x.Hazards, x.Access)
	for _, f := range x.Findings {
		out.Fields = append(out.Fields, s.field(f))
	}
	return out
}

func (s *sheet) repair(i int) Step {
	x := &s.k.m.Repairs[i]
	out := Step{ID: x.ID, Title: x.Title, Unit: s.unit(x.Unit), How: x.How, With: list(x.With), Minutes: x.Minutes, Money: x.Price, Days: x.Days, Access: s.c.level(x.Access),
		First: s.first(x.Access), Back: s.back(x.Access, x.Live), Live: x.Live, Harm: x.Harm, Fields: []Field{}, Buys: []Item{}, Clears: []Chance{},
		Times: s.c.Repairs[i], AtHand: s.c.atHand(i), Shelf: append([]shelf.Pick{}, s.c.Shelf[i]...), Partly: append([]shelf.Pick{}, s.c.part[i]...), Donors: append([]shelf.Pick{}, s.c.Donors[i]...)}
	s.caution(&out, x.Hazards, x.Access)
	if s.c.AtHand[i] { // bought for it: the shelf is left alone
		out.Shelf, out.Partly, out.Donors = []shelf.Pick{}, []shelf.Pick{}, []shelf.Pick{}
	}
	if out.AtHand {
		out.Money, out.Days = 0, 0
	}
	for _, b := range x.Buys {
		out.Buys = append(out.Buys, Item{b.What, b.Count, b.Price})
	}
	for _, c := range x.Clears {
		if ch := s.chance(c.Mode); ch.Now >= suspectLeast {
			out.Clears = append(out.Clears, ch)
		}
	}
	return out
}

// unit is the title of a block; the device's own parts are in none.
func (s *sheet) unit(u int) string {
	if u <= 0 || u >= len(s.k.m.Units) {
		return ""
	}
	return s.k.m.Units[u].Title
}

// first is what to open before a step at that level, in order.
func (s *sheet) first(level int) []Level {
	return s.someLevels(pathTo(s.k.m, s.c.Access, level))
}

// back is what to put back before such a step: what is done live wants the
// device no further open than the note says.
func (s *sheet) back(level int, live bool) []Level {
	if at, _ := reach(s.k.m, s.c.Access, level, live); at == s.c.Access {
		return []Level{}
	}
	return s.someLevels(pathBack(s.k.m, s.c.Access, level))
}

func (s *sheet) someLevels(path []int) []Level {
	out := []Level{}
	for _, l := range path {
		out = append(out, s.c.level(l))
	}
	return out
}

func list(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
