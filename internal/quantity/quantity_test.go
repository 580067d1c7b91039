package quantity_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/quantity"
)

func TestParse(t *testing.T) {
	// Prefixes: BIPM, The International System of Units, 9th edition, table 7.
	// min, h, day: table 8. inch: 25.4 mm exactly. bar: 100 kPa.
	for _, tc := range []struct {
		text string
		want quantity.Quantity
	}{
		{"4.7 kΩ", quantity.Quantity{Value: 4700, Unit: "Ω"}},
		{"4.7kΩ", quantity.Quantity{Value: 4700, Unit: "Ω"}},
		{"4.7 k\u2126", quantity.Quantity{Value: 4700, Unit: "Ω"}}, // ohm sign
		{"220 ohm", quantity.Quantity{Value: 220, Unit: "Ω"}},
		{"1 MΩ", quantity.Quantity{Value: 1e6, Unit: "Ω"}},
		{"1 mΩ", quantity.Quantity{Value: 1e-3, Unit: "Ω"}},
		{"470 µF", quantity.Quantity{Value: 470e-6, Unit: "F"}},
		{"470 \u03bcF", quantity.Quantity{Value: 470e-6, Unit: "F"}}, // Greek mu
		{"470uF", quantity.Quantity{Value: 470e-6, Unit: "F"}},
		{"100 nF", quantity.Quantity{Value: 100e-9, Unit: "F"}},
		{"35 V", quantity.Quantity{Value: 35, Unit: "V"}},
		{"-12 V", quantity.Quantity{Value: -12, Unit: "V"}},
		{"\u221212 V", quantity.Quantity{Value: -12, Unit: "V"}}, // minus sign
		{".5 V", quantity.Quantity{Value: 0.5, Unit: "V"}},
		{"350 mA", quantity.Quantity{Value: 0.35, Unit: "A"}},
		{"12 min", quantity.Quantity{Value: 720, Unit: "s"}},
		{"1.5 h", quantity.Quantity{Value: 5400, Unit: "s"}},
		{"3 days", quantity.Quantity{Value: 259200, Unit: "s"}},
		{"8 ms", quantity.Quantity{Value: 0.008, Unit: "s"}},
		{"7.5 kg", quantity.Quantity{Value: 7.5, Unit: "kg"}},
		{"250 g", quantity.Quantity{Value: 0.25, Unit: "kg"}},
		{"8 mm", quantity.Quantity{Value: 0.008, Unit: "m"}},
		{"1 in", quantity.Quantity{Value: 0.0254, Unit: "m"}},
		{"9 bar", quantity.Quantity{Value: 9e5, Unit: "Pa"}},
		{"3.20 EUR", quantity.Quantity{Value: 3.2, Unit: "EUR"}},
		{"85 °C", quantity.Quantity{Value: 85, Unit: "°C"}},
		{"35 %", quantity.Quantity{Value: 35, Unit: "%"}},
		{"1e3 Hz", quantity.Quantity{Value: 1000, Unit: "Hz"}},
		{"42", quantity.Quantity{Value: 42}},
	} {
		got, err := quantity.Parse(tc.text)
		if err != nil || got != tc.want {
			t.Errorf("Parse(%q) = %+v, %v; want %+v", tc.text, got, err, tc.want)
		}
	}
}

func TestParseErrors(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"", "is not a value"},
		{"V", "is not a value"},
		{"NaN V", "is not a value"},
		{"Inf V", "is not a value"},
		{"-inf", "is not a value"},
		{"0x10 V", "unknown unit"},
		{"1e999 V", "too large"},
		{"1e308 kV", "too large"},
		{"3,20 EUR", "write a decimal point"},
		{"35 Volt", `unknown unit "Volt"`},
		{"35 mEUR", "unknown unit"},
		{"4.7 kk", "unknown unit"},
		{"5 mmin", "unknown unit"},
	} {
		if _, err := quantity.Parse(tc.text); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("Parse(%q): %v; want an error with %q", tc.text, err, tc.want)
		}
	}
}

func TestParseIn(t *testing.T) {
	if v, err := quantity.ParseIn("12 min", "s"); err != nil || v != 720 {
		t.Errorf("12 min in s = %g, %v", v, err)
	}
	if v, err := quantity.ParseIn("0", "A"); err != nil || v != 0 {
		t.Errorf("0 in A = %g, %v", v, err)
	}
	for _, tc := range []struct{ text, base, want string }{
		{"12 V", "s", `"12 V" is in V: expected a time, such as 12 min`},
		{"0", "°C", `"0" has no unit: expected a temperature, such as 85 °C`},
		{"12", "kg", `"12" has no unit: expected a mass, such as 7.5 kg`},
		{"12 EUR", "USD", `"12 EUR" is in EUR: expected an amount of money, such as 3.20 USD`},
	} {
		if _, err := quantity.ParseIn(tc.text, tc.base); err == nil || err.Error() != tc.want {
			t.Errorf("ParseIn(%q, %q): %v; want %q", tc.text, tc.base, err, tc.want)
		}
	}
}

func TestParseMoney(t *testing.T) {
	if q, err := quantity.ParseMoney("3.20 EUR"); err != nil || q.Value != 3.2 || q.Unit != "EUR" {
		t.Errorf("3.20 EUR = %+v, %v", q, err)
	}
	for _, bad := range []string{"-1 EUR", "3.20", "3 V", "free"} {
		if _, err := quantity.ParseMoney(bad); err == nil {
			t.Errorf("ParseMoney(%q) took it", bad)
		}
	}
}

func TestParseRange(t *testing.T) {
	for _, tc := range []struct {
		text string
		want quantity.Range
	}{
		{"30 V .. 42 V", quantity.Range{Low: 30, High: 42, Unit: "V"}},
		{"30 .. 42 V", quantity.Range{Low: 30, High: 42, Unit: "V"}},
		{"30..42V", quantity.Range{Low: 30, High: 42, Unit: "V"}},
		{"30 mV … 1 V", quantity.Range{Low: 0.03, High: 1, Unit: "V"}},
		{"-16 V .. -14 V", quantity.Range{Low: -16, High: -14, Unit: "V"}},
		{"1 kΩ .. 2 MΩ", quantity.Range{Low: 1e3, High: 2e6, Unit: "Ω"}},
		{"3 .. 5", quantity.Range{Low: 3, High: 5}},
		{"over 1 MΩ", quantity.Range{Low: 1e6, Unit: "Ω", Over: true}},
		{"under 2 V", quantity.Range{High: 2, Unit: "V", Under: true}},
	} {
		got, err := quantity.ParseRange(tc.text)
		if err != nil {
			t.Errorf("ParseRange(%q): %v", tc.text, err)
			continue
		}
		if diff := cmp.Diff(tc.want, got); diff != "" {
			t.Errorf("ParseRange(%q): (-want +got)\n%s", tc.text, diff)
		}
	}
	for _, tc := range []struct{ text, want string }{
		{"42 V", "is not a range"},
		{"42 V .. 30 V", "runs backwards"},
		{"30 V .. 30 V", "no width"},
		{"30 V .. 40 A", "both ends need the same sort of unit"},
		{"30 V ..", "is not a value"},
		{"over", "is not a range"},
		{"under NaN", "is not a value"},
	} {
		if _, err := quantity.ParseRange(tc.text); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("ParseRange(%q): %v; want an error with %q", tc.text, err, tc.want)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, tc := range []struct {
		value  float64
		unit   string
		digits int
		want   string
	}{
		{4700, "Ω", 3, "4.7 kΩ"},
		{470e-6, "F", 3, "470 µF"},
		{999.96, "V", 4, "1 kV"}, // rounding moves it to the next prefix
		{0, "V", 3, "0 V"},
		{-0.012, "A", 3, "-12 mA"},
		{720, "s", 3, "12 min"},
		{90, "s", 3, "90 s"},
		{0.25, "kg", 3, "250 g"},
		{7.5, "kg", 3, "7.5 kg"},
		{3.2, "EUR", 3, "3.20 EUR"},
		{35, "%", 3, "35 %"},
		{42, "", 3, "42"},
		{math.Inf(1), "Ω", 3, "overload"},
		{math.NaN(), "Ω", 3, "no value"},
	} {
		if got := quantity.Format(tc.value, tc.unit, tc.digits); got != tc.want {
			t.Errorf("Format(%g, %q, %d) = %q, want %q", tc.value, tc.unit, tc.digits, got, tc.want)
		}
	}
}

// What is printed is read back as the same value, to the digits printed.
func TestRoundTrip(t *testing.T) {
	bases := []string{"V", "A", "Ω", "F", "H", "Hz", "W", "J", "s", "kg", "m", "°C", "%", "rpm", "Pa", ""}
	rapid.Check(t, func(t *rapid.T) {
		q := quantity.Quantity{
			Value: rapid.Float64Range(-1, 1).Draw(t, "mantissa") * math.Pow(10, float64(rapid.IntRange(-12, 9).Draw(t, "exponent"))),
			Unit:  rapid.SampledFrom(bases).Draw(t, "unit"),
		}
		back, err := quantity.Parse(q.String())
		if err != nil {
			t.Fatalf("%+v prints as %q: %v", q, q, err)
		}
		if back.Unit != q.Unit || math.Abs(back.Value-q.Value) > 1e-5*math.Abs(q.Value) {
			t.Fatalf("%+v prints as %q, read as %+v", q, q, back)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"4.7 kΩ", "30 V .. 42 V", "over 1 MΩ", "3,2 EUR", "1e9999 V", "-", "..", "µ", "1 .. .5 V"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if q, err := quantity.Parse(s); err == nil {
			if math.IsNaN(q.Value) || math.IsInf(q.Value, 0) {
				t.Fatalf("Parse(%q) = %v", s, q.Value)
			}
			back, err := quantity.Parse(q.String())
			if err != nil || back.Unit != q.Unit {
				t.Fatalf("%q prints as %q, read as %+v, %v", s, q, back, err)
			}
		}
		if r, err := quantity.ParseRange(s); err == nil {
			if math.IsNaN(r.Low+r.High) || math.IsInf(r.Low, 0) || math.IsInf(r.High, 0) || !r.Over && !r.Under && r.Low >= r.High {
				t.Fatalf("ParseRange(%q) = %+v", s, r)
			}
		}
	})
}

// A power of ten is no figure a bench reads.
func TestPlain(t *testing.T) {
	for want, v := range map[string]float64{"2200": 2200, "2100": 2099.6, "0.125": 0.125, "15": 14.99, "0": 0, "no value": math.NaN(), "-325": -325.2} {
		if got := quantity.Plain(v, 3); got != want {
			t.Errorf("%v is printed as %q, want %q", v, got, want)
		}
	}
}
