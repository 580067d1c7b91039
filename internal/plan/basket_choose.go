package plan

import (
	"context"
	"fmt"
	"slices"
)

// choose finds the best set and what each offer is worth.
func (s *shop) choose(ctx context.Context) (*Basket, error) {
	out := &Basket{Later: s.later, Exact: len(s.offers) <= exactOffers, Lower: s.lowest}
	c, err := s.least(ctx, -1, -1)
	if err != nil {
		return nil, err
	}
	out.Choice = c
	if out.Exact {
		out.Lower = c.Total
	}
	for i := range s.offers {
		w, err := s.worth(ctx, i, c)
		if err != nil {
			return nil, err
		}
		out.Worth = append(out.Worth, w)
	}
	for i := range s.offers {
		w, err := s.saves(ctx, i, c)
		if err != nil {
			return nil, err
		}
		out.Saves = append(out.Saves, w)
	}
	s.sort()
	for _, x := range s.best {
		if !slices.Equal(x.Offers, c.Offers) && len(out.Others) < mostOthers {
			out.Others = append(out.Others, x)
		}
	}
	return out, nil
}

// worth is the most one should pay for offer i, postage not counted.
func (s *shop) worth(ctx context.Context, i int, best Choice) (float64, error) {
	with, without := best, best
	var err error
	if slices.Contains(best.Offers, i) {
		without, err = s.least(ctx, -1, i)
	} else {
		with, err = s.least(ctx, i, -1)
	}
	return s.offers[i].Price + without.Total - with.Total, err
}

// saves is what it comes to more without offer i on the table; one that is taken neither now nor later saves nothing.
func (s *shop) saves(ctx context.Context, i int, best Choice) (float64, error) {
	used := slices.Contains(best.Offers, i)
	for _, j := range s.later {
		used = used || i == j
	}
	if !used {
		return 0, nil
	}
	defer s.p.under(s.noted)()
	without := s.p.newShop(s.root, slices.Delete(slices.Clone(s.offers), i, i+1))
	c, err := without.least(ctx, -1, -1)
	return max(0, c.Total-best.Total), err
}

// least is the best set with offer must in it and offer never not in it (-1: no such offer).
func (s *shop) least(ctx context.Context, must, never int) (Choice, error) {
	if len(s.offers) <= exactOffers {
		return s.enumerate(ctx, must, never)
	}
	return s.climb(ctx, must, never)
}

// enumerate goes through the sets, offer by offer, cutting off where what is
// already ordered and what must follow at least come to more than the best set found.
func (s *shop) enumerate(ctx context.Context, must, never int) (Choice, error) {
	best := s.weigh(nil)
	if must >= 0 {
		best = s.weigh([]int{must})
	}
	var walk func(i int, set []int) error
	walk = func(i int, set []int) error {
		if ctx.Err() != nil {
			return fmt.Errorf("the time for weighing the offers ran out: %w; allow more, or leave some offers out", ctx.Err())
		}
		if money, days := s.money(set); !s.affords(money) && must < 0 || money+days*s.p.settings.DayRate+s.lowest >= best.Total {
			return nil
		}
		if i == len(s.offers) {
			if must < 0 || slices.Contains(set, must) {
				if c := s.weigh(set); c.Total < best.Total-1e-9 {
					best = c
				}
			}
			return nil
		}
		if i != never {
			if err := walk(i+1, append(slices.Clone(set), i)); err != nil {
				return err
			}
		}
		if i != must {
			return walk(i+1, set)
		}
		return nil
	}
	err := walk(0, nil)
	return best, err
}

// climb starts from nothing (or the offer that must be in) and adds, drops or exchanges one offer at a
// time as long as that helps.
func (s *shop) climb(ctx context.Context, must, never int) (Choice, error) {
	var set []int
	if must >= 0 {
		set = []int{must}
	}
	best := s.weigh(set)
	for better := true; better; {
		better = false
		for _, next := range s.neighbours(best.Offers, must, never) {
			if ctx.Err() != nil {
				return best, fmt.Errorf("the time for weighing the offers ran out: %w; allow more, or leave some offers out", ctx.Err())
			}
			money, days := s.money(next)
			if !s.affords(money) && must < 0 || money+days*s.p.settings.DayRate+s.lowest >= best.Total {
				continue
			}
			if c := s.weigh(next); c.Total < best.Total-1e-9 {
				best, better = c, true
			}
		}
	}
	return best, nil
}

// neighbours are the sets with one offer more, one less, or one exchanged.
func (s *shop) neighbours(set []int, must, never int) [][]int {
	var out [][]int
	for i := range s.offers {
		if at, in := slices.BinarySearch(set, i); in && i != must {
			out = append(out, slices.Delete(slices.Clone(set), at, at+1))
		} else if !in && i != never {
			more := slices.Insert(slices.Clone(set), at, i)
			out = append(out, more)
			for _, j := range set {
				if j != must {
					out = append(out, slices.DeleteFunc(slices.Clone(more), func(x int) bool { return x == j }))
				}
			}
		}
	}
	return out
}
