package shelf

import (
	"context"
	"fmt"

	"fettler/internal/failure"
	"fettler/internal/note"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

// A Pick is parts of the shelf that will do for an item of a note.
type Pick struct {
	Item  string `json:"item"` // as the note says it
	Line  string `json:"line"`
	Name  string `json:"name"`
	Count int    `json:"count"` // pieces to take
	Place string `json:"place"`
	From  string `json:"from"`
	Board string `json:"board"`
	Why   string `json:"why"` // why it will do
}

// Picks finds what to take for the items: all of it if nothing lacks; donors is what is
// on boards for what does, lacks how many of each are missing. No piece is taken twice.
func (s *Shelf) Picks(items []note.Item) (picks, donors []Pick, lacks []int, err error) {
	taken := map[*Line]int{}
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
func (s *Shelf) pick(it note.Item, taken map[*Line]int, boards bool) (out []Pick, left int, err error) {
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
		out = append(out, Pick{Item: it.What, Line: l.ID, Name: l.Name, Count: n, Place: l.Place, From: l.From, Board: l.Board, Why: w})
		if left == 0 {
			break
		}
	}
	return out, left, nil
}

// fitting finds the lines that will do for an item: by its value where the note says
// enough of it, else by the same words.
func (s *Shelf) fitting(item string, boards bool) ([]*Line, string, error) {
	key := fmt.Sprint(boards, " ", SameName(item))
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
func (s *Shelf) named(item string, boards bool) (got []*Line) {
	same := SameName(item)
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
func (s *Shelf) meeting(req fit.Requirement, boards bool) ([]*Line, error) {
	r, err := s.rackOf(boards)
	if err != nil {
		return nil, err
	}
	res, err := r.fit.Search(context.Background(), req, fit.Options{Limit: mostFitting})
	if err != nil {
		return nil, &failure.Error{Code: failure.BadInput, Text: err.Error(), Err: err}
	}
	var out []*Line
	for _, j := range res.Judgements {
		l := s.At(j.Candidate.Name)
		if j.Verdict == fit.Accepted && l != nil && !(l.From != stock.New && stock.FittedNew(part.Kind(l.Kind), l.Name)) {
			out = append(out, l)
		}
	}
	return out, nil
}

// Search holds a requirement against what is loose, or what is still on boards; the lines
// are those of the judgements, in their order.
func (s *Shelf) Search(ctx context.Context, onBoards bool, req fit.Requirement, o fit.Options) (fit.Result, []stock.Kept, error) {
	r, err := s.rackOf(onBoards)
	if err != nil {
		return fit.Result{}, nil, err
	}
	res, err := r.fit.Search(ctx, req, o)
	if err != nil {
		return fit.Result{}, nil, err
	}
	lines := make([]stock.Kept, len(res.Judgements))
	for i, j := range res.Judgements {
		lines[i] = s.At(j.Candidate.Name).Kept() // the rack is of the lines of this shelf
	}
	return res, lines, nil
}

func (s *Shelf) rackOf(boards bool) (*rack, error) {
	if boards {
		return s.fixed()
	}
	return s.loose()
}
