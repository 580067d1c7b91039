package plan_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fettler/internal/plan"
)

func basket(t testing.TB, p *plan.Planner, s shop, offers ...plan.Offer) *plan.Basket {
	t.Helper()
	b, err := p.Basket(context.Background(), exactly(s.p), plan.Situation{}, offers)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Is the kit with the spare worth four more? Two suspects at 0.8 and 0.2. The single part
// for the first costs 6, the kit with parts for both 10; every order takes 5 days at 1.5, and
// the second part alone costs 8. By arithmetic: kit 10 + 7.5; single 6 + 7.5 + 0.2·(8+7.5) = 16.6, so
// the kit is not worth it, but would be at 9.1; with the second at 0.4 it is 19.7: worth it, and up to 12.2.
func TestKitWithSpare(t *testing.T) {
	for _, x := range []struct {
		second float64
		kit    bool
		worth  float64
	}{{0.2, false, 9.1}, {0.4, true, 12.2}} {
		s := shop{p: []float64{1 - x.second, x.second}, price: []float64{20, 8}}
		m := s.model()
		m.Repairs[0].Days, m.Repairs[1].Days = 5, 5
		p := planner(t, m, plan.Settings{Worth: 1000, DayRate: 1.5})
		b := basket(t, p, s, plan.Offer{ID: "single", Covers: []int{0}, Price: 6, Days: 5}, plan.Offer{ID: "kit", Covers: []int{0, 1}, Price: 10, Days: 5})
		if got := slices.Equal(b.Offers, []int{1}); got != x.kit || !b.Exact {
			t.Errorf("second suspect at %.1f: order %v at %.3f", x.second, b.Offers, b.Total)
		}
		if !near(b.Worth[1], x.worth, 1e-3) {
			t.Errorf("second suspect at %.1f: the kit is worth %.3f, want %.1f", x.second, b.Worth[1], x.worth)
		}
	}
}

// Is a second chip in the bag worth three more? One in five is a fake, each order costs 3 of postage and five days at 3.
// By arithmetic: one order of the single is 4+3+15 = 22, of the pair 7+3+15 = 25; ordered again and again until one
// works, the pair comes to 25/(1-0.2²) = 26.04 and the single to 27.5, so what is missing later is ordered as a pair. Single now:
// 22 + 0.2·26.04 = 27.21; pair now: 25 + 0.04·26.04 = 26.04. Without the pair it comes to 27.5: it saves 1.46. Without fakes, nothing.
func TestASpareIsWorthAnotherWait(t *testing.T) {
	for _, x := range []struct {
		dud, total, single, pair float64
	}{{0.2, 26.0417, 0, 1.4583}, {0, 22, 3, 0}} {
		s := shop{p: []float64{1 - 1e-7, 1e-7}, price: []float64{50, 50}}
		p := planner(t, s.model(), plan.Settings{Worth: 1000, DayRate: 3})
		b := basket(t, p, s, offersOf(x.dud)...)
		if !near(b.Total, x.total, 1e-3) || !near(b.Saves[0], x.single, 1e-3) || !near(b.Saves[1], x.pair, 1e-3) {
			t.Errorf("one in %g a dud: %v at %.4f, single and pair save %.4f; want %+v", x.dud, b.Offers, b.Total, b.Saves, x)
		}
		for i, want := range map[int]float64{0: 22 + x.dud*x.total, 1: 25 + x.dud*x.dud*x.total} {
			c, err := p.BasketOf(context.Background(), exactly(s.p), plan.Situation{}, offersOf(x.dud), []int{i})
			if err != nil || !near(c.Total, want, 1e-3) {
				t.Errorf("one in %g a dud, order %d: %v, %v; want %.4f", x.dud, i, c, err, want)
			}
		}
	}
}

func offersOf(dud float64) []plan.Offer {
	return []plan.Offer{{ID: "single", Covers: []int{0}, Price: 4, Postage: 3, Days: 5, Dud: dud}, {ID: "pair", Covers: []int{0}, Copies: []int{2}, Price: 7, Postage: 3, Days: 5, Dud: dud}}
}

// Every dud costs its minutes again: with half of all pieces duds the work is done twice on average. By arithmetic at
// 60 an hour and 10 minutes: a dozen pieces for 5, all here at once, 5 + 20, and 3 for the trial.
func TestADudCostsItsMinutesAgain(t *testing.T) {
	s := shop{p: []float64{1 - 1e-7, 1e-7}, price: []float64{500, 500}}
	m := s.model()
	m.Repairs[0].Minutes = 10
	p := planner(t, m, plan.Settings{Worth: 1000, Rate: 60})
	b := basket(t, p, s, plan.Offer{ID: "dozen", Covers: []int{0}, Copies: []int{12}, Price: 5, Dud: 0.5})
	if !near(b.Total, 5+20+3, 0.01) {
		t.Errorf("%v at %.4f, want 28", b.Offers, b.Total)
	}
}

// Postage is paid once per seller: two parts at 5 from one seller with postage 4 come to
// 14; from two sellers at 4.50 each, 17. Both are surely needed one after the other is not: p = 0.5 each,
// and a later order would pay the postage again.
func TestPostageSharedPerSeller(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{50, 50}}
	p := planner(t, s.model(), plan.Settings{Worth: 1000, DayRate: 5})
	b := basket(t, p, s,
		plan.Offer{ID: "a1", Seller: "a", Covers: []int{0}, Price: 5, Postage: 4, Days: 2}, plan.Offer{ID: "a2", Seller: "a", Covers: []int{1}, Price: 5, Postage: 4, Days: 2},
		plan.Offer{ID: "b", Seller: "b", Covers: []int{0}, Price: 4.5, Postage: 4, Days: 2}, plan.Offer{ID: "c", Seller: "c", Covers: []int{1}, Price: 4.5, Postage: 4, Days: 2})
	if !slices.Equal(b.Offers, []int{0, 1}) || b.Money != 14 || b.Days != 2 || !near(b.Total, 14+2*5, 1e-3) {
		t.Errorf("order %v for %.2f, %.3f in all; want both from seller a for 14", b.Offers, b.Money, b.Total)
	}
}

// The seller's words are evidence: a kit said to cure just this, with a factor of 4, moves 0.5 to 0.8.
// By arithmetic, parts at 10 each when ordered as needed: 10 + 0.2·10 = 12 instead of 15.
func TestSellersWordsAreEvidence(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{10, 10}}
	p := planner(t, s.model(), plan.Settings{Worth: 1000})
	b := basket(t, p, s, plan.Offer{ID: "dear", Covers: []int{0}, Price: 500, Match: 4})
	if len(b.Offers) != 0 || !near(b.Total, 12, 1e-3) {
		t.Errorf("order %v at %.3f, want nothing and 12", b.Offers, b.Total)
	}
	// an offer that does not fit in 3 of 10 cases: 4 + 0.3·10 for the first part, then 0.5·10 for the other
	b = basket(t, p, s, plan.Offer{ID: "doubtful", Covers: []int{0}, Price: 4, Misfit: 0.3})
	if !near(b.Total, 4+0.3*10+0.5*10, 1e-3) {
		t.Errorf("a doubtful offer: order %v at %.3f", b.Offers, b.Total)
	}
}

// randomOffers draws offers for a device.
func randomOffers(rng *rand.Rand, repairs, n int) []plan.Offer {
	var out []plan.Offer
	for i := range n {
		o := plan.Offer{ID: fmt.Sprint(i), Seller: string(rune('a' + rng.IntN(4))), Price: 2 + 10*rng.Float64(), Postage: 4 * rng.Float64(), Days: float64(rng.IntN(6))}
		for range 1 + rng.IntN(3) {
			o.Covers = append(o.Covers, rng.IntN(repairs))
		}
		if rng.IntN(4) == 0 {
			o.Misfit = 0.3 * rng.Float64()
		}
		if rng.IntN(3) == 0 {
			o.Dud = 0.4 * rng.Float64()
		}
		out = append(out, o)
	}
	return out
}

// Subset by subset: ordering exactly one set is a basket of an offer that brings all
// of it. The chosen set is never beaten by any of them, and no set comes below the bound.
func TestBasketAgainstAllSubsets(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for range 8 {
		m, e, b := small(rng.Uint64N(200))
		p, err := plan.New(e, plan.Settings{Rate: 15, Worth: 90, DayRate: 1})
		if err != nil {
			t.Fatal(err)
		}
		offers := randomOffers(rng, len(m.Repairs), 7)
		for i := range offers {
			offers[i].Misfit = 0
		}
		got, err := p.Basket(context.Background(), b, plan.Situation{}, offers)
		if err != nil {
			t.Fatal(err)
		}
		for set := range 1 << len(offers) {
			total, err := p.BasketOf(context.Background(), b, plan.Situation{}, offers, members(set))
			if err != nil {
				t.Fatal(err)
			}
			if total.Total < got.Total-1e-6 {
				t.Errorf("%v at %.4f beats the chosen %v at %.4f", total.Offers, total.Total, got.Offers, got.Total)
			}
		}
	}
}

func members(set int) []int {
	var out []int
	for i := 0; set>>i > 0; i++ {
		if set>>i&1 == 1 {
			out = append(out, i)
		}
	}
	return out
}

// Beyond 15 offers the search stays within its bound, and close to the exact choice among the same.
func TestManyOffers(t *testing.T) {
	m, e, b := small(42)
	p, err := plan.New(e, plan.Settings{Rate: 15, Worth: 90, DayRate: 1})
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(4, 4))
	offers := randomOffers(rng, len(m.Repairs), 15)
	exact, err := p.Basket(context.Background(), b, plan.Situation{}, offers)
	if err != nil {
		t.Fatal(err)
	}
	useless := plan.Offer{ID: "dear", Covers: []int{0}, Price: 1e6}
	many, err := p.Basket(context.Background(), b, plan.Situation{}, append(slices.Clone(offers), useless))
	if err != nil {
		t.Fatal(err)
	}
	if many.Exact || many.Lower > many.Total || many.Total > exact.Total*1.02 || many.Total < exact.Total-1e-6 {
		t.Errorf("16 offers: %.4f (bound %.4f), the exact choice among 15 of them %.4f", many.Total, many.Lower, exact.Total)
	}
}

func TestBadOffers(t *testing.T) {
	s := shop{p: []float64{0.5, 0.5}, price: []float64{10, 10}}
	p := planner(t, s.model(), plan.Settings{Worth: 100})
	for says, o := range map[string]plan.Offer{
		"price":                {Covers: []int{0}, Price: -1},
		"postage":              {Covers: []int{0}, Postage: math.NaN()},
		"days":                 {Covers: []int{0}, Days: math.Inf(1)},
		"match":                {Covers: []int{0}, Match: -2},
		"fitting":              {Covers: []int{0}, Misfit: 1.5},
		"chance of a dud":      {Covers: []int{0}, Dud: 1},
		"0 copies":             {Covers: []int{0}, Copies: []int{0}},
		"copies for 2":         {Covers: []int{0}, Copies: []int{1, 1}},
		"covers no repair":     {},
		"is for repair 7, but": {Covers: []int{7}},
	} {
		if _, err := p.Basket(context.Background(), exactly(s.p), plan.Situation{}, []plan.Offer{o}); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%+v: %v", o, err)
		}
	}
	if b := basket(t, p, s); len(b.Offers) != 0 || !near(b.Total, 15, 1e-3) {
		t.Errorf("no offers: %+v", b.Choice)
	}
}

func BenchmarkBasket(b *testing.B) {
	m := shipped(b, "powered-loudspeaker")
	e, bel, _ := complained(b, m, 1)
	p, _ := plan.New(e, bench)
	for _, n := range []int{5, 10, 15, 25} {
		b.Run(fmt.Sprintf("offers=%d", n), func(b *testing.B) {
			offers := randomOffers(rand.New(rand.NewPCG(1, 1)), len(m.Repairs), n)
			for b.Loop() {
				if _, err := p.Basket(context.Background(), bel, plan.Situation{}, offers); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
