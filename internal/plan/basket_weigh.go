package plan

import (
	"fmt"
	"math"
	"slices"
	"sort"
)

// A shop weighs baskets for one place.
type shop struct {
	p      *Planner
	root   *node
	b      lot
	at     place
	noted  *tariff // as the note prices it
	base   *tariff // of what is bought when it comes up
	offers []Offer
	later  map[int]int
	again  map[int]float64    // per repair: the chance that the copy ordered later is a dud
	values map[string]float64 // per set of repairs covered
	lowest float64            // no policy can do better than this with everything at hand
	best   []Choice
	seen   map[string]bool
}

func (p *Planner) newShop(root *node, offers []Offer) *shop {
	s := &shop{p: p, root: root, at: root.at, offers: offers, later: map[int]int{}, again: map[int]float64{}, values: map[string]float64{}, seen: map[string]bool{}}
	s.b = p.worlds.scaled(root.b, func(id int) float64 { return s.matched(id) })
	s.noted, s.base = p.tariff, p.tariff
	for r := range p.tariff.m.Repairs {
		s.orderLater(r)
	}
	all := newBits(len(p.tariff.m.Repairs))
	for _, o := range offers {
		for _, r := range o.Covers {
			all.set(r)
		}
	}
	t := s.base
	for r := range t.m.Repairs {
		if all.has(r) {
			t = t.repriced(r, func(c *Cost) { c.Money, c.Days = 0, 0 })
		}
	}
	defer p.under(t)()
	p.least = map[plight]float64{}
	p.worlds.forgetLeast()
	s.lowest = p.floor(s.b, s.at)
	p.least = map[plight]float64{}
	p.worlds.forgetLeast()
	return s
}

// matched is the factor by which the sellers' words make world id likelier.
func (s *shop) matched(id int) float64 {
	f := 1.0
	for _, o := range s.offers {
		if o.Match == 0 || o.Match == 1 {
			continue
		}
		for _, r := range o.Covers {
			if s.p.worlds.gain(id, r) > 0 {
				f *= o.Match
				break
			}
		}
	}
	return f
}

// orderLater finds the cheapest way to get the parts of repair r when it comes up.
func (s *shop) orderLater(r int) {
	t := s.base
	now := t.repair(r, 0).cost
	if t.atHand[r] || now.Money == 0 && t.m.Repairs[r].Price == 0 {
		return
	}
	price := func(money, days float64) float64 { return money + days*t.s.DayRate }
	best, money, days := -1, now.Money, now.Days
	for i, o := range s.offers {
		k := slices.Index(o.Covers, r)
		if k < 0 {
			continue
		}
		orders := 1 / (1 - math.Pow(o.Dud, float64(o.copies(k))))
		m, d := orders*(o.Price+o.Postage)+o.Misfit*now.Money, orders*o.Days+o.Misfit*now.Days // if it does not fit, as the note says
		if price(m, d) < price(money, days)-1e-9 {
			best, money, days = i, m, d
		}
	}
	if best >= 0 {
		s.later[r], s.again[r] = best, s.offers[best].Dud
		goes := 1 / (1 - s.offers[best].Dud)
		s.base = s.base.repriced(r, func(c *Cost) { c.Money, c.Days, c.Minutes = money, days, c.Minutes*goes })
	}
}

// A supply is what is at hand for a repair once the parts are here.
type supply struct {
	Copies int     // 0: none
	Out    float64 // chance that all of them are duds; 1 if there are none
	Goes   float64 // expected number of them tried
}

// with adds n copies, each a dud with chance d.
func (x supply) with(n int, d float64) supply {
	for range n {
		x.Goes += x.Out
		x.Out *= d
		x.Copies++
	}
	return x
}

// value is what is expected to follow when these parts are at hand, per repair, and the lost
// offers have turned out not to fit.
func (s *shop) value(here []supply, lost []int, paid float64) float64 {
	at := s.at
	if s.p.settings.Budget > 0 {
		at.spent += paid
	} else {
		paid = 0
	}
	k := fmt.Sprint(here, lost, paid)
	if v, ok := s.values[k]; ok {
		return v
	}
	t := s.base
	for r := range t.m.Repairs {
		later, ok := s.later[r]
		gone := ok && slices.Contains(lost, later)
		if here[r].Copies == 0 && !gone {
			continue
		}
		as, buy, again := s.noted.repair(r, 0).cost, s.base.repair(r, 0).cost, s.again[r]
		if gone { // then it is bought as the note says
			buy, again = as, 0
		}
		x := here[r]
		t = t.repriced(r, func(c *Cost) {
			c.Money, c.Days = x.Out*buy.Money, x.Out*buy.Days
			c.Minutes = as.Minutes * (x.Goes + x.Out/(1-again))
		})
	}
	s.p.tariff = t
	clear(s.p.known)
	v := s.p.base(s.b, at).total
	s.values[k] = v
	return v
}

// money is what a set costs to order, and days how long it takes.
func (s *shop) money(set []int) (money, days float64) {
	post := map[string]float64{}
	for _, i := range set {
		o := &s.offers[i]
		money += o.Price
		days = math.Max(days, o.Days)
		if o.Seller == "" {
			money += o.Postage
		} else {
			post[o.Seller] = math.Max(post[o.Seller], o.Postage)
		}
	}
	for _, i := range set { // in the order of the offers, so that sums do not depend on the map
		o := &s.offers[i]
		money += post[o.Seller]
		delete(post, o.Seller)
	}
	return money, days
}

// weigh values a set of offers ordered now, ascending, over which of them turn out to fit.
func (s *shop) weigh(set []int) Choice {
	c := Choice{Offers: append([]int{}, set...)}
	c.Money, c.Days = s.money(set)
	c.Total = c.Money + c.Days*s.p.settings.DayRate + s.fitting(set, s.nothing(), nil, c.Money)
	if k := fmt.Sprint(set); !s.seen[k] {
		s.seen[k] = true
		s.best = append(s.best, c)
	}
	return c
}

// nothing is no parts at hand for any repair.
func (s *shop) nothing() []supply {
	out := make([]supply, len(s.p.tariff.m.Repairs))
	for r := range out {
		out[r].Out = 1
	}
	return out
}

func (s *shop) fitting(set []int, here []supply, lost []int, paid float64) float64 {
	if len(set) == 0 {
		return s.value(here, lost, paid)
	}
	o := &s.offers[set[0]]
	sum := 0.0
	if o.Misfit > 0 {
		sum += o.Misfit * s.fitting(set[1:], here, append(slices.Clone(lost), set[0]), paid)
	}
	if o.Misfit < 1 {
		more := slices.Clone(here)
		for k, r := range o.Covers {
			more[r] = more[r].with(o.copies(k), o.Dud)
		}
		sum += (1 - o.Misfit) * s.fitting(set[1:], more, lost, paid)
	}
	return sum
}

// affords tells whether a set can be paid from what is left of the budget.
func (s *shop) affords(money float64) bool {
	limit := s.p.settings.Budget
	return limit == 0 || s.at.spent+money <= limit+1e-9
}

func (s *shop) sort() {
	sort.SliceStable(s.best, func(i, j int) bool {
		a, b := s.best[i], s.best[j]
		if math.Abs(a.Total-b.Total) > 1e-9 {
			return a.Total < b.Total
		}
		return len(a.Offers) < len(b.Offers) // the smaller of two that come to the same
	})
}
