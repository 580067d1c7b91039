package casework

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"fettler/internal/plan"
	"fettler/internal/quantity"
	"fettler/internal/shelf"
)

// A Basket is what to buy of the offers for a case, and why.
type Basket struct {
	Case     string       `json:"case"`
	Title    string       `json:"title"`
	Seq      int          `json:"seq"`
	Currency string       `json:"currency"`
	Offers   []OfferWorth `json:"offers"`
	Buy      []string     `json:"buy"`    // what to order now; empty: nothing yet
	Words    string       `json:"words"`  // the same in a sentence
	Why      []string     `json:"why"`    // in sentences
	Money    float64      `json:"money"`  // to pay now, postage included
	Days     float64      `json:"days"`   // until the last of it is there
	Later    []string     `json:"later"`  // what to take should a repair come up, in words
	Total    float64      `json:"total"`  // expected cost from now to the end
	Others   []OtherSet   `json:"others"` // the next best sets
	Exact    bool         `json:"exact"`  // all sets were compared
	Bound    float64      `json:"bound"`  // no set of them can be expected to cost less
	Trouble  string       `json:"trouble"`
	Repairs  []Step       `json:"repairs"` // of the note, that need parts
	Closed   bool         `json:"closed"`
}

// An OfferWorth is an offer and what it is worth to this case.
type OfferWorth struct {
	Offer
	Titles []string `json:"titles"` // of its repairs
	Copies []int    `json:"copies"` // per repair, how many times over it brings the parts
	Factor float64  `json:"factor"` // what the seller's words make of the faults it cures
	Heard  []string `json:"heard"`  // symptoms the seller names that showed here
	Worth  float64  `json:"worth"`  // up to which price it pays to order it now
	Saves  float64  `json:"saves"`  // what it would come to more if there were no such offer
	Now    bool     `json:"now"`    // order it now
	Words  string   `json:"words"`
}

// An OtherSet is another choice and by how much it is worse.
type OtherSet struct {
	Words  string  `json:"words"`
	Behind float64 `json:"behind"`
}

// Basket chooses among the offers recorded for a case.
func (b *Bench) Basket(ctx context.Context, caseID string) (*Basket, error) {
	k, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	old := b.baskets[caseID]
	b.mu.Unlock()
	if old.of == k {
		return old.basket, nil
	}
	out, err := b.makeBasket(ctx, caseID, k)
	if err != nil {
		return nil, err
	}
	b.mu.Lock()
	if len(b.baskets) >= mostKept || b.baskets == nil {
		b.baskets = map[string]keptBasket{}
	}
	b.baskets[caseID] = keptBasket{k, out}
	b.mu.Unlock()
	return out, nil
}

// A keptBasket is shown again until its case changes.
type keptBasket struct {
	of     *kept
	basket *Basket
}

func (b *Bench) makeBasket(ctx context.Context, caseID string, k *kept) (*Basket, error) {
	v := k.view
	var err error
	out := &Basket{Case: caseID, Title: v.Header.Title, Seq: v.Header.Seq, Currency: v.Settings.Currency, Offers: []OfferWorth{}, Buy: []string{}, Why: []string{}, Later: []string{}, Others: []OtherSet{}, Repairs: []Step{}, Closed: v.Outcome != nil}
	for _, r := range v.Repairs {
		if len(r.Buys) > 0 {
			out.Repairs = append(out.Repairs, r)
		}
	}
	if k.s.k == nil || k.s.advice == nil {
		out.Trouble = joined(": ", "nothing can be weighed", v.NoNext)
	}
	var offers []plan.Offer
	for i, o := range k.s.c.Offers {
		w := OfferWorth{Offer: o, Titles: []string{}, Copies: []int{}, Factor: 1, Heard: []string{}}
		x := plan.Offer{ID: fmt.Sprint(i), Seller: shelf.SameName(o.Seller), Price: o.Price, Postage: o.Postage, Days: o.Days, Misfit: o.Misfit, Dud: o.Dud}
		for _, id := range o.Repairs {
			if r, ok := k.s.c.names.repairs[id]; ok {
				x.Covers, x.Copies = append(x.Covers, r), append(x.Copies, k.s.c.copies(o, r))
				w.Titles = append(w.Titles, k.s.c.Model.Repairs[r].Title)
			}
		}
		w.Copies = append(w.Copies, x.Copies...)
		if o.Says != "" && k.s.k != nil {
			if w.Factor, w.Heard, err = b.sellerMatch(ctx, k, o.Says); err != nil {
				return nil, err
			}
		}
		if o.Match != "" {
			if w.Factor, err = sellerFactor(o.Match); err != nil {
				w.Factor = 1 // written down by a newer version
			}
		}
		x.Match = w.Factor
		out.Offers = append(out.Offers, w)
		offers = append(offers, x)
	}
	if out.Trouble != "" || len(offers) == 0 {
		return out, nil
	}
	return out, out.choose(ctx, k.s, offers)
}

// choose asks the planner and puts its answer into words.
func (out *Basket) choose(ctx context.Context, s *sheet, offers []plan.Offer) error {
	p, err := plan.New(s.e, s.set)
	if err != nil {
		return err
	}
	c, err := p.Basket(ctx, s.now, s.sit, offers)
	if err != nil {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		out.Trouble = err.Error()
		return nil
	}
	cur := out.Currency
	if i, ok := due(s, c.Later); ok && len(c.Offers) == 0 {
		now, err := p.BasketOf(ctx, s.now, s.sit, offers, []int{i})
		if err != nil {
			return err
		}
		if now.Total <= c.Total+0.005 { // to wait for it or to order it comes to the same
			c.Others = append([]plan.Choice{c.Choice}, c.Others...)
			c.Others = slices.DeleteFunc(c.Others, func(x plan.Choice) bool { return slices.Equal(x.Offers, now.Offers) })
			c.Choice = *now
		}
	}
	out.Money, out.Days, out.Total, out.Exact, out.Bound = c.Money, c.Days, c.Total, c.Exact, c.Lower
	for _, r := range slices.Sorted(maps.Keys(c.Later)) {
		if i := c.Later[r]; i >= 0 && i < len(out.Offers) && !slices.Contains(c.Offers, i) {
			out.Later = append(out.Later, fmt.Sprintf("should “%s” come up: %s", s.k.m.Repairs[r].Title, "“"+out.Offers[i].What+"”"))
		}
	}
	for i := range out.Offers {
		o := &out.Offers[i]
		o.Now = slices.Contains(c.Offers, i)
		if i < len(c.Worth) {
			o.Worth, o.Saves = c.Worth[i], c.Saves[i]
		}
		o.Words = o.sentence(cur)
		if o.Now {
			out.Buy = append(out.Buy, o.What)
		}
	}
	out.Words = out.setWords(c.Offers)
	for _, x := range c.Others {
		out.Others = append(out.Others, OtherSet{Words: out.setWords(x.Offers), Behind: max(0, x.Total-c.Total)})
	}
	out.Why = out.reasons(s, c.Offers)
	return nil
}

// due is the offer for the repair that comes next, if there is one.
func due(s *sheet, later map[int]int) (int, bool) {
	if s.advice.Best.Kind != plan.Repair {
		return 0, false
	}
	i, ok := later[s.advice.Best.Index]
	return i, ok
}

func (out *Basket) setWords(set []int) string {
	if len(set) == 0 {
		return "order nothing yet: buy a part when its repair comes up"
	}
	var names []string
	for _, i := range set {
		names = append(names, "“"+out.Offers[i].What+"”")
	}
	return "order " + strings.Join(names, " and ") + " now"
}

// sentence says what an offer is worth against its price.
func (o *OfferWorth) sentence(currency string) string {
	m := func(v float64) string { return quantity.Format(v, currency, 6) }
	more := o.Worth - o.Price
	words := ""
	switch {
	case o.Now && more < 0.005:
		words = "ordering it now or when its repair comes up comes to the same"
	case o.Now:
		words = fmt.Sprintf("ordering it now pays up to a price of %s", m(o.Worth))
	case o.Worth <= 0.005:
		words = "not worth having in the house: leave it until its repair comes up, if ever"
	default:
		words = fmt.Sprintf("ordering it now would pay below %s", m(o.Worth))
	}
	if o.Saves >= 0.005 {
		words += fmt.Sprintf("; without this offer it would come %s dearer", m(o.Saves))
	}
	if n := slices.Max(append([]int{1}, o.Copies...)); n > 1 && o.Worth > 0.005 {
		spare := "a spare"
		if n > 2 {
			spare = fmt.Sprintf("%d spares", n-1)
		}
		if o.Dud == 0 {
			words += "; " + spare + " in it counts for nothing as long as none is taken to be dead, fake or spoilt in fitting"
		} else {
			words += fmt.Sprintf("; %s in it: all of it fails with %s", spare, strings.ReplaceAll(percent(math.Pow(o.Dud, float64(n))), " ", "\u00a0"))
		}
	}
	return words
}

// reasons say why this set.
func (out *Basket) reasons(s *sheet, set []int) []string {
	m := func(v float64) string { return quantity.Format(v, out.Currency, 6) }
	why := []string{}
	for _, i := range set {
		o := &out.Offers[i]
		for k, id := range o.Repairs {
			for _, r := range s.advice.Ranking {
				if r.Kind == plan.Repair && s.k.m.Repairs[r.Index].ID == id && k < len(o.Titles) && r.Cures > 0 {
					why = append(why, fmt.Sprintf("“%s” is what “%s” needs, which alone would cure it with %s.", o.What, o.Titles[k], percent(r.Cures)))
				}
			}
		}
	}
	if len(set) == 0 {
		why = append(why, "No part is so likely to be needed that paying and waiting for it now beats waiting until its repair comes up.")
	}
	if len(set) > 1 {
		why = append(why, "One wait for all of them, and one postage for each seller, instead of one after the other.")
	}
	if len(out.Others) > 0 {
		x := out.Others[0]
		if x.Behind < 0.005 {
			why = append(why, fmt.Sprintf("To %s comes to the same.", x.Words))
		} else {
			why = append(why, fmt.Sprintf("To %s is expected to come %s dearer.", x.Words, m(x.Behind)))
		}
	}
	if !out.Exact {
		why = append(why, fmt.Sprintf("%d offers make too many sets to compare all of them: this one was found step by step. No set can come below %s, so it is at most %s from the best.", len(out.Offers), m(out.Bound), m(max(0, out.Total-out.Bound))))
	}
	return why
}

// A seller who names a symptom that shows here makes the faults the offer cures
// this much likelier, up to a bound: our judgement, common practice, no source.
const (
	matchEach = 1.5
	matchMost = 4.0
)

// sellerMatch compares what a seller says with what showed.
func (b *Bench) sellerMatch(ctx context.Context, k *kept, says string) (float64, []string, error) {
	h, err := b.Hear(ctx, k.view.Header.Case, says)
	if err != nil {
		return 1, nil, err
	}
	shows := map[string]bool{}
	for _, o := range k.view.Known {
		shows[o.Finding] = !o.Denied
	}
	f, heard := 1.0, []string{}
	for _, r := range h.Read {
		if shows[r.Finding] && !r.Denied {
			f = min(matchMost, f*matchEach)
			heard = append(heard, r.Title)
		}
	}
	return f, heard, nil
}
