package casework_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fettler/internal/casework"
)

func offered(t testing.TB, b *casework.Bench, id string, offers ...casework.Offer) *casework.Basket {
	t.Helper()
	ok[casework.Receipt](t)(b.SetOffers(ctx, id, casework.Offering{Offers: offers}))
	return ok[*casework.Basket](t)(b.Basket(ctx, id))
}

func hums(t testing.TB, b *casework.Bench) string {
	t.Helper()
	return loudspeaker(t, b, casework.Settling{Settled: casework.Settled{Worth: num(80), Rate: num(6), DayRate: num(3)}}, casework.Noticing{Answers: yes("hums")})
}

// A spare is worth something where a piece may be a dud, and nothing else.
func TestTheKitWithTheSpare(t *testing.T) {
	b, _ := newBench(t)
	id := hums(t, b)
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", "worn")}))
	single := casework.Offer{What: "2 × electrolytic 4700 µF 63 V", Price: 3, Postage: 3, Days: 2}
	kit := casework.Offer{What: "4 × electrolytic 4700 µF 63 V", Price: 4, Postage: 3, Days: 2}
	k := offered(t, b, id, single, kit)
	if c := k.Offers[1].Copies; len(c) != 1 || c[0] != 2 || k.Offers[0].Copies[0] != 1 {
		t.Fatalf("four capacitors for a repair that needs two are %v times over", c)
	}
	if k.Offers[1].Saves != 0 || k.Offers[1].Now {
		t.Errorf("without duds: %+v", k.Offers[1])
	}
	single.Dud, kit.Dud = 0.25, 0.25
	k = offered(t, b, id, single, kit)
	if k.Offers[1].Saves <= 0 || !k.Offers[1].Now || k.Offers[0].Now || !strings.Contains(k.Offers[1].Words, "a spare in it") {
		t.Errorf("one in four a dud: %+v", k.Offers)
	}
	for _, o := range k.Offers {
		if !strings.HasPrefix(o.Words, "ordering it now") && !strings.HasPrefix(o.Words, "not worth") {
			t.Errorf("words %q", o.Words)
		}
	}
}

// How sure the seller's words match is chosen in words, and the factor is said.
func TestHowSureTheSellersWordsAre(t *testing.T) {
	b, _ := newBench(t)
	id := hums(t, b)
	part := casework.Offer{What: "2 × electrolytic 4700 µF 63 V", Price: 3, Days: 4}
	last := 0.0
	for _, words := range []string{"names another fault", "says nothing of it", "names a like fault", "names the same symptoms", "names this very model and its symptoms"} {
		part.Match = words
		k := offered(t, b, id, part)
		if k.Offers[0].Factor <= last {
			t.Errorf("%s: factor %g is not above %g", words, k.Offers[0].Factor, last)
		}
		last = k.Offers[0].Factor
	}
	part.Match = "surely"
	if err := second(b.SetOffers(ctx, id, casework.Offering{Offers: []casework.Offer{part}})); casework.CodeOf(err) != casework.BadInput || !strings.Contains(err.Error(), "surely") {
		t.Errorf("%v", err)
	}
}

func FuzzParseOffers(f *testing.F) {
	for _, s := range []string{"2 × fuse -> fuse; 2,50; 1; 3; Corner; cures hum; 5; 10 %; names a like fault", "fuse\t\t2.50", "; ;", "->", "a;1e999", "a; ; NaN", "x → y; -3"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		offers, err := casework.ParseOffers(s)
		if err != nil && casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%v", err)
		}
		for _, o := range offers {
			for _, v := range []float64{o.Price, o.Postage, o.Days, o.Misfit, o.Dud} {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%q: %+v", s, o)
				}
			}
			if o.What == "" {
				t.Errorf("%q: nothing is offered", s)
			}
		}
	})
}

// More offers than can be compared set by set come with a bound.
func TestSoManyOffersComeWithABound(t *testing.T) {
	b, _ := newBench(t)
	id := hums(t, b)
	var all []casework.Offer
	for i := range 16 {
		all = append(all, casework.Offer{What: "2 × electrolytic 4700 µF 63 V", Seller: fmt.Sprint("shop ", i), Price: 3 + float64(i), Postage: 1, Days: 4})
	}
	k := offered(t, b, id, all...)
	if k.Exact || k.Bound <= 0 || k.Bound > k.Total || !strings.Contains(strings.Join(k.Why, " "), "No set can come below") {
		t.Errorf("exact %v, bound %g, total %g, why %q", k.Exact, k.Bound, k.Total, k.Why)
	}
	if same := ok[*casework.Basket](t)(b.Basket(ctx, id)); same != k {
		t.Error("weighed again although nothing has changed")
	}
	ok[casework.Receipt](t)(b.Remark(ctx, id, casework.Remarking{Text: "x"}))
	if again := ok[*casework.Basket](t)(b.Basket(ctx, id)); again.Seq == k.Seq {
		t.Error("an old basket is shown")
	}
}

func TestTheListAsText(t *testing.T) {
	b, _ := newBench(t)
	hums(t, b)
	s := ok[*casework.Shopping](t)(b.Shopping(ctx)).Text()
	if !strings.Contains(s, "[ ] 2 × electrolytic 4700 µF 63 V, about 3.20 EUR each\n      2 for ") || !strings.HasPrefix(s, "Worth having now\n") {
		t.Errorf("%s", s)
	}
	if s := (&casework.Shopping{}).Text(); s != "Nothing to buy.\n" {
		t.Errorf("%q", s)
	}
}

// Of two capacitors one is in the drawer: one is to be bought.
func TestHalfOfItIsHere(t *testing.T) {
	b, _ := newBench(t)
	id := hums(t, b)
	stockUp(t, b, "electrolytic 4700 µF 63 V", 1, "drawer 3")
	if r := repairOf(t, view(t, b, id), "supply.recap"); r.AtHand || len(r.Shelf) > 0 || len(r.Partly) != 1 || r.Partly[0].Count != 1 {
		t.Errorf("%+v", r)
	}
	for _, l := range ok[*casework.Shopping](t)(b.Shopping(ctx)).Lines {
		if strings.Contains(l.What, "4700") && l.Count != 1 {
			t.Errorf("%d to buy with one of two here", l.Count)
		}
	}
}

// Two cases reckon with the same two capacitors.
func TestWantedTwice(t *testing.T) {
	b, _ := newBench(t)
	one := hums(t, b)
	hums(t, b)
	for _, it := range repairOf(t, view(t, b, one), "supply.recap").Buys {
		stockUp(t, b, it.What, it.Count, "drawer 3")
	}
	s := ok[*casework.Shopping](t)(b.Shopping(ctx))
	if len(s.Twice) == 0 || s.Twice[0].Need != 2*s.Twice[0].Count || len(s.Twice[0].Cases) != 2 || !strings.Contains(s.Text(), "who repairs first has it") {
		t.Fatalf("%+v", s.Twice)
	}
	ok[casework.Receipt](t)(b.RecordRepair(ctx, one, casework.Repairing{Repair: "supply.recap"}))
	s = ok[*casework.Shopping](t)(b.Shopping(ctx))
	if len(s.Twice) != 0 || !strings.Contains(s.Text(), "4700") {
		t.Errorf("taken by the first: %+v, %s", s.Twice, s.Text())
	}
}

func TestLabelsAreOfUseWithoutTheBench(t *testing.T) {
	b, _ := newBench(t)
	if err := second(b.Labels(ctx, casework.LabelAsk{What: casework.LabelPlaces})); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("an empty shelf: %v", err)
	}
	line := stockUp(t, b, "electrolytic 470 µF 25 V", 3, "drawer 3")
	id := loudspeaker(t, b)
	ok[casework.Receipt](t)(b.Remove(ctx, id, casework.Removing{Sort: "screws", What: "screws 3 × 12", Count: 8, Where: "bag 1"}))
	for what, want := range map[string][]string{
		casework.LabelPlaces: {"drawer 3"}, casework.LabelParts: {line + " · electrolytic 470 µF 25 V · drawer 3"},
		casework.LabelDevices: {id + " · "}, casework.LabelBags: {id + " · ", "bag 1", "screws 3 × 12"},
	} {
		got := ok[[]casework.LabelText](t)(b.Labels(ctx, casework.LabelAsk{What: what}))
		for _, w := range want {
			if len(got) == 0 || !strings.Contains(got[0].Words, w) {
				t.Errorf("%s: %+v, want %q", what, got, w)
			}
		}
	}
	own := ok[[]casework.LabelText](t)(b.Labels(ctx, casework.LabelAsk{What: casework.LabelOwn, Own: "drawer 4; fuses\n\n ; only this\n"}))
	if len(own) != 2 || own[0].Title != "drawer 4" || own[0].Lines[0] != "fuses" || own[1].Title != "only this" {
		t.Errorf("%+v", own)
	}
	if err := second(b.Labels(ctx, casework.LabelAsk{What: "spoons"})); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("%v", err)
	}
}

func TestOffersAreWeighed(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Settling{Settled: casework.Settled{Worth: num(80), Rate: num(6), DayRate: num(1)}}, casework.Noticing{Answers: yes("hums")})
	offers := ok[[]casework.Offer](t)(casework.ParseOffers("2 × electrolytic 4700 µF 63 V; ; 3.00; 1.20; 1; Blue shop; cures hum\nkit of 2 × electrolytic 4700 µF 63 V + bridge + fuse; supply.recap, supply.new-bridge, fuse; 9,50; 1.20; 1; Blue shop\n"))
	ok[casework.Receipt](t)(b.SetOffers(ctx, id, casework.Offering{Offers: offers}))
	k := ok[*casework.Basket](t)(b.Basket(ctx, id))
	if len(k.Offers) != 2 || len(k.Offers[0].Repairs) != 1 || k.Offers[0].Repairs[0] != "supply.recap" || len(k.Offers[1].Repairs) != 3 || !k.Exact || k.Trouble != "" {
		t.Fatalf("%+v", k)
	}
	if len(k.Buy) == 0 || k.Money < 4 || len(k.Others) == 0 || !strings.Contains(k.Words, "order") || k.Offers[0].Words == "" {
		t.Errorf("%+v", k)
	}
	if k.Offers[0].Factor <= 1 || len(k.Offers[0].Heard) != 1 {
		t.Errorf("the seller names the hum: %+v", k.Offers[0])
	}
	if w := view(t, b, id).Timeline; !strings.HasPrefix(w[len(w)-1].Words, "offers: ") {
		t.Errorf("journal: %s", w[len(w)-1].Words)
	}
	for _, bad := range []casework.Offer{{}, {What: "spoon"}, {What: "fuse", Price: -1}, {What: "fuse", Price: math.NaN()}, {What: "fuse", Repairs: []string{"none such"}}, {What: "fuse", Misfit: 1}} {
		if err := second(b.SetOffers(ctx, id, casework.Offering{Offers: []casework.Offer{bad}})); err == nil || casework.CodeOf(err) == "" {
			t.Errorf("%+v: %v", bad, err)
		}
	}
	for _, like := range []string{"fuse; ; 2.50 EUR; 1", "fuse; 2,50; 1", "fuse -> ; € 2.50; 1", "fuse → ;2.5;1", "fuse\t\t2.50\t1"} {
		if got := ok[[]casework.Offer](t)(casework.ParseOffers(like)); len(got) != 1 || got[0].What != "fuse" || got[0].Price != 2.5 || got[0].Postage != 1 {
			t.Errorf("%q: %+v", like, got)
		}
	}
	if _, err := casework.ParseOffers("fuse; ; dear"); casework.CodeOf(err) != casework.BadInput {
		t.Error(err)
	}
}

func TestOneListForAllCases(t *testing.T) {
	b, _ := newBench(t)
	set := casework.Settling{Settled: casework.Settled{Worth: num(80), Rate: num(6), DayRate: num(2)}}
	one := loudspeaker(t, b, set, casework.Noticing{Answers: yes("hums")})
	loudspeaker(t, b, set, casework.Noticing{Answers: yes("hums")})
	s := ok[*casework.Shopping](t)(b.Shopping(ctx))
	at := -1
	for i, l := range s.Lines {
		if strings.Contains(l.What, "4700") {
			at = i
		}
	}
	if s.Cases != 2 || at < 0 || len(s.Lines[at].For) != 2 || s.Lines[at].Count != 4 || s.Lines[at].Worth <= 0 || !s.Lines[at].Pays {
		t.Fatalf("%+v", s)
	}
	if f := s.Lines[at].For[0]; f.Worth <= f.Costs || f.Words == "" {
		t.Errorf("three days of waiting at 2 a day and the price: %+v", f)
	}
	stockUp(t, b, "electrolytic 4700 µF 63 V", 2, "drawer 3")
	ok[casework.Receipt](t)(b.Close(ctx, one, casework.Closing{Verdict: casework.NotWorthIt}))
	s = ok[*casework.Shopping](t)(b.Shopping(ctx))
	for _, l := range s.Lines {
		if strings.Contains(l.What, "4700") {
			t.Errorf("on the shelf and on the list: %+v", l)
		}
	}
}
