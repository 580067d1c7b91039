package casework_test

import (
	"math"
	"strings"
	"testing"

	"fettler/internal/casework"
)

// IEC 60062: yellow violet red gold is 4.7 kΩ ±5 %; a bare 103 is 10 nF or 10 kΩ.
func TestMarkingsAreReadInAllWays(t *testing.T) {
	m := ok[*casework.Marks](t)(casework.ReadMarking(casework.MarkAsk{Text: "yellow violet red gold"}))
	if len(m.Bands) != 4 || !strings.Contains(m.Readings[0].Text, "4.7 kΩ") || m.Readings[0].As != "resistor 4.7 kΩ 5 %" || m.Readings[0].Trust == "" {
		t.Errorf("%+v", m)
	}
	m = ok[*casework.Marks](t)(casework.ReadMarking(casework.MarkAsk{Text: "gold red violet yellow"}))
	if !strings.Contains(m.Readings[0].Text, "4.7 kΩ") {
		t.Errorf("from the other end: %+v", m.Readings[0])
	}
	m = ok[*casework.Marks](t)(casework.ReadMarking(casework.MarkAsk{Text: "103"}))
	all := ""
	sum := m.Rest
	for _, r := range m.Readings {
		all += r.Text + "\n"
		sum += r.Plausibility
		if len(r.Reasons) == 0 || r.Source == "" {
			t.Errorf("no reason or source: %+v", r)
		}
	}
	if !strings.Contains(all, "10 nF") || !strings.Contains(all, "10 kΩ") || sum < 0.99 || sum > 1.01 {
		t.Errorf("%s sum %v", all, sum)
	}
	for text, code := range map[string]casework.Code{"": casework.BadInput, "hello there": casework.NotFound} {
		if _, err := casework.ReadMarking(casework.MarkAsk{Text: text}); casework.CodeOf(err) != code {
			t.Errorf("%q: %v", text, err)
		}
	}
	if err := second(casework.ReadMarking(casework.MarkAsk{Text: "103", Kind: "spoon"})); casework.CodeOf(err) != casework.BadInput {
		t.Error(err)
	}
}

// The bar of an aluminium can is minus, that of a tantalum plus, the ring of a diode
// its cathode (the trade's convention, from memory of makers' data sheets).
func TestWhichEndTheBarMarks(t *testing.T) {
	minus := map[string]bool{}
	for _, p := range casework.Poles() {
		minus[p.Kind] = p.Minus
		if p.Words == "" {
			t.Errorf("%s: no words", p.Kind)
		}
	}
	if len(minus) != 4 || !minus["electrolytic capacitor"] || minus["tantalum capacitor"] || !minus["rectifier diode"] {
		t.Errorf("%v", minus)
	}
}

func TestWhatWillDoInstead(t *testing.T) {
	b, _ := newBench(t)
	stockUp(t, b, "electrolytic 470 µF 35 V 105 °C", 3, "drawer 3")
	stockUp(t, b, "electrolytic 470 µF 16 V 105 °C", 9, "drawer 3")
	stockUp(t, b, "electrolytic 330 µF 35 V 105 °C", 9, "drawer 3")
	ok[casework.ShelfReceipt](t)(b.Stock(ctx, casework.Stocking{Name: "electrolytic 470 µF 25 V 105 °C", Count: 2, Board: "old amplifier"}))
	i := ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: "electrolytic 470 µF 25 V 85 °C"}))
	if len(i.Shelf) != 2 || i.Shelf[0].Verdict != "accepted" || i.Shelf[0].Name != "electrolytic 470 µF 35 V 105 °C" || i.Shelf[1].Verdict != "near miss" || len(i.Shelf[1].Risks) == 0 {
		t.Fatalf("%+v", i.Shelf)
	}
	if len(i.Boards) != 1 || !strings.Contains(i.Boards[0].Place, "old amplifier") || len(i.Asks) == 0 || i.Asks[0].Why == "" {
		t.Errorf("%+v", i)
	}
	i = ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: "electrolytic 470 µF 25 V", Refused: true}))
	last := i.Shelf[len(i.Shelf)-1]
	words := ""
	for _, c := range last.Checks {
		words += c.Words + "\n"
	}
	if last.Verdict != "refused" || !strings.Contains(words, "16 V") {
		t.Errorf("a lower voltage: %+v", last)
	}
	// A safety part that has been in use is refused.
	ok[casework.ShelfReceipt](t)(b.Stock(ctx, casework.Stocking{Name: "thermal fuse 157 °C 10 A", Count: 1, From: "pulled"}))
	i = ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: "thermal fuse 157 °C 10 A"}))
	if !i.LikeForLike || len(i.Shelf) != 1 || i.Shelf[0].Verdict != "refused" {
		t.Errorf("%+v", i.Shelf)
	}
	for _, text := range []string{"", "fan", "electrolytic", "X2 0.1 µF 275 V AC 85 V"} {
		if err := second(b.Instead(ctx, casework.InsteadAsk{Text: text, Duty: "x"})); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// What is read from a marking can be asked for at once: the words of a reading are read back whole.
func TestAReadingIsAPartToAskFor(t *testing.T) {
	b, _ := newBench(t)
	for _, text := range []string{"4R7 1/4 W", "1000µF 25V 105°C", "X2 0.1µF 275V~", "T3.15AH250V", "10D471K", "5V1 1W", "TF 152°C 10A 250V", "2A104J"} {
		m := ok[*casework.Marks](t)(casework.ReadMarking(casework.MarkAsk{Text: text}))
		i, err := b.Instead(ctx, casework.InsteadAsk{Text: m.Readings[0].As})
		if err != nil || len(i.Unread) > 0 || i.Kind != m.Readings[0].Kind {
			t.Errorf("%s: %q: %v %+v", text, m.Readings[0].As, err, i)
		}
	}
}

func TestPartsInTheHandAreHeldAgainstIt(t *testing.T) {
	b, _ := newBench(t)
	i := ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: "electrolytic 470 µF 25 V 105 °C", Have: "electrolytic 470 µF 16 V 105 °C; 2x electrolytic 560uF 35 V 85 °C\n470 µF 35 V 105 °C"}))
	if len(i.Typed) != 3 || i.Typed[0].Verdict != "accepted" || i.Typed[1].Verdict != "near miss" || i.Typed[1].Count != 2 || len(i.Typed[1].Risks) == 0 || i.Typed[2].Verdict != "refused" {
		t.Fatalf("%+v", i.Typed)
	}
	if i.Polarity == nil || !i.Polarity.Minus {
		t.Errorf("%+v", i.Polarity)
	}
	// A class above is no upgrade (IEC 60384-14 tells the classes apart; like for like is common practice).
	i = ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: "X2 capacitor 0.1 µF 275 V approved", Have: "X1 capacitor 0.1 µF 275 V approved; Y2 capacitor 0.1 µF 275 V approved; X2 capacitor 0.1 µF 275 V approved; film capacitor 0.1 µF 630 V"}))
	if !i.LikeForLike || i.Typed[0].Verdict != "accepted" || i.Typed[1].Verdict != "refused" || i.Typed[2].Verdict != "refused" || i.Typed[3].Verdict != "refused" || i.Polarity != nil {
		t.Errorf("%+v", i.Typed)
	}
	// Nor is a larger wattage of a resistor that is to open.
	i = ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: "fusible resistor 10 Ω 1 W flameproof", Have: "fusible resistor 10 Ω 2 W flameproof; resistor 10 Ω 1 W flameproof; fusible resistor 10 Ω 1 W flameproof"}))
	if i.Typed[0].Verdict != "accepted" || i.Typed[1].Verdict != "refused" || i.Typed[2].Verdict != "refused" {
		t.Errorf("%+v", i.Typed)
	}
	if err := second(b.Instead(ctx, casework.InsteadAsk{Text: "electrolytic 470 µF 25 V", Have: strings.Repeat("1k;", 21)})); casework.CodeOf(err) != casework.BadInput {
		t.Error(err)
	}
}

func TestTheNoteSaysWhichPart(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	all := ok[[]casework.RepairPart](t)(b.RepairParts(ctx, id, "supply.recap"))
	if len(all) == 0 || !strings.Contains(all[0].Part, "4700") || !all[0].Whole || all[0].Kind != "electrolytic capacitor" {
		t.Errorf("%+v", all)
	}
	if err := second(b.RepairParts(ctx, id, "none such")); casework.CodeOf(err) != casework.NotFound {
		t.Error(err)
	}
}

func TestAMeasuredElectrolytic(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	dried := ok[*casework.CapAnswer](t)(b.JudgeCap(ctx, casework.CapAsk{Marked: "4700", Volts: "63", Measured: "1800 µF", ESR: "2.1 Ω", Case: id}))
	if dried.Verdict != "replace" || dried.Bad < 0.9 || len(dried.Checks) != 1 || dried.Checks[0].Answer != "worn" {
		t.Errorf("%+v", dried)
	}
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: dried.Checks[0].Check, Answers: answers(dried.Checks[0].Finding, dried.Checks[0].Answer)}))
	good := ok[*casework.CapAnswer](t)(b.JudgeCap(ctx, casework.CapAsk{Marked: "4700 µF", Volts: "63 V", Measured: "4650 µF", ESR: "20 mΩ", Limit: "50 mΩ", Case: id}))
	if good.Bad > 0.2 || len(good.Checks) != 1 || good.Checks[0].Answer != "as marked" {
		t.Errorf("%+v", good)
	}
	for _, a := range []casework.CapAsk{{}, {ESR: "x"}, {ESR: "1", Prior: num(1)}, {ESR: "1", Prior: num(math.NaN())}, {ESR: "1", Grade: "fine"}, {ESR: "1", Marked: "-3"}} {
		if err := second(b.JudgeCap(ctx, a)); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%+v: %v", a, err)
		}
	}
}

// Makers' ten-degree law: 2000 h at 85 °C last 2000·2^3 h at 55 °C.
func TestHowLongAnElectrolyticLasts(t *testing.T) {
	a := casework.UsualLife()
	l := ok[*casework.LifeAnswer](t)(casework.CapLife(a))
	if math.Abs(l.OldHours-16000) > 1 || l.NewHours <= l.OldHours || len(l.Points) < 10 || l.Trust == "" {
		t.Errorf("%+v", l)
	}
	a.Ripple = 1
	if err := second(casework.CapLife(a)); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("ripple without a size: %v", err)
	}
	a.ESR, a.DiameterMM, a.HeightMM = 0.05, 10, 20
	if r := ok[*casework.LifeAnswer](t)(casework.CapLife(a)); r.OldHours >= l.OldHours || r.RiseK <= 0 {
		t.Errorf("%+v", r)
	}
	a.Hours = math.Inf(1)
	if err := second(casework.CapLife(a)); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("endless: %v", err)
	}
}

// Two equal resistors in parallel are half (Ohm's law).
func TestAValueFromWhatIsThere(t *testing.T) {
	b, _ := newBench(t)
	stockUp(t, b, "resistor 22k 1/4 W 5 %", 2, "drawer 1")
	c := ok[*casework.Combined](t)(b.Combine(ctx, casework.CombineAsk{Element: "resistors", Value: "11k", Rating: "0.3 W"}))
	if len(c.Ways) == 0 || c.Ways[0].Value != "11 kΩ" || len(c.Ways[0].Parts) != 2 || c.Ways[0].Parts[0].Place != "drawer 1" {
		t.Errorf("%+v", c)
	}
	c = ok[*casework.Combined](t)(b.Combine(ctx, casework.CombineAsk{Element: "resistors", Value: "12k", Typed: "3 × 1k 1/4 W, 470", NoShelf: false}))
	if c.Ways[0].Value != "12 kΩ" {
		t.Errorf("%+v", c.Ways[0])
	}
	for a, code := range map[casework.CombineAsk]casework.Code{
		{Element: "diodes", Value: "1"}: casework.BadInput, {Element: "resistors", Value: "-1"}: casework.BadInput, {Element: "inductors", Value: "10 µH"}: casework.NotFound,
		{Element: "resistors", Value: "1k", Typed: "spoon"}: casework.BadInput,
	} {
		if err := second(b.Combine(ctx, a)); casework.CodeOf(err) != code {
			t.Errorf("%+v: %v", a, err)
		}
	}
}

// E = C·V²/2: 470 µF at 325 V hold 24.8 J.
func TestWhatACapacitorHolds(t *testing.T) {
	c := ok[*casework.Charge](t)(casework.Discharge(casework.ChargeAsk{Farad: "470", Volts: "325 V"}))
	if math.Abs(c.Joules-0.5*470e-6*325*325) > 1e-9 || c.Ohms == 0 || len(c.Steps) == 0 || len(c.Cautions) == 0 || c.CurveV[0] != 325 || c.CurveV[40] > 1.01 {
		t.Errorf("%+v", c)
	}
	for _, l := range c.Limits {
		if l.Source == "" || l.Trust == "" {
			t.Errorf("%s has no source", l.Name)
		}
	}
	if c = ok[*casework.Charge](t)(casework.Discharge(casework.ChargeAsk{Farad: "1 µF", Volts: "2100 V"})); !c.Refused || c.Resistor() != "" {
		t.Errorf("a procedure at 2100 V: %+v", c)
	}
	if c = ok[*casework.Charge](t)(casework.Discharge(casework.ChargeAsk{Farad: "0.1", Volts: "325 V", Plug: true})); len(c.Pins) == 0 {
		t.Error("no rules for the pins")
	}
	for _, a := range []casework.ChargeAsk{{}, {Farad: "1"}, {Farad: "x", Volts: "1"}, {Farad: "1", Volts: "1e300"}, {Farad: "1", Volts: "10", Seconds: "0"}} {
		if err := second(casework.Discharge(a)); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%+v: %v", a, err)
		}
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
	i := ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: "electrolytic 4700 µF 50 V", Case: id}))
	if len(i.Offers) != 2 || i.Offers[0].Verdict != "accepted" {
		t.Errorf("%+v", i.Offers)
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

// What an electrolytic's text leaves open is asked for, and only that. Common practice, no source.
func TestWhatIsNotStated(t *testing.T) {
	b, _ := newBench(t)
	words := func(text string) string {
		out := ""
		for _, q := range ok[*casework.Instead](t)(b.Instead(ctx, casework.InsteadAsk{Text: text})).Asks {
			if strings.HasPrefix(q.Words, "not stated") {
				out += q.Words + "\n"
			}
		}
		return out
	}
	open := words("electrolytic 1000 µF 16 V 105 °C")
	for _, w := range []string{"diameter", "height", "pitch", "low ESR", "ripple"} {
		if !strings.Contains(open, w) {
			t.Errorf("nothing about %s: %q", w, open)
		}
	}
	if full := words("electrolytic 1000 µF 16 V 105 °C low ESR 10 x 16 mm pitch 5 mm ripple 1 A"); full != "" {
		t.Errorf("asked though stated: %q", full)
	}
	if other := words("resistor 4k7 1/4 W"); other != "" {
		t.Errorf("a resistor: %q", other)
	}
}
