package plan

import (
	"context"
	"fmt"
	"slices"

	"fettler/internal/belief"
)

// An Offer is something that can be ordered: a single part, a kit, a donor board.
type Offer struct {
	ID      string
	Seller  string  // offers of one seller share the postage, the dearest of theirs; "" shares with none
	Covers  []int   // the repairs whose parts it brings, all of them
	Copies  []int   // per Covers: how many times over; nil is once each
	Price   float64 // without postage
	Postage float64
	Days    float64 // until it is there
	// Match is how the seller's own words bear on the fault: the factor by which
	// they make the faults it cures likelier ("fixes: dead, clicking" on a device that is dead and
	// clicks). 0 and 1 say nothing.
	Match float64
	// Misfit is the chance that the parts turn out not to fit or not to be as described.
	Misfit float64
	// Dud is the chance that one copy turns out dead or counterfeit, or is spoilt in
	// fitting, so that the next is needed. Only with it is a spare worth anything.
	Dud float64
}

// copies is how many times over the offer brings what its k-th repair needs.
func (o *Offer) copies(k int) int {
	if o.Copies == nil {
		return 1
	}
	return o.Copies[k]
}

// A Choice is a set of offers ordered now, with what it comes to.
type Choice struct {
	Offers []int   // ascending indexes; empty: order nothing yet
	Total  float64 // expected cost to the end
	Money  float64 // to pay now, postage included
	Days   float64 // until the last of it is there
}

// A Basket is the answer to "what to order?".
type Basket struct {
	Choice
	// Later says, per repair, which offer to order should the repair come up and its
	// parts not be there; repairs not in it are bought as the note says.
	Later map[int]int
	// Others are the next best sets, best first.
	Others []Choice
	// Worth is, per offer, up to which price it pays to order it now: its price and
	// what the best set with it saves against the best set that leaves it for later.
	Worth []float64
	// Saves is, per offer, how much dearer it all would be expected to come if there
	// were no such offer, neither now nor later: what a spare or a second kit is good for.
	Saves []float64
	Lower float64 // no set of the offers can be expected to cost less
	Exact bool    // all sets were compared or excluded
}

// Limits of Basket.
const (
	exactOffers = 15
	mostOffers  = 60
	mostOthers  = 5
	mostCopies  = 1000
	mostDud     = 0.95
)

// Basket chooses which offers to order now, in two stages: what is ordered now is paid,
// waited for once and then at hand; what is not can be ordered when its repair
// comes up, for the price, postage and days of the offer that is then cheapest. Each copy of a part
// is a dud with the chance the offer states, independently: of n copies at hand all are with dⁿ, and then
// another is ordered, 1/(1-dᶜ) times over for offers of c copies; every dud costs its minutes again. What follows is
// valued by the base policy. Up to 15 offers the choice is exact: all sets are
// compared but those that a bound excludes. Beyond that it starts from the best set grown offer by offer
// and swaps until nothing helps; Lower says how far that can be from the best.
func (p *Planner) Basket(ctx context.Context, b *belief.Belief, sit Situation, offers []Offer) (*Basket, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if err := p.checkOffers(offers); err != nil {
		return nil, err
	}
	p.bounding = false
	root, err := p.start(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	s := p.newShop(root, offers)
	defer p.under(p.tariff)()
	return s.choose(ctx)
}

func (p *Planner) checkOffers(offers []Offer) error {
	if len(offers) > mostOffers {
		return fmt.Errorf("%d offers are more than can be weighed together; leave the dearest out until there are at most %d", len(offers), mostOffers)
	}
	for i, o := range offers {
		name := fmt.Sprintf("offer %d (%q)", i+1, o.ID)
		for _, x := range []struct {
			what string
			v    float64
			most float64
		}{{"price", o.Price, 1e9}, {"postage", o.Postage, 1e9}, {"number of days", o.Days, 3650}, {"match", o.Match, 1000}, {"chance of not fitting", o.Misfit, 1}, {"chance of a dud", o.Dud, mostDud}} {
			if !(x.v >= 0 && x.v <= x.most) {
				return fmt.Errorf("the %s of %s is %v; it must be from 0 to %v", x.what, name, x.v, x.most)
			}
		}
		if len(o.Covers) == 0 {
			return fmt.Errorf("%s covers no repair; say which repairs its parts are for", name)
		}
		if o.Copies != nil && len(o.Copies) != len(o.Covers) {
			return fmt.Errorf("%s is for %d repairs and states the copies for %d; state one number for each", name, len(o.Covers), len(o.Copies))
		}
		for _, n := range o.Copies {
			if n < 1 || n > mostCopies {
				return fmt.Errorf("%s brings %d copies; that must be from 1 to %d", name, n, mostCopies)
			}
		}
		for _, r := range o.Covers {
			if r < 0 || r >= len(p.e.Model().Repairs) {
				return fmt.Errorf("%s is for repair %d, but the note of %s has %d repairs", name, r, p.e.Model().ID, len(p.e.Model().Repairs))
			}
		}
	}
	return nil
}

// BasketOf values one given set of the offers, for those who want to know what
// another choice would come to.
func (p *Planner) BasketOf(ctx context.Context, b *belief.Belief, sit Situation, offers []Offer, set []int) (*Choice, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if err := p.checkOffers(offers); err != nil {
		return nil, err
	}
	set = slices.Clone(set)
	slices.Sort(set)
	set = slices.Compact(set)
	for _, i := range set {
		if i < 0 || i >= len(offers) {
			return nil, fmt.Errorf("there is no offer %d among the %d", i, len(offers))
		}
	}
	p.bounding = false
	root, err := p.start(ctx, b, sit)
	if err != nil {
		return nil, err
	}
	s := p.newShop(root, offers)
	defer p.under(p.tariff)()
	c := s.weigh(set)
	return &c, nil
}
