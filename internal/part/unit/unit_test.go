package unit_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fettler/internal/part/unit"

	"pgregory.net/rapid"
)

func ExampleParse() {
	ohms, _ := unit.Parse("4k7", "Ω")
	farad, _ := unit.Parse("100n", "F")
	fmt.Println(unit.Format(ohms, "Ω"), "and", unit.Format(farad, "F"))
	// Output: 4.7 kΩ and 100 nF
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		want       float64
	}{
		{"4.7 kΩ", "Ω", 4700}, {"4k7", "Ω", 4700}, {"4K7", "Ω", 4700}, {"4.7k", "Ω", 4700}, {"R47", "Ω", 0.47}, {"470R", "Ω", 470}, {"1 Mohm", "Ω", 1e6},
		{"5m", "Ω", 0.005}, {"5m", "m", 5}, {"12.5 mm", "m", 0.0125}, {"100n", "F", 100e-9}, {"100 nF", "F", 100e-9}, {"2n2", "F", 2.2e-9},
		{"1000 µF", "F", 1e-3}, {"1000 \u03bcF", "F", 1e-3}, {"1000uF", "F", 1e-3}, {"35 V", "V", 35}, {"3,15 A", "A", 3.15}, {"315mA", "A", 0.315},
		{"1/4 W", "W", 0.25}, {"105 °C", "°C", 105}, {"105C", "°C", 105}, {"-40°C", "°C", -40}, {"2000 h", "h", 2000}, {"5 %", "%", 0.05},
		{"0,100 µF", "F", 0.1e-6}, {"1e3", "Ω", 1000}, {"16.000 MHz", "Hz", 16e6}, {"1.5e3 V", "V", 1500},
	} {
		got, err := unit.Parse(c.text, c.unit)
		if err != nil || math.Abs(got-c.want) > 1e-12*math.Abs(c.want) {
			t.Errorf("%q as %s: got %v, %v; want %v", c.text, c.unit, got, err, c.want)
		}
	}
	for text, want := range map[string]string{"": "no figure", "1,000": "thousand", "12,500 Ω": "thousand", "abc": "not a figure", "4k7k": "not a figure", "1/0": "not a figure", "9e999": "not a figure", "4.7 kV": "not a figure", "NaN": "not a figure", "inf": "not a figure"} {
		v, err := unit.Parse(text, "Ω")
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %v, %v; want %q", text, v, err, want)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v    float64
		unit string
		want string
	}{
		{4700, "Ω", "4.7 kΩ"}, {1e-3, "F", "1000 µF"}, {0.47, "Ω", "470 mΩ"}, {0.0125, "m", "12.5 mm"}, {1e-7, "F", "100 nF"}, {325.269, "V", "325.3 V"},
		{0.05, "%", "5 %"}, {32000, "h", "32000 h"}, {-40, "°C", "-40 °C"}, {0, "V", "0 V"}, {999999, "Ω", "1 MΩ"}, {math.NaN(), "V", "not a number"}, {math.Inf(1), "V", "not a number"},
	} {
		if got := unit.Format(c.v, c.unit); got != c.want {
			t.Errorf("%v %s: got %q, want %q", c.v, c.unit, got, c.want)
		}
	}
}

func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom([]string{"Ω", "F", "H", "V", "A", "W", "Hz", "J", "m", "°C", "h", "%"}).Draw(t, "unit")
		v := math.Exp(rapid.Float64Range(-25, 18).Draw(t, "ln v"))
		text := unit.FormatDigits(v, u, 6)
		got, err := unit.Parse(text, u)
		if err != nil || math.Abs(got-v) > 1e-5*v {
			t.Fatalf("%v: %q reads %v, %v", v, text, got, err)
		}
		if again := unit.FormatDigits(got, u, 6); again != text {
			t.Fatalf("%q, then %q", text, again)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"4k7", "1,5 V", "1/4", "R", "µ", "1e9999", "--1", "0x1p4"} {
		f.Add(s, "Ω")
	}
	f.Fuzz(func(t *testing.T, s, u string) {
		v, err := unit.Parse(s, u)
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Fatalf("%q as %s: %v", s, u, v)
		}
		unit.Format(v, u)
	})
}
