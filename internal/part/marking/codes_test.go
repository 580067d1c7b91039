package marking_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"fettler/internal/part/eseries"
	"fettler/internal/part/marking"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func table(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Max(math.Abs(a), math.Abs(b)) }

func num(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every entry of IEC 60062:2016, table 1, both ways.
func TestColourTable(t *testing.T) {
	seen := 0
	for _, row := range table(t, "iec60062-colours.csv") {
		name, code, digit, exp, tol, tc := row[0], row[1], row[2], row[3], row[4], row[5]
		c, err := marking.ParseColour(name)
		if err != nil || c.Code() != code || c.String() != name {
			t.Fatalf("%s: got %v %v, %v", name, c, c.Code(), err)
		}
		if c2, err := marking.ParseColour(code); err != nil || c2 != c {
			t.Errorf("code %s: got %v, %v", code, c2, err)
		}
		if digit != "" {
			v, err := marking.DecodeBands([]marking.Colour{marking.Brown, c, marking.Black, marking.Gold})
			if err != nil || v.Ohms != 10+num(t, digit) {
				t.Errorf("%s as digit: %v, %v", name, v, err)
			}
			seen++
		} else if _, err := marking.DecodeBands([]marking.Colour{marking.Brown, c, marking.Black, marking.Gold}); err == nil {
			t.Errorf("%s was taken as a digit", name)
		}
		v, err := marking.DecodeBands([]marking.Colour{marking.Brown, marking.Red, c})
		if err != nil || !near(v.Ohms, 12*math.Pow(10, num(t, exp))) || v.Tolerance != 0.20 {
			t.Errorf("%s as multiplier: %v, %v", name, v, err)
		}
		back(t, v, 3, []marking.Colour{marking.Brown, marking.Red, c})
		cs := []marking.Colour{marking.Brown, marking.Red, marking.Black, c}
		v, err = marking.DecodeBands(cs)
		if tol == "" != (err != nil) {
			t.Errorf("%s as tolerance: %v, %v", name, v, err)
		}
		if tol != "" {
			if !near(v.Tolerance, num(t, tol)/100) {
				t.Errorf("%s as tolerance: %v", name, v)
			}
			back(t, v, 4, cs)
			seen++
		}
		cs = []marking.Colour{marking.Brown, marking.Red, marking.Black, marking.Black, marking.Brown, c}
		v, err = marking.DecodeBands(cs)
		if tc == "" != (err != nil) {
			t.Errorf("%s as temperature coefficient: %v, %v", name, v, err)
		}
		if tc != "" {
			if v.TCppm != num(t, tc) {
				t.Errorf("%s as temperature coefficient: %v", name, v)
			}
			back(t, v, 6, cs)
			seen++
		}
	}
	if seen != 10+10+9 {
		t.Errorf("checked %d entries beside multipliers, want 29", seen)
	}
}

func back(t *testing.T, v marking.Banded, bands int, want []marking.Colour) {
	t.Helper()
	got, err := marking.EncodeBands(v, bands)
	if err != nil {
		t.Errorf("encoding %v: %v", v, err)
		return
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("encoding %v (-want +got):\n%s", v, d)
	}
}

// Worked examples of a public chart of IEC 60062.
func TestBandsWorked(t *testing.T) {
	for in, want := range map[string]marking.Banded{
		"brown black red gold":         {Ohms: 1000, Tolerance: 0.05},
		"yellow violet red gold":       {Ohms: 4700, Tolerance: 0.05},
		"red red orange gold":          {Ohms: 22000, Tolerance: 0.05},
		"brown black black gold brown": {Ohms: 10, Tolerance: 0.01},
		"BNBKBKGDBN":                   {Ohms: 10, Tolerance: 0.01},
		"Yellow, purple, RD, gold":     {Ohms: 4700, Tolerance: 0.05},
		"gray RD BK gold":              {Ohms: 82, Tolerance: 0.05},
	} {
		cs, err := marking.ParseColours(in)
		if err != nil {
			t.Errorf("%s: %v", in, err)
			continue
		}
		got, err := marking.DecodeBands(cs)
		if err != nil || got != want {
			t.Errorf("%s: got %v, %v; want %v", in, got, err, want)
		}
	}
}

// Every entry of EIA-96 with every multiplier letter, both ways.
func TestEIA96(t *testing.T) {
	rows := table(t, "eia96.csv")
	if len(rows) != 96 {
		t.Fatalf("%d rows", len(rows))
	}
	letters := map[string]int{"Z": -3, "Y": -2, "R": -2, "X": -1, "S": -1, "A": 0, "B": 1, "H": 1, "C": 2, "D": 3, "E": 4, "F": 5}
	for _, row := range rows {
		for l, e := range letters {
			got, err := marking.DecodeEIA96(row[0] + l)
			if want := num(t, row[1]+"e"+strconv.Itoa(e)); err != nil || got != want {
				t.Errorf("%s%s: got %v, %v; want %v", row[0], l, got, err, want)
			}
			code, err := marking.EncodeEIA96(got)
			again, err2 := marking.DecodeEIA96(code)
			if err != nil || err2 != nil || again != got || code[:2] != row[0] {
				t.Errorf("%v Ω: code %s, %v, reads %v, %v", got, code, err, again, err2)
			}
		}
	}
	// "01Y = 0.01 Ω", found in one public data set, is wrong: it is 1 Ω.
	for code, want := range map[string]float64{"66B": 4750, "01A": 100, "01C": 10000, "68X": 49.9, "85Z": 0.75, "01Y": 1} {
		if got, err := marking.DecodeEIA96(code); err != nil || got != want {
			t.Errorf("%s: got %v, %v", code, got, err)
		}
	}
	for _, bad := range []string{"00A", "97A", "1A", "A01", "01G", "+1A", "-1A", "", "010", "01a"} {
		if v, err := marking.DecodeEIA96(bad); err == nil {
			t.Errorf("%q read as %v", bad, v)
		}
	}
}

// Letter-and-digit examples of IEC 60062 clause 4 (public encyclopaedia; the milliohm
// and millifarad ones from memory).
func TestRKM(t *testing.T) {
	for _, c := range []struct {
		code, unit string
		want       float64
	}{
		{"R47", "Ω", 0.47}, {"4R7", "Ω", 4.7}, {"470R", "Ω", 470}, {"4K7", "Ω", 4700}, {"47K", "Ω", 47e3}, {"47K3", "Ω", 47.3e3}, {"470K", "Ω", 470e3},
		{"4M7", "Ω", 4.7e6}, {"1K5", "Ω", 1500}, {"5L", "Ω", 0.005}, {"5L0", "Ω", 0.005}, {"1G", "Ω", 1e9},
		{"µ47", "F", 0.47e-6}, {"4µ7", "F", 4.7e-6}, {"47µ", "F", 47e-6}, {"p33", "F", 0.33e-12}, {"2n2", "F", 2.2e-9}, {"4m7", "F", 4.7e-3}, {"u47", "F", 0.47e-6},
		{"4R7", "H", 4.7e-6}, {"10N", "H", 10e-9},
	} {
		got, err := marking.DecodeRKM(c.code, c.unit)
		if err != nil || got != c.want {
			t.Errorf("%s %s: got %v, %v; want %v", c.code, c.unit, got, err, c.want)
		}
		code, err := marking.EncodeRKM(c.want, c.unit)
		if err != nil {
			t.Errorf("%v %s: %v", c.want, c.unit, err)
			continue
		}
		if again, err := marking.DecodeRKM(code, c.unit); err != nil || again != c.want {
			t.Errorf("%v %s written as %s reads %v, %v", c.want, c.unit, code, again, err)
		}
	}
	for want, v := range map[string]float64{"4R7": 4.7, "470R": 470, "4K7": 4700, "47K3": 47300, "R47": 0.47, "1M": 1e6} {
		if got, err := marking.EncodeRKM(v, "Ω"); err != nil || got != want {
			t.Errorf("%v Ω: got %s, %v; want %s", v, got, err, want)
		}
	}
}

// Three- and four-digit codes; the marks of the sources are in the package's notes.
func TestDigits(t *testing.T) {
	for _, c := range []struct {
		code string
		exp  int
		want float64
	}{
		{"103", 0, 10e3}, {"220", 0, 22}, {"1002", 0, 10e3}, {"4992", 0, 49.9e3},
		{"103", -12, 10e-9}, {"104", -12, 100e-9}, {"105", -12, 1e-6}, {"473", -12, 47e-9},
		{"229", -12, 2.2e-12}, {"479", -12, 4.7e-12}, {"338", -12, 0.33e-12},
		{"107", -12, 100e-6}, {"226", -12, 22e-6}, {"101", -6, 100e-6},
	} {
		got, err := marking.DecodeDigits(c.code, c.exp)
		if err != nil || got != c.want {
			t.Errorf("%s: got %v, %v; want %v", c.code, got, err, c.want)
		}
		if code, err := marking.EncodeDigits(got, c.exp, len(c.code)); err != nil || code != c.code {
			t.Errorf("%v: code %s, %v; want %s", got, code, err, c.code)
		}
	}
}

// Year letters of IEC 60062 (20-year cycle), all forty of 1990 to 2029.
func TestDateCodes(t *testing.T) {
	const letters = "ABCDEFHJKLMNPRSTUVWX"
	for i := range 40 {
		code, err := marking.EncodeYearMonth(1990+i, 5)
		if err != nil || code != string(letters[i%20])+"5" {
			t.Errorf("%d: %s, %v", 1990+i, code, err)
		}
		ds, err := marking.DecodeYearMonth(code)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, d := range ds {
			found = found || d == marking.Date{Year: 1990 + i, Month: 5}
		}
		if !found || len(ds) < 2 {
			t.Errorf("%s: %v does not show the twenty-year ambiguity", code, ds)
		}
	}
	for code, want := range map[string]marking.Date{"X5": {Year: 2009, Month: 5}, "C4": {Year: 2012, Month: 4}, "AD": {Year: 2010, Month: 12}, "RO": {Year: 2003, Month: 10}, "RN": {Year: 2003, Month: 11}} {
		ds, err := marking.DecodeYearMonth(code)
		ok := false
		for _, d := range ds {
			ok = ok || d == want
		}
		if err != nil || !ok {
			t.Errorf("%s: %v, %v", code, ds, err)
		}
	}
	if d, err := marking.DecodeYearWeek("1208"); err != nil || d != (marking.Date{Year: 2012, Week: 8}) {
		t.Errorf("1208: %v, %v", d, err)
	}
	for code, want := range map[string]int{"6901": 2069, "7001": 1970, "9952": 1999, "0001": 2000} { // the century, as the doc says
		if d, err := marking.DecodeYearWeek(code); err != nil || d.Year != want {
			t.Errorf("%s: %v, %v; want %d", code, d, err, want)
		}
	}
	for _, bad := range []string{"G5", "I1", "O1", "Q1", "Y1", "Z1", "A0", "AX", "1254", "1200"} {
		_, err1 := marking.DecodeYearMonth(bad)
		_, err2 := marking.DecodeYearWeek(bad)
		if err1 == nil || err2 == nil {
			t.Errorf("%s was read", bad)
		}
	}
}

// EIA rated-voltage codes; bold ones in the source were read, the rest from memory.
func TestVoltageCodes(t *testing.T) {
	for code, want := range map[string]float64{
		"0G": 4, "0J": 6.3, "1A": 10, "1C": 16, "1E": 25, "1V": 35, "1H": 50, "1N": 75, "2A": 100, "2D": 200, "2E": 250, "2H": 500,
		"0E": 2.5, "1J": 63, "1K": 80, "2B": 125, "2C": 160, "2V": 350, "2G": 400, "2W": 450, "2J": 630, "3A": 1000, "3D": 2000, "3F": 3150,
	} {
		if got, ok := marking.RatedVoltage(code); !ok || got != want {
			t.Errorf("%s: %v", code, got)
		}
		if back, ok := marking.EncodeRatedVoltage(want); !ok || back != code {
			t.Errorf("%v V: %s", want, back)
		}
	}
	for l, want := range map[byte]float64{'e': 2.5, 'G': 4, 'J': 6.3, 'A': 10, 'C': 16, 'D': 20, 'E': 25, 'V': 35, 'H': 50} {
		if got, ok := marking.LetterVoltage(l); !ok || got != want {
			t.Errorf("%c: %v", l, got)
		}
	}
}

// Tolerance letters: three sources agree on capacitors.
func TestToleranceLetters(t *testing.T) {
	for _, c := range []struct {
		letter byte
		value  float64
		want   string
	}{
		{'A', 1e-12, "±0.05 pF"}, {'B', 1e-12, "±0.1 pF"}, {'C', 1e-12, "±0.25 pF"}, {'D', 1e-12, "±0.5 pF"}, {'F', 1e-12, "±1 pF"}, {'F', 1e-9, "±1 %"}, {'F', 9.9e-12, "±1 pF"}, {'F', 10e-12, "±1 %"}, {'F', 47e-12, "±1 %"},
		{'G', 1e-9, "±2 %"}, {'H', 1e-9, "±3 %"}, {'J', 1e-9, "±5 %"}, {'K', 1e-9, "±10 %"}, {'M', 1e-9, "±20 %"}, {'N', 1e-9, "±30 %"},
		{'Z', 1e-9, "+80 −20 %"}, {'P', 1e-9, "+100 −0 %"}, {'T', 1e-9, "+50 −10 %"}, {'Q', 1e-9, "+30 −10 %"}, {'S', 1e-9, "+50 −20 %"},
	} {
		got, ok := marking.ToleranceLetter(c.letter, "ceramic capacitor", c.value)
		if !ok || got.String() != c.want {
			t.Errorf("%c: %s, want %s", c.letter, got, c.want)
		}
	}
	for _, tol := range []float64{0.0001, 0.0002, 0.0005, 0.001, 0.0025, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3} {
		l, ok := marking.EncodeTolerance(tol)
		got, ok2 := marking.ToleranceLetter(l, "resistor", 1000)
		if !ok || !ok2 || !near(got.High, tol) || !near(got.Low, -tol) {
			t.Errorf("%v: %c, %v", tol, l, got)
		}
	}
}

// encode then decode is the identity, over the whole range of each code.
func TestRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		series := rapid.SampledFrom([]eseries.Series{eseries.E3, eseries.E6, eseries.E12, eseries.E24, eseries.E48, eseries.E96, eseries.E192}).Draw(t, "series")
		m := rapid.SampledFrom(series.Values()).Draw(t, "mantissa")
		e := rapid.IntRange(-2, 5).Draw(t, "exponent")
		v := num64(m, e)
		digits := series.Digits() + 1
		if code, err := marking.EncodeDigits(v, 0, digits); err == nil {
			if got, err := marking.DecodeDigits(code, 0); err != nil || got != v {
				t.Fatalf("%v: %s reads %v, %v", v, code, got, err)
			}
		} else if e >= 0 {
			t.Fatalf("%v: %v", v, err)
		}
		c := num64(m, e-12)
		if code, err := marking.EncodeDigits(c, -12, 3); err == nil {
			if got, err := marking.DecodeDigits(code, -12); err != nil || got != c {
				t.Fatalf("%v F: %s reads %v, %v", c, code, got, err)
			}
		}
		for unit, x := range map[string]float64{"Ω": v, "F": c, "H": num64(m, e-8)} {
			code, err := marking.EncodeRKM(x, unit)
			if err != nil {
				t.Fatalf("%v %s: %v", x, unit, err)
			}
			if got, err := marking.DecodeRKM(code, unit); err != nil || got != x {
				t.Fatalf("%v %s: %s reads %v, %v", x, unit, code, got, err)
			}
		}
		b := marking.Banded{Ohms: v, Tolerance: rapid.SampledFrom([]float64{0.0001, 0.0002, 0.0005, 0.001, 0.0025, 0.005, 0.01, 0.02, 0.05, 0.1}).Draw(t, "tolerance"), TCppm: rapid.SampledFrom([]float64{250, 100, 50, 15, 25, 20, 10, 5, 1}).Draw(t, "tc")}
		cs, err := marking.EncodeBands(b, 6)
		if err != nil {
			if e == -2 && series.Digits() == 2 { // three digits would need a multiplier below 10⁻³… but 10⁻³ exists
				t.Fatalf("%v: %v", b, err)
			}
			t.Fatalf("%v: %v", b, err)
		}
		if got, err := marking.DecodeBands(cs); err != nil || got != b {
			t.Fatalf("%v: %v reads %v, %v", b, cs, got, err)
		}
		year, month := rapid.IntRange(1970, 2049).Draw(t, "year"), rapid.IntRange(1, 12).Draw(t, "month")
		code, _ := marking.EncodeYearMonth(year, month)
		ds, err := marking.DecodeYearMonth(code)
		found := err == nil
		for _, d := range ds {
			found = found && (d.Year-year)%20 == 0 && d.Month == month
		}
		if !found {
			t.Fatalf("%d-%d: %s reads %v", year, month, code, ds)
		}
		week := rapid.IntRange(1, 53).Draw(t, "week")
		yw, _ := marking.EncodeYearWeek(year, week)
		if d, err := marking.DecodeYearWeek(yw); err != nil || d.Year != year || d.Week != week {
			t.Fatalf("%d week %d: %s reads %v, %v", year, week, yw, d, err)
		}
	})
}

func num64(m, e int) float64 {
	v, _ := strconv.ParseFloat(strconv.Itoa(m)+"e"+strconv.Itoa(e), 64)
	return v
}
