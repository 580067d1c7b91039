package stock_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

type figures = map[fit.Param]float64
type words = map[fit.Param]string

// The meanings are those of the units and codes (IEC 60062 for 4k7 and 100n); the
// names are the trade's, common practice, no source.
func TestLinesAsPeopleWriteThem(t *testing.T) {
	for _, c := range []struct {
		text    string
		kind    part.Kind
		figures figures
		words   words
		rest    string
	}{
		{"electrolytic 470 µF 25 V 105 °C", part.Electrolytic, figures{fit.Capacitance: 470e-6, fit.VoltsDC: 25, fit.TempMax: 105}, nil, ""},
		{"Electrolytic capacitors 1000uF 16V low ESR 10 x 16 mm", part.Electrolytic, figures{fit.Capacitance: 1e-3, fit.VoltsDC: 16, fit.Diameter: 0.01, fit.Height: 0.016}, words{fit.Series: "low impedance"}, ""},
		{"electrolytic 47 µF 63 V ESR 0.3 Ω ripple 200 mA pitch 5 mm", part.Electrolytic, figures{fit.Capacitance: 47e-6, fit.VoltsDC: 63, fit.ESR: 0.3, fit.Ripple: 0.2, fit.Pitch: 0.005}, nil, ""},
		{"resistor 4k7 1/4 W 5 %", part.Resistor, figures{fit.Resistance: 4700, fit.Power: 0.25, fit.Tolerance: 0.05}, nil, ""},
		{"film capacitor 100n 63 V", part.Film, figures{fit.Capacitance: 100e-9, fit.VoltsDC: 63}, nil, ""},
		{"X2 capacitor 0,1 µF 275 V approved", part.Suppression, figures{fit.Capacitance: 100e-9, fit.VoltsAC: 275}, words{fit.Class: "X2", fit.Approved: "yes"}, ""},
		{"ceramic 10 µF 25 V X7R 1206", part.Ceramic, figures{fit.Capacitance: 10e-6, fit.VoltsDC: 25}, words{fit.Dielectric: "X7R", fit.Package: "1206"}, ""},
		{"thermal fuse 157 °C 10 A", part.ThermalFuse, figures{fit.OpensAt: 157, fit.Current: 10}, nil, ""},
		{"fusible resistor 10 Ω 1 W flameproof", part.FusibleResistor, figures{fit.Resistance: 10, fit.Power: 1}, words{fit.Flameproof: "yes"}, ""},
		{"zener diode 12 V 1 W", part.Zener, figures{fit.ZenerVolts: 12, fit.Power: 1}, nil, ""},
		{"relay 12 V 16 A", part.Relay, figures{fit.CoilVolts: 12, fit.ContactAmps: 16}, nil, ""},
		{"rectifier 600 V 3 A recovery 75 ns", part.Rectifier, figures{fit.VoltsDC: 600, fit.Current: 3, fit.Recovery: 75e-9}, nil, ""},
		{"rectifier 600 V 3 A 75 ns forward 1.2 V", part.Rectifier, figures{fit.VoltsDC: 600, fit.Current: 3, fit.Recovery: 75e-9, fit.ForwardVolts: 1.2}, nil, ""},
		{"N-channel MOSFET 600 V 7 A 0.6 Ω gate charge 38 nC gate drive 10 V TO-220", part.MOSFET, figures{fit.VoltsDC: 600, fit.Current: 7, fit.OnResistance: 0.6, fit.GateCharge: 38e-9, fit.GateDrive: 10}, words{fit.Channel: "N", fit.Package: "TO-220"}, ""},
		{"regulator 5 V 1 A drop-out 2 V input 35 V TO-220", part.Regulator, figures{fit.OutputVolts: 5, fit.Current: 1, fit.DropOut: 2, fit.InputMax: 35}, words{fit.Package: "TO-220"}, ""},
		{"relay coil 24 V contacts 250 V 16 A", part.Relay, figures{fit.CoilVolts: 24, fit.ContactVolts: 250, fit.ContactAmps: 16}, nil, ""},
		{"varistor clamp 470 V 10 mm", part.Varistor, figures{fit.ClampVolts: 470, fit.Diameter: 0.01}, nil, ""},
		{"electrolytic 2200uF16V", part.Electrolytic, figures{fit.Capacitance: 2200e-6, fit.VoltsDC: 16}, nil, ""},
		{"resistor yellow violet red gold 1/4 W", part.Resistor, figures{fit.Resistance: 4700, fit.Power: 0.25, fit.Tolerance: 0.05}, nil, ""},
		{"fuse T3.15AH250V", part.Fuse, figures{fit.Current: 3.15, fit.VoltsAC: 250, fit.Breaking: 1500}, words{fit.Speed: "T"}, ""},
		{"resistor 4k7 473", part.Resistor, figures{fit.Resistance: 4700}, nil, "473"},
		{"mains suppression capacitors X2 100 nF 275 V", part.Suppression, figures{fit.Capacitance: 100e-9, fit.VoltsAC: 275}, words{fit.Class: "X2"}, ""},
		{"fast diode 600 V", part.Rectifier, figures{fit.VoltsDC: 600}, nil, "fast"},
		{"1000µF 25V 105°C", part.Electrolytic, figures{fit.Capacitance: 1e-3, fit.VoltsDC: 25, fit.TempMax: 105}, nil, ""},
		{"electrolytic 1000uF 16V 105C", part.Electrolytic, figures{fit.Capacitance: 1e-3, fit.VoltsDC: 16, fit.TempMax: 105}, nil, ""},
		{"electrolytic 47uF 50V 85C", part.Electrolytic, figures{fit.Capacitance: 47e-6, fit.VoltsDC: 50, fit.TempMax: 85}, nil, ""},
		{"electrolytic 47uF 50V +105°C", part.Electrolytic, figures{fit.Capacitance: 47e-6, fit.VoltsDC: 50, fit.TempMax: 105}, nil, ""},
		{"electrolytic 47uF 50V -40/+105 °C, low ESR", part.Electrolytic, figures{fit.Capacitance: 47e-6, fit.VoltsDC: 50, fit.TempMax: 105}, words{fit.Series: "low impedance"}, ""},
		{"thermal fuse 167C 10A", part.ThermalFuse, figures{fit.OpensAt: 167, fit.Current: 10}, nil, ""},
		{"mains lead 5 m", part.Unknown, figures{}, nil, "mains lead 5 m"},
		{"electrolytic 10 µF 22 µF", part.Electrolytic, figures{fit.Capacitance: 10e-6}, nil, "22 µF"},
	} {
		p := stock.Read(c.text)
		if c.words == nil {
			c.words = words{}
		}
		got := stock.Part{Kind: p.Kind, Figures: p.Figures, Words: p.Words, Text: strings.Join(p.Rest, " ")}
		want := stock.Part{Kind: c.kind, Figures: c.figures, Words: c.words, Text: c.rest}
		if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-9, 0)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", c.text, diff)
		}
	}
}

// A part is only taken for another where the text says enough for that.
func TestWhenATextSaysEnough(t *testing.T) {
	for text, want := range map[string]string{
		"electrolytic 470 µF 25 V": "", "electrolytic 470 µF": "rated voltage", "electrolytic set 105 °C low ESR": "set", "MOSFET 600 V": "pins",
		"fast diode 600 V": "fast", "triac 8 A 600 V": "kind of part", "resistor 220 Ω 1 W": "", "thermal fuse 157 °C 10 A": "", "fuse 2 A": "rated voltage AC",
		"X2 capacitor 0.1 µF": "rated voltage AC", "button cell": "kind of part", "": "kind of part",
	} {
		_, err := stock.Requirement(text)
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

const list = "What;Qty;Drawer;Voltage;Remark\n" +
	"electrolytic 470 µF;10;3;\"25,0 V\";bought\n" +
	"resistor 4k7 1/4 W;x;4;;\n" +
	";3;4;;\n" +
	"film capacitor 100n;2;5;many;\n" +
	"push-button;4;;;\"two\nlines\"\n" +
	"zener 12 V 1 W;1000001;;;\n"

func TestAListWithErrorsByLine(t *testing.T) {
	l, err := stock.Open([]byte(list))
	if err != nil {
		t.Fatal(err)
	}
	guess := l.Guess()
	if diff := cmp.Diff([]string{stock.Name, stock.Count, stock.Place, string(fit.VoltsDC), stock.Note}, guess); diff != "" {
		t.Fatal(diff)
	}
	lines, troubles, err := l.Take(guess)
	if err != nil {
		t.Fatal(err)
	}
	if len(lines) != 2 || lines[0].Count != 10 || lines[0].Figures[fit.VoltsDC] != 25 || lines[1].Name != "push-button" || lines[1].Note != "two lines" {
		t.Errorf("%+v", lines)
	}
	var at []int
	for _, x := range troubles {
		at = append(at, x.Line)
	}
	if diff := cmp.Diff([]int{3, 4, 5, 8}, at); diff != "" {
		t.Errorf("troubles %+v\n%s", troubles, diff)
	}
	if _, _, err := l.Take([]string{"", stock.Count, stock.Count, "", ""}); err == nil {
		t.Error("two columns of pieces were taken")
	}
}

func TestWhatIsWrittenReadsBack(t *testing.T) {
	want := []stock.Line{
		{Name: "=1+1 electrolytic 470 µF 25 V", Kind: part.Electrolytic, Figures: figures{fit.Capacitance: 470e-6, fit.VoltsDC: 25}, Words: words{}, Count: 3, Place: "drawer 3", From: stock.New},
		{Name: "MOSFET N-channel", Kind: part.MOSFET, Figures: figures{fit.VoltsDC: 600, fit.GateCharge: 30e-9, fit.Gain: 1}, Words: words{fit.Channel: "N"}, From: stock.OnBoard, Board: "old, \"supply\"", Note: "+one"},
	}
	var b bytes.Buffer
	if err := stock.Write(&b, want); err != nil {
		t.Fatal(err)
	}
	l, err := stock.Open(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	got, troubles, err := l.Take(l.Guess())
	if diff := cmp.Diff(want, got, cmpopts.EquateApprox(1e-9, 0)); diff != "" || err != nil || len(troubles) > 0 {
		t.Errorf("%v %v %s", err, troubles, diff)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"electrolytic 470 µF 25 V", "1/0 W", "±", "4k7", "x 1 × 2 mm", "X2Y1 \xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for p, v := range stock.Read(s).Figures {
			if !(v > 0) || v*0 != 0 {
				t.Errorf("%s = %v", p, v)
			}
		}
		_, _ = stock.Requirement(s)
	})
}

func FuzzList(f *testing.F) {
	f.Add([]byte(list))
	f.Add([]byte("a\n\"b"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := stock.Open(data)
		if err != nil {
			return
		}
		lines, _, err := l.Take(l.Guess())
		if err != nil {
			return
		}
		for _, x := range lines {
			if x.Name == "" || x.Count < 0 {
				t.Errorf("%+v", x)
			}
		}
	})
}

func BenchmarkOpen100000(b *testing.B) {
	var s strings.Builder
	s.WriteString("what,pieces,place\n")
	for range 100_000 {
		s.WriteString("electrolytic 470 µF 25 V 105 °C,10,drawer 3\n")
	}
	for b.Loop() {
		l, err := stock.Open([]byte(s.String()))
		if err != nil {
			b.Fatal(err)
		}
		if _, _, err := l.Take(l.Guess()); err != nil {
			b.Fatal(err)
		}
	}
}
