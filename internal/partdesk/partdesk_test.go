package partdesk_test

import (
	"math"
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/failure"
	"fettler/internal/partdesk"
)

// IEC 60062: yellow violet red gold is 4.7 kΩ ±5 %; a bare 103 is 10 nF or 10 kΩ.
func TestMarkingsAreReadInAllWays(t *testing.T) {
	m := ok[*partdesk.Marks](t)(partdesk.ReadMarking(partdesk.MarkAsk{Text: "yellow violet red gold"}))
	if len(m.Bands) != 4 || !strings.Contains(m.Readings[0].Text, "4.7 kΩ") || m.Readings[0].As != "resistor 4.7 kΩ 5 %" || m.Readings[0].Trust == "" {
		t.Errorf("%+v", m)
	}
	m = ok[*partdesk.Marks](t)(partdesk.ReadMarking(partdesk.MarkAsk{Text: "gold red violet yellow"}))
	if !strings.Contains(m.Readings[0].Text, "4.7 kΩ") {
		t.Errorf("from the other end: %+v", m.Readings[0])
	}
	m = ok[*partdesk.Marks](t)(partdesk.ReadMarking(partdesk.MarkAsk{Text: "103"}))
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
	for text, code := range map[string]failure.Code{"": failure.BadInput, "hello there": failure.NotFound} {
		if _, err := partdesk.ReadMarking(partdesk.MarkAsk{Text: text}); failure.CodeOf(err) != code {
			t.Errorf("%q: %v", text, err)
		}
	}
	if err := second(partdesk.ReadMarking(partdesk.MarkAsk{Text: "103", Kind: "spoon"})); failure.CodeOf(err) != failure.BadInput {
		t.Error(err)
	}
}

// The bar of an aluminium can is minus, that of a tantalum plus, the ring of a diode
// its cathode (the trade's convention, from memory of makers' data sheets).
func TestWhichEndTheBarMarks(t *testing.T) {
	minus := map[string]bool{}
	for _, p := range partdesk.Poles() {
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
	b := newBench(t)
	stockUp(t, b, "electrolytic 470 µF 35 V 105 °C", 3, "drawer 3")
	stockUp(t, b, "electrolytic 470 µF 16 V 105 °C", 9, "drawer 3")
	stockUp(t, b, "electrolytic 330 µF 35 V 105 °C", 9, "drawer 3")
	ok[casework.ShelfReceipt](t)(b.Stock(ctx, casework.Stocking{Name: "electrolytic 470 µF 25 V 105 °C", Count: 2, Board: "old amplifier"}))
	i := ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "electrolytic 470 µF 25 V 85 °C"}))
	if len(i.Shelf) != 2 || i.Shelf[0].Verdict != "accepted" || i.Shelf[0].Name != "electrolytic 470 µF 35 V 105 °C" || i.Shelf[1].Verdict != "near miss" || len(i.Shelf[1].Risks) == 0 {
		t.Fatalf("%+v", i.Shelf)
	}
	if len(i.Boards) != 1 || !strings.Contains(i.Boards[0].Place, "old amplifier") || len(i.Asks) == 0 || i.Asks[0].Why == "" {
		t.Errorf("%+v", i)
	}
	i = ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "electrolytic 470 µF 25 V", Refused: true}))
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
	i = ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "thermal fuse 157 °C 10 A"}))
	if !i.LikeForLike || len(i.Shelf) != 1 || i.Shelf[0].Verdict != "refused" {
		t.Errorf("%+v", i.Shelf)
	}
	for _, text := range []string{"", "fan", "electrolytic", "X2 0.1 µF 275 V AC 85 V"} {
		if err := second(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: text, Duty: "x"})); failure.CodeOf(err) != failure.BadInput {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// What is read from a marking can be asked for at once: the words of a reading are read back whole.
func TestAReadingIsAPartToAskFor(t *testing.T) {
	b := newBench(t)
	for _, text := range []string{"4R7 1/4 W", "1000µF 25V 105°C", "X2 0.1µF 275V~", "T3.15AH250V", "10D471K", "5V1 1W", "TF 152°C 10A 250V", "2A104J"} {
		m := ok[*partdesk.Marks](t)(partdesk.ReadMarking(partdesk.MarkAsk{Text: text}))
		i, err := partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: m.Readings[0].As})
		if err != nil || len(i.Unread) > 0 || i.Kind != m.Readings[0].Kind {
			t.Errorf("%s: %q: %v %+v", text, m.Readings[0].As, err, i)
		}
	}
}

func TestPartsInTheHandAreHeldAgainstIt(t *testing.T) {
	b := newBench(t)
	i := ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "electrolytic 470 µF 25 V 105 °C", Have: "electrolytic 470 µF 16 V 105 °C; 2x electrolytic 560uF 35 V 85 °C\n470 µF 35 V 105 °C"}))
	if len(i.Typed) != 3 || i.Typed[0].Verdict != "accepted" || i.Typed[1].Verdict != "near miss" || i.Typed[1].Count != 2 || len(i.Typed[1].Risks) == 0 || i.Typed[2].Verdict != "refused" {
		t.Fatalf("%+v", i.Typed)
	}
	if i.Polarity == nil || !i.Polarity.Minus {
		t.Errorf("%+v", i.Polarity)
	}
	// A class above is no upgrade (IEC 60384-14 tells the classes apart; like for like is common practice).
	i = ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "X2 capacitor 0.1 µF 275 V approved", Have: "X1 capacitor 0.1 µF 275 V approved; Y2 capacitor 0.1 µF 275 V approved; X2 capacitor 0.1 µF 275 V approved; film capacitor 0.1 µF 630 V"}))
	if !i.LikeForLike || i.Typed[0].Verdict != "accepted" || i.Typed[1].Verdict != "refused" || i.Typed[2].Verdict != "refused" || i.Typed[3].Verdict != "refused" || i.Polarity != nil {
		t.Errorf("%+v", i.Typed)
	}
	// Nor is a larger wattage of a resistor that is to open.
	i = ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "fusible resistor 10 Ω 1 W flameproof", Have: "fusible resistor 10 Ω 2 W flameproof; resistor 10 Ω 1 W flameproof; fusible resistor 10 Ω 1 W flameproof"}))
	if i.Typed[0].Verdict != "accepted" || i.Typed[1].Verdict != "refused" || i.Typed[2].Verdict != "refused" {
		t.Errorf("%+v", i.Typed)
	}
	if err := second(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "electrolytic 470 µF 25 V", Have: strings.Repeat("1k;", 21)})); failure.CodeOf(err) != failure.BadInput {
		t.Error(err)
	}
}

func TestTheNoteSaysWhichPart(t *testing.T) {
	b := newBench(t)
	id := loudspeaker(t, b)
	all := ok[[]partdesk.RepairPart](t)(partdesk.New(b).RepairParts(ctx, id, "supply.recap"))
	if len(all) == 0 || !strings.Contains(all[0].Part, "4700") || !all[0].Whole || all[0].Kind != "electrolytic capacitor" {
		t.Errorf("%+v", all)
	}
	if err := second(partdesk.New(b).RepairParts(ctx, id, "none such")); failure.CodeOf(err) != failure.NotFound {
		t.Error(err)
	}
}

func TestAMeasuredElectrolytic(t *testing.T) {
	b := newBench(t)
	id := loudspeaker(t, b)
	dried := ok[*partdesk.CapAnswer](t)(partdesk.New(b).JudgeCap(ctx, partdesk.CapAsk{Marked: "4700", Volts: "63", Measured: "1800 µF", ESR: "2.1 Ω", Case: id}))
	if dried.Verdict != "replace" || dried.Bad < 0.9 || len(dried.Checks) != 1 || dried.Checks[0].Answer != "worn" {
		t.Errorf("%+v", dried)
	}
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: dried.Checks[0].Check, Answers: []casework.Answer{{Finding: dried.Checks[0].Finding, Text: dried.Checks[0].Answer}}}))
	good := ok[*partdesk.CapAnswer](t)(partdesk.New(b).JudgeCap(ctx, partdesk.CapAsk{Marked: "4700 µF", Volts: "63 V", Measured: "4650 µF", ESR: "20 mΩ", Limit: "50 mΩ", Case: id}))
	if good.Bad > 0.2 || len(good.Checks) != 1 || good.Checks[0].Answer != "as marked" {
		t.Errorf("%+v", good)
	}
	for _, a := range []partdesk.CapAsk{{}, {ESR: "x"}, {ESR: "1", Prior: num(1)}, {ESR: "1", Prior: num(math.NaN())}, {ESR: "1", Grade: "fine"}, {ESR: "1", Marked: "-3"}} {
		if err := second(partdesk.New(b).JudgeCap(ctx, a)); failure.CodeOf(err) != failure.BadInput {
			t.Errorf("%+v: %v", a, err)
		}
	}
}

// Makers' ten-degree law: 2000 h at 85 °C last 2000·2^3 h at 55 °C.
func TestHowLongAnElectrolyticLasts(t *testing.T) {
	a := partdesk.UsualLife()
	l := ok[*partdesk.LifeAnswer](t)(partdesk.CapLife(a))
	if math.Abs(l.OldHours-16000) > 1 || l.NewHours <= l.OldHours || len(l.Points) < 10 || l.Trust == "" {
		t.Errorf("%+v", l)
	}
	a.Ripple = 1
	if err := second(partdesk.CapLife(a)); failure.CodeOf(err) != failure.BadInput {
		t.Errorf("ripple without a size: %v", err)
	}
	a.ESR, a.DiameterMM, a.HeightMM = 0.05, 10, 20
	if r := ok[*partdesk.LifeAnswer](t)(partdesk.CapLife(a)); r.OldHours >= l.OldHours || r.RiseK <= 0 {
		t.Errorf("%+v", r)
	}
	a.Hours = math.Inf(1)
	if err := second(partdesk.CapLife(a)); failure.CodeOf(err) != failure.BadInput {
		t.Errorf("endless: %v", err)
	}
}

// Two equal resistors in parallel are half (Ohm's law).
func TestAValueFromWhatIsThere(t *testing.T) {
	b := newBench(t)
	stockUp(t, b, "resistor 22k 1/4 W 5 %", 2, "drawer 1")
	c := ok[*partdesk.Combined](t)(partdesk.New(b).Combine(ctx, partdesk.CombineAsk{Element: "resistors", Value: "11k", Rating: "0.3 W"}))
	if len(c.Ways) == 0 || c.Ways[0].Value != "11 kΩ" || len(c.Ways[0].Parts) != 2 || c.Ways[0].Parts[0].Place != "drawer 1" {
		t.Errorf("%+v", c)
	}
	c = ok[*partdesk.Combined](t)(partdesk.New(b).Combine(ctx, partdesk.CombineAsk{Element: "resistors", Value: "12k", Typed: "3 × 1k 1/4 W, 470", NoShelf: false}))
	if c.Ways[0].Value != "12 kΩ" {
		t.Errorf("%+v", c.Ways[0])
	}
	for a, code := range map[partdesk.CombineAsk]failure.Code{
		{Element: "diodes", Value: "1"}: failure.BadInput, {Element: "resistors", Value: "-1"}: failure.BadInput, {Element: "inductors", Value: "10 µH"}: failure.NotFound,
		{Element: "resistors", Value: "1k", Typed: "spoon"}: failure.BadInput,
	} {
		if err := second(partdesk.New(b).Combine(ctx, a)); failure.CodeOf(err) != code {
			t.Errorf("%+v: %v", a, err)
		}
	}
}

// E = C·V²/2: 470 µF at 325 V hold 24.8 J.
func TestWhatACapacitorHolds(t *testing.T) {
	c := ok[*partdesk.Charge](t)(partdesk.Discharge(partdesk.ChargeAsk{Farad: "470", Volts: "325 V"}))
	if math.Abs(c.Joules-0.5*470e-6*325*325) > 1e-9 || c.Ohms == 0 || len(c.Steps) == 0 || len(c.Cautions) == 0 || c.CurveV[0] != 325 || c.CurveV[40] > 1.01 {
		t.Errorf("%+v", c)
	}
	for _, l := range c.Limits {
		if l.Source == "" || l.Trust == "" {
			t.Errorf("%s has no source", l.Name)
		}
	}
	if c = ok[*partdesk.Charge](t)(partdesk.Discharge(partdesk.ChargeAsk{Farad: "1 µF", Volts: "2100 V"})); !c.Refused || c.Resistor() != "" {
		t.Errorf("a procedure at 2100 V: %+v", c)
	}
	if c = ok[*partdesk.Charge](t)(partdesk.Discharge(partdesk.ChargeAsk{Farad: "0.1", Volts: "325 V", Plug: true})); len(c.Pins) == 0 {
		t.Error("no rules for the pins")
	}
	for _, a := range []partdesk.ChargeAsk{{}, {Farad: "1"}, {Farad: "x", Volts: "1"}, {Farad: "1", Volts: "1e300"}, {Farad: "1", Volts: "10", Seconds: "0"}} {
		if err := second(partdesk.Discharge(a)); failure.CodeOf(err) != failure.BadInput {
			t.Errorf("%+v: %v", a, err)
		}
	}
}

// Of an offer, each part is held against what is asked; a bridge is no electrolytic.
func TestOffersAreHeldAgainstIt(t *testing.T) {
	b := newBench(t)
	id := loudspeaker(t, b)
	offers := ok[[]casework.Offer](t)(casework.ParseOffers("2 × electrolytic 4700 µF 63 V; ; 3.00; 1.20; 1; Blue shop; cures hum\nkit of 2 × electrolytic 4700 µF 63 V + bridge + fuse; supply.recap, supply.new-bridge, fuse; 9,50; 1.20; 1; Blue shop\n"))
	ok[casework.Receipt](t)(b.SetOffers(ctx, id, casework.Offering{Offers: offers}))
	i := ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: "electrolytic 4700 µF 50 V", Case: id}))
	if len(i.Offers) != 2 || i.Offers[0].Verdict != "accepted" {
		t.Errorf("%+v", i.Offers)
	}
	if o := i.Offers[0]; o.Price != 3 || o.Place != "Blue shop, 1 day" || o.Count != 2 {
		t.Errorf("%+v", o)
	}
}

// What an electrolytic's text leaves open is asked for, and only that. Common practice, no source.
func TestWhatIsNotStated(t *testing.T) {
	b := newBench(t)
	words := func(text string) string {
		out := ""
		for _, q := range ok[*partdesk.Instead](t)(partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: text})).Asks {
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
