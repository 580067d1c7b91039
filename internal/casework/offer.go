package casework

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
	"fettler/internal/shelf"
)

// KindOffered is what can be bought for a case: Offered.
const KindOffered Kind = "offered"

// Offered is all offers known for a case; a later one replaces it.
type Offered struct {
	Offers []Offer `json:"offers"`
}

// An Offer is something that can be bought: a single part, a kit, a donor board.
type Offer struct {
	What    string   `json:"what"`              // what it contains, parts joined by +
	Repairs []string `json:"repairs"`           // of the note, for which it brings all parts
	Price   float64  `json:"price"`             // without postage
	Postage float64  `json:"postage,omitempty"` // shared by what one seller sends
	Days    float64  `json:"days,omitempty"`
	Seller  string   `json:"seller,omitempty"`
	Says    string   `json:"says,omitempty"`   // what the seller says it cures
	Match   string   `json:"match,omitempty"`  // how well that meets what showed, one of SellerMatches; "" by the words
	Misfit  float64  `json:"misfit,omitempty"` // chance that it does not fit or is not as described
	Dud     float64  `json:"dud,omitempty"`    // chance that what a repair takes of it is dead, fake or gets spoilt in fitting
}

// A SellerMatch is how well a seller's words meet what showed, and the factor by which they
// make the faults that the offer cures likelier.
type SellerMatch struct {
	Words  string  `json:"words"`
	Factor float64 `json:"factor"`
}

// SellerMatches lists what a seller's words can be worth: our judgement, common practice, no source. A
// seller wants to sell, so even the best of them moves the odds by no more than four.
func SellerMatches() []SellerMatch {
	return []SellerMatch{{"says nothing of it", 1}, {"names a like fault", 1.5}, {"names the same symptoms", 2.5}, {"names this very model and its symptoms", matchMost}, {"names another fault", 0.6}}
}

// sellerFactor is the factor of one of SellerMatches.
func sellerFactor(words string) (float64, error) {
	var all []string
	for _, m := range SellerMatches() {
		if m.Words == words {
			return m.Factor, nil
		}
		all = append(all, m.Words)
	}
	return 1, fail(BadInput, "say one of: "+strings.Join(all, "; "), "%q is no way a seller's words can match", clip(words))
}

// Offering is the offers known for a case, in place of those before. Repairs may be
// named by ID, title or what they buy; where none is named, those are taken whose parts the offer contains.
type Offering struct {
	By
	Offers []Offer
}

// mostOffers is how many offers a case keeps; the others bound chances.
const (
	mostOffers = 40
	mostMisfit = 0.99
	mostDud    = 0.9
)

func (d Offering) draft(_ context.Context, s scene) (Kind, any, error) {
	c := s.c
	if err := cmp.Or(c.open(), c.needNote()); err != nil {
		return "", nil, err
	}
	if len(d.Offers) > mostOffers {
		return "", nil, fail(BadInput, fmt.Sprintf("leave the dearest out; %d can be kept", mostOffers), "%d offers are too many", len(d.Offers))
	}
	p := Offered{Offers: []Offer{}}
	for i, o := range d.Offers {
		o, err := c.offer(o)
		if err != nil {
			if e, ok := err.(*Error); ok {
				e.Text = fmt.Sprintf("offer %d: %s", i+1, e.Text)
			}
			return "", nil, err
		}
		p.Offers = append(p.Offers, o)
	}
	return KindOffered, p, nil
}

// offer checks an offer and finds the repairs it is for.
func (c *Case) offer(o Offer) (Offer, error) {
	var err error
	for _, x := range []struct {
		s    *string
		what string
	}{{&o.What, "what it contains"}, {&o.Seller, "the seller"}, {&o.Says, "what the seller says"}} {
		if *x.s, err = text(*x.s, 400, x.what); err != nil {
			return o, err
		}
	}
	if o.What == "" {
		return o, fail(BadInput, "say what it contains, parts joined by +", "nothing says what is offered")
	}
	for _, x := range []struct {
		v    *float64
		what string
		most float64
	}{{&o.Price, "the price", maxMoney}, {&o.Postage, "the postage", maxMoney}, {&o.Days, "the days", maxDays}, {&o.Misfit, "the chance that it does not fit", mostMisfit}, {&o.Dud, "the chance of a dud", mostDud}} {
		if *x.v, err = figure(x.v, 0, x.what, x.most); err != nil {
			return o, err
		}
	}
	if o.Match != "" {
		if _, err = sellerFactor(o.Match); err != nil {
			return o, err
		}
	}
	o.Repairs, err = c.offerRepairs(o)
	return o, err
}

func (c *Case) offerRepairs(o Offer) ([]string, error) {
	var out []string
	add := func(r int) {
		if id := c.Model.Repairs[r].ID; !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	for _, name := range o.Repairs {
		fits := c.repairsCalled(name)
		if len(fits) == 0 {
			return nil, fail(NotFound, "name it by its ID or title, as the case lists it", "this device's note has no repair %q", clip(name))
		}
		for _, r := range fits {
			add(r)
		}
	}
	if len(o.Repairs) == 0 {
		for r := range c.Model.Repairs {
			if x := &c.Model.Repairs[r]; len(x.Buys) > 0 && contains(o.What, x.Buys) {
				add(r)
			}
		}
	}
	if len(out) == 0 {
		return nil, fail(BadInput, "name the repairs it is for", "no repair of this device needs %q", clip(o.What))
	}
	return out, nil
}

// repairsCalled finds repairs by ID, by title, or by what they buy.
func (c *Case) repairsCalled(name string) []int {
	if r, ok := c.names.repairs[name]; ok {
		return []int{r}
	}
	key := shelf.SameName(name)
	for _, fits := range []func(*note.Repair) bool{
		func(x *note.Repair) bool { return shelf.SameName(x.Title) == key },
		func(x *note.Repair) bool {
			return slices.ContainsFunc(x.Buys, func(b note.Item) bool { return shelf.SameName(b.What) == key })
		},
		func(x *note.Repair) bool { return strings.Contains(shelf.SameName(x.Title), key) },
	} {
		var out []int
		for r := range c.Model.Repairs {
			if fits(&c.Model.Repairs[r]) {
				out = append(out, r)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// contains says that what is offered has all items, by value or by words, in full number.
func contains(what string, items []note.Item) bool { return timesOver(what, items) > 0 }

// timesOver is how many times over what is offered has all items; 0 if one is missing.
func timesOver(what string, items []note.Item) int {
	least := 0
	for i, it := range items {
		n := 0
		for _, p := range strings.Split(what, "+") {
			count, piece := stock.SplitCount(strings.TrimSpace(p))
			if strings.Contains(shelf.SameName(piece), shelf.SameName(it.What)) || meets(piece, it.What) {
				n += count
			}
		}
		if n /= max(it.Count, 1); i == 0 || n < least {
			least = n
		}
	}
	return least
}

// copies is how many times over an offer brings what repair r needs: as its words
// say, at least once, since whoever named the repair says that it does.
func (c *Case) copies(o Offer, r int) int {
	items := c.Model.Repairs[r].Buys
	if n := timesOver(o.What, items); n > 0 {
		return min(n, mostCopies)
	}
	if len(items) == 1 && !strings.Contains(o.What, "+") { // other words for the one part it can be
		n, _ := stock.SplitCount(strings.TrimSpace(o.What))
		return min(max(1, n/max(items[0].Count, 1)), mostCopies)
	}
	return 1
}

const mostCopies = 1000

// meets says that the part a text names is known to do for an item.
func meets(piece, item string) bool {
	req, err := stock.Requirement(item)
	if err != nil {
		return false
	}
	p := stock.Read(piece)
	return req.Judge(fit.Candidate{Kind: p.Kind, Figures: p.Figures, Words: p.Words, Quantity: 1}).Verdict == fit.Accepted
}

// SetOffers records the offers known for a case.
func (b *Bench) SetOffers(ctx context.Context, caseID string, in Offering) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

func offeredWords(p Offered) string {
	if len(p.Offers) == 0 {
		return "offers: none"
	}
	var out []string
	for _, o := range p.Offers {
		out = append(out, o.What)
	}
	return "offers: " + strings.Join(out, "; ")
}
