package marking_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fettler/internal/part"
	"fettler/internal/part/marking"
)

func ExampleRead() {
	rs, err := marking.Read("yellow violet red gold", marking.Hint{Kind: part.Resistor})
	if err != nil {
		fmt.Println(err)
		return
	}
	best := rs[0]
	fmt.Println(best.Text)
	for _, why := range best.Reasons {
		fmt.Println(" -", why)
	}
	// Output:
	// 4.7 kΩ ±5 %
	//  - yellow violet red gold
	//  - gold, ±5 %, is the usual last band
	//  - from the other end it is impossible: gold is not a digit
	//  - a preferred value of E24
	//  - it is the kind of part expected
}

// What a repairer would read first. Values follow from the published codes; which
// reading is likelier is common practice, no source.
func TestReadFirst(t *testing.T) {
	for _, c := range []struct {
		text string
		hint marking.Hint
		kind part.Kind
		want string // the first reading's text
	}{
		{"yellow violet red gold", marking.Hint{}, part.Resistor, "4.7 kΩ ±5 %"},
		{"gold red violet yellow", marking.Hint{}, part.Resistor, "4.7 kΩ ±5 %"},
		{"BN BK BK GD BN", marking.Hint{}, part.Resistor, "10 Ω ±1 %"},
		{"brown black black brown brown red", marking.Hint{}, part.Resistor, "1 kΩ ±1 %, 50 ppm/K"},
		{"black", marking.Hint{}, part.Resistor, "0 Ω link"},
		{"yellow violet red", marking.Hint{}, part.Resistor, "4.7 kΩ ±20 %"},
		{"brown black brown silver", marking.Hint{Kind: part.Inductor}, part.Inductor, "100 µH ±10 %"},
		{"103", marking.Hint{}, part.Resistor, "10 kΩ"},
		{"103", marking.Hint{Kind: part.Ceramic}, part.Ceramic, "10 nF"},
		{"103", marking.Hint{Min: 1e-9, Max: 1e-6}, part.Ceramic, "10 nF"},
		{"220", marking.Hint{Tech: marking.SMD}, part.Resistor, "22 Ω"},
		{"1002", marking.Hint{Tech: marking.SMD}, part.Resistor, "10 kΩ"},
		{"66B", marking.Hint{}, part.Resistor, "4.75 kΩ ±1 %"},
		{"000", marking.Hint{}, part.Resistor, "0 Ω link"},
		{"4R7", marking.Hint{}, part.Resistor, "4.7 Ω"},
		{"R47", marking.Hint{}, part.Resistor, "470 mΩ"},
		{"1K5", marking.Hint{}, part.Resistor, "1.5 kΩ"},
		{"4K7J", marking.Hint{}, part.Resistor, "4.7 kΩ ±5 %"},
		{"104K", marking.Hint{}, part.Ceramic, "100 nF ±10 %"},
		{"2A104J", marking.Hint{Kind: part.Film}, part.Film, "100 nF ±5 %, 100 V"},
		{"2A104J", marking.Hint{}, part.Film, "100 nF ±5 %, 100 V"},
		{"5V1", marking.Hint{}, part.Zener, "5.1 V"},
		{"C6V8 1W", marking.Hint{}, part.Zener, "6.8 V ±5 %, 1 W"},
		{"B5V6", marking.Hint{}, part.Zener, "5.6 V ±2 %"},
		{"473M", marking.Hint{Kind: part.Ceramic}, part.Ceramic, "47 nF ±20 %"},
		{"X7R 104K 50V", marking.Hint{}, part.Ceramic, "100 nF ±10 %, 50 V, X7R"},
		{"0.1K100", marking.Hint{}, part.Film, "100 nF ±10 %, 100 V"},
		{"MKP 0.47µF 630V", marking.Hint{}, part.Film, "470 nF, 630 V"},
		{"1000µF 25V 105°C", marking.Hint{}, part.Electrolytic, "1000 µF, 25 V, 105 °C"},
		{"1000 uF 25 V", marking.Hint{}, part.Electrolytic, "1000 µF, 25 V"},
		{"470 35V 105C", marking.Hint{}, part.Electrolytic, "470 µF, 35 V, 105 °C"},
		{"C106", marking.Hint{}, part.Tantalum, "10 µF, 16 V"},
		{"107C", marking.Hint{Tech: marking.SMD}, part.Tantalum, "100 µF, 16 V"},
		{"226 16V bar", marking.Hint{}, part.Tantalum, "22 µF, 16 V"},
		{"101", marking.Hint{Kind: part.Inductor}, part.Inductor, "100 µH"},
		{"10N", marking.Hint{Kind: part.Inductor}, part.Inductor, "10 nH"},
		{"T3.15AH250V", marking.Hint{}, part.Fuse, "3.15 A, time-lag (T), high breaking capacity (sand-filled; 1500 A), 250 V"},
		{"T 2A L 250V", marking.Hint{}, part.Fuse, "2 A, time-lag (T), low breaking capacity (glass; 35 A or ten times the rating), 250 V"},
		{"FF500mA", marking.Hint{}, part.Fuse, "500 mA, very quick-acting (FF)"},
		{"T3,15A 250V", marking.Hint{}, part.Fuse, "3.15 A, time-lag (T), 250 V"},
		{"TF 152°C 10A 250V", marking.Hint{}, part.ThermalFuse, "opens once at 152 °C, 10 A, 250 V"},
		{"10D471K", marking.Hint{}, part.Varistor, "varistor, 10 mm disc, 470 V at 1 mA, for about 300 V AC"},
		{"14K275", marking.Hint{Kind: part.Varistor}, part.Varistor, "varistor, 14 mm disc, for 275 V AC"},
		{"16.000", marking.Hint{}, part.Crystal, "16 MHz"},
		{"32.768", marking.Hint{Kind: part.Crystal}, part.Crystal, "32.768 kHz"},
		{"4.433619MHz", marking.Hint{}, part.Crystal, "4.433619 MHz"},
		{"X2 0.33µF 275V~", marking.Hint{}, part.Suppression, "330 nF, class X2, 275 V AC"},
		{"X1/Y2 472M 250V~", marking.Hint{}, part.Suppression, "4.7 nF ±20 %, class X1Y2, 250 V AC"},
		{"68A", marking.Hint{}, part.Resistor, "499 Ω ±1 %"},
		{"106A", marking.Hint{}, part.Tantalum, "10 µF, 10 V"},
		{"10A 250V", marking.Hint{}, part.Fuse, "10 A, 250 V"},
		{"1H 104J", marking.Hint{Kind: part.Film}, part.Film, "100 nF ±5 %, 50 V"},
		{"226 16V", marking.Hint{}, part.Tantalum, "22 µF, 16 V"},
		{"4.7µF 50V BP", marking.Hint{}, part.Electrolytic, "4.7 µF, 50 V, bipolar"},
		{"5W 0R22 J", marking.Hint{}, part.Resistor, "220 mΩ ±5 %, 5 W"},
		{"5W10ΩJ", marking.Hint{}, part.Resistor, "10 Ω ±5 %, 5 W"},
		{"TF", marking.Hint{}, part.ThermalFuse, "thermal fuse, its temperature not made out"},
		{"C4", marking.Hint{Year: 2026}, part.Unknown, "made April 1972 or April 1992 or April 2012"},
	} {
		rs, err := marking.Read(c.text, c.hint)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		if rs[0].Kind != c.kind || rs[0].Text != c.want {
			t.Errorf("%s: got %s %q (%.2f), want %s %q", c.text, rs[0].Kind, rs[0].Text, rs[0].Plausibility, c.kind, c.want)
			for _, r := range rs {
				t.Logf("   %.3f %s %q %v", r.Plausibility, r.Kind, r.Text, r.Reasons)
			}
		}
		sane(t, c.text, rs)
	}
}

func sane(t *testing.T, text string, rs []marking.Reading) {
	t.Helper()
	sum := 0.0
	for i, r := range rs {
		sum += r.Plausibility
		if !(r.Plausibility >= 0) || r.Plausibility > 1 || math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || len(r.Reasons) == 0 || r.Text == "" || r.Source == (part.Source{}) {
			t.Fatalf("%q: reading %+v", text, r)
		}
		if i > 0 && r.Plausibility > rs[i-1].Plausibility {
			t.Fatalf("%q: readings are not in order", text)
		}
		if r.Kind == part.Suppression && r.Class != "" && len(r.Cautions) == 0 {
			t.Fatalf("%q: a safety part without a caution", text)
		}
	}
	if sum > 1+1e-9 {
		t.Fatalf("%q: plausibilities sum to %v", text, sum)
	}
}

// A mistake here explodes, so it is said in words.
func TestPolarity(t *testing.T) {
	for kind, want := range map[part.Kind]string{part.Electrolytic: "NEGATIVE", part.Tantalum: "POSITIVE", part.Rectifier: "CATHODE", part.Zener: "CATHODE"} {
		got, ok := marking.Polarity(kind)
		if !ok || !strings.Contains(got, want) {
			t.Errorf("%s: %q", kind, got)
		}
	}
	if _, ok := marking.Polarity(part.Resistor); ok {
		t.Error("a resistor has no direction")
	}
	for text, want := range map[string]string{"470µF 35V": "NEGATIVE", "C106": "POSITIVE"} {
		rs, err := marking.Read(text, marking.Hint{})
		if err != nil || len(rs[0].Cautions) == 0 || !strings.Contains(rs[0].Cautions[0], want) {
			t.Errorf("%s: %v %v", text, rs, err)
		}
	}
	rs, err := marking.Read("bar", marking.Hint{})
	if err != nil || len(rs) != 4 {
		t.Errorf("bar alone: %v, %v", rs, err)
	}
}

// A reading from the other end appears, and a value outside its series ranks lower.
func TestBothDirections(t *testing.T) {
	rs, err := marking.Read("brown black black brown brown", marking.Hint{})
	if err != nil {
		t.Fatal(err)
	}
	if rs[0].Value != 1000 || rs[1].Value != 110 {
		t.Errorf("got %v then %v, want 1000 then 110", rs[0].Text, rs[1].Text)
	}
	// brown grey green red violet: 185 × 100 ±0.1 %; from the other end 725 × 10⁸ ±1 %.
	rs, err = marking.Read("brown red violet black brown", marking.Hint{})
	if err != nil {
		t.Fatal(err)
	}
	if rs[0].Value != 127 {
		t.Errorf("got %s first, want 127 Ω, the one in E96", rs[0].Text)
	}
}

func TestUnseenBand(t *testing.T) {
	rs, err := marking.Read("brown ? red gold", marking.Hint{Min: 1400, Max: 1600})
	if err != nil || rs[0].Value != 1500 {
		t.Errorf("got %v, %v", rs, err)
	}
	rs, err = marking.Read("4?3", marking.Hint{Kind: part.Resistor, Min: 40e3, Max: 50e3})
	if err != nil || (rs[0].Value != 47e3 && rs[0].Value != 43e3) {
		t.Errorf("got %v, %v", rs, err)
	}
	burnt, err := marking.Read("red violet red gold", marking.Hint{Burnt: true, Min: 4e3, Max: 5e3})
	if err != nil {
		t.Fatal(err)
	}
	if burnt[0].Plausibility > 0.9 {
		t.Errorf("%s is too sure", burnt[0].Text)
	}
}

func TestReadRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"":                           "nothing to read",
		"???":                        "nothing to read",
		"bl red red gold":            "black or blue",
		"gold gold gold gold":        "impossible from either end",
		"red red":                    "too few",
		"? ? ? red":                  "too many readings",
		"quite unreadable":           "no code known",
		strings.Repeat("brown ", 40): "longer than",
		"brown plaid red gold":       "not a colour",
		"\xff\xfe":                   "not text",
	} {
		_, err := marking.Read(text, marking.Hint{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, want %q", text, err, want)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	for _, text := range []string{"103", "1000µF 25V 105°C", "yellow violet red gold", "1??3", "? ? red gold"} {
		b.Run(text, func(b *testing.B) {
			for b.Loop() {
				if _, err := marking.Read(text, marking.Hint{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
