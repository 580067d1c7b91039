package casework

import (
	"context"
	"fmt"
	"slices"

	"fettler/internal/note"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

// A ShelfPick is parts of the shelf that will do for an item of a note.
type ShelfPick struct {
	Item  string `json:"item"` // as the note says it
	Line  string `json:"line"`
	Name  string `json:"name"`
	Count int    `json:"count"` // pieces to take
	Place string `json:"place"`
	From  string `json:"from"`
	Board string `json:"board"`
	Why   string `json:"why"` // why it will do
}

// fromShelf notes for which repairs everything is on the shelf, and what is still on
// a board for the others.
func (c *Case) fromShelf(s *shelf) error {
	if c.Model == nil || c.Closed != nil || len(s.lines) == 0 {
		return nil
	}
	c.Shelf, c.Donors, c.part, c.lacks = map[int][]ShelfPick{}, map[int][]ShelfPick{}, map[int][]ShelfPick{}, map[int][]int{}
	for r := range c.Model.Repairs {
		picks, donors, lacks, err := s.picksFor(c.Model.Repairs[r].Buys)
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

// picksFor finds what to take for the items: all of it if nothing lacks; donors is what is
// on boards for what does, lacks how many of each are missing. No piece is taken twice.
func (s *shelf) picksFor(items []note.Item) (picks, donors []ShelfPick, lacks []int, err error) {
	taken := map[*stocked]int{}
	for _, it := range items {
		got, left, err := s.pick(it, taken, false)
		if err != nil {
			return nil, nil, nil, err
		}
		picks, lacks = append(picks, got...), append(lacks, left)
		if left == 0 {
			continue
		}
		if got, _, err = s.pick(it, taken, true); err != nil {
			return nil, nil, nil, err
		}
		donors = append(donors, got...)
	}
	return picks, donors, lacks, nil
}

// pick takes pieces for an item, best first; left is how many are missing.
func (s *shelf) pick(it note.Item, taken map[*stocked]int, boards bool) (out []ShelfPick, left int, err error) {
	fits, why, err := s.fitting(it.What, boards)
	if err != nil {
		return nil, 0, err
	}
	left = max(it.Count, 1)
	for _, l := range fits {
		n := min(left, l.Count-taken[l])
		if n <= 0 {
			continue
		}
		taken[l] += n
		left -= n
		w := why
		if l.From == stock.Pulled {
			w += "; pulled: measure it before it goes in"
		}
		out = append(out, ShelfPick{Item: it.What, Line: l.id, Name: l.Name, Count: n, Place: l.Place, From: l.From, Board: l.Board, Why: w})
		if left == 0 {
			break
		}
	}
	return out, left, nil
}

// fitting finds the lines that will do for an item: by its value where the note says
// enough of it, else by the same words.
func (s *shelf) fitting(item string, boards bool) ([]*stocked, string, error) {
	key := fmt.Sprint(boards, " ", sameName(item))
	req, noReq := stock.Requirement(item)
	why := "named as in the note: hold its figures against the old one's"
	if noReq == nil {
		why = "meets all that “" + item + "” asks for"
	}
	s.mu.Lock()
	got, ok := s.found[key]
	s.mu.Unlock()
	if ok {
		return got, why, nil
	}
	var err error
	if noReq == nil {
		got, err = s.meeting(req, boards)
	} else {
		got = append(got, s.named(item, boards)...)
	}
	if err != nil {
		return nil, "", err
	}
	s.mu.Lock()
	s.found[key] = got
	s.mu.Unlock()
	return got, why, nil
}

// named finds the lines that do for an item by their words, the very same name first.
func (s *shelf) named(item string, boards bool) (got []*stocked) {
	same := sameName(item)
	keys := []string{same}
	for _, k := range s.words()[mainWord(item)] {
		if k != same && wordsFit(item, k) {
			keys = append(keys, k)
		}
	}
	for _, k := range keys {
		for _, l := range s.names()[k] {
			if l.Count > 0 && (l.From == stock.OnBoard) == boards && !(l.From != stock.New && stock.FittedNew(part.Kind(l.Kind), l.Name)) {
				got = append(got, l)
			}
		}
	}
	return got
}

// mostFitting is how many lines are looked at for one item.
const mostFitting = 30

// meeting finds the lines of which every inequality is known to hold, best first.
func (s *shelf) meeting(req fit.Requirement, boards bool) ([]*stocked, error) {
	r, err := s.rackOf(boards)
	if err != nil {
		return nil, err
	}
	res, err := r.fit.Search(context.Background(), req, fit.Options{Limit: mostFitting})
	if err != nil {
		return nil, &Error{Code: BadInput, Text: err.Error(), Err: err}
	}
	var out []*stocked
	for _, j := range res.Judgements {
		l := s.at(j.Candidate.Name)
		if j.Verdict == fit.Accepted && l != nil && !(l.From != stock.New && stock.FittedNew(part.Kind(l.Kind), l.Name)) {
			out = append(out, l)
		}
	}
	return out, nil
}

func (s *shelf) rackOf(boards bool) (*rack, error) {
	if boards {
		return s.fixed()
	}
	return s.loose()
}
