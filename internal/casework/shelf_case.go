package casework

import (
	"fmt"
	"slices"
	"strings"

	"fettler/internal/shelf"
)

// What the shelf is to a case.

// fromShelf notes for which repairs everything is on the shelf, and what is still on
// a board for the others.
func (c *Case) fromShelf(s *shelf.Shelf) error {
	if c.Model == nil || c.Closed != nil || len(s.Lines()) == 0 {
		return nil
	}
	c.Shelf, c.Donors, c.part, c.lacks = map[int][]shelf.Pick{}, map[int][]shelf.Pick{}, map[int][]shelf.Pick{}, map[int][]int{}
	for r := range c.Model.Repairs {
		picks, donors, lacks, err := s.Picks(c.Model.Repairs[r].Buys)
		if err != nil {
			return err
		}
		c.lacks[r] = lacks
		if slices.Max(append(lacks, 0)) > 0 {
			c.part[r], picks = picks, nil
		}
		if len(picks) > 0 {
			c.Shelf[r] = picks
		}
		if len(donors) > 0 {
			c.Donors[r] = donors
		}
	}
	return nil
}

// shelve notes what of the shelf, after these events of the bench, a case can use.
func (b *Bench) shelve(c *Case, bench []Event) error {
	if c.Closed != nil || len(bench) == 0 {
		return nil
	}
	s, err := b.shelfOf(bench)
	if err != nil {
		return err
	}
	return c.fromShelf(s)
}

// atHand says that the parts of a repair are here, bought or on the shelf.
func (c *Case) atHand(r int) bool { return c.AtHand[r] || len(c.Shelf[r]) > 0 }

// allAtHand is the repairs whose parts are here, as the planner takes them.
func (c *Case) allAtHand() map[int]bool {
	if len(c.Shelf) == 0 {
		return c.AtHand
	}
	out := map[int]bool{}
	for r, here := range c.AtHand {
		out[r] = here
	}
	for r := range c.Shelf {
		out[r] = true
	}
	return out
}

// tookWords says what a repair took from the shelf, "" if nothing.
func tookWords(all []Took) string {
	var out []string
	for _, t := range all {
		out = append(out, joined(", ", fmt.Sprintf("%d × %s", t.Count, t.Name), t.Place))
	}
	if len(out) == 0 {
		return ""
	}
	return "; from the shelf: " + strings.Join(out, "; ")
}

// fromShelfWords is a sentence that says where on the shelf the parts of a repair are, "" if they are not there.
func fromShelfWords(picks []shelf.Pick) string {
	var places []string
	for _, p := range picks {
		at := p.Place
		if at == "" {
			at = "no place noted"
		}
		if !slices.Contains(places, at) {
			places = append(places, at)
		}
	}
	if len(places) == 0 {
		return ""
	}
	return " What it needs comes from your shelf: " + strings.Join(places, ", ") + "; it costs nothing and nobody waits."
}
