package marking_test

import (
	"fmt"
	"testing"

	"fettler/internal/part"
	"fettler/internal/part/marking"

	"pgregory.net/rapid"
)

// Every class-2 dielectric code of EIA-198 (from memory), and C0G in its four spellings.
func TestDielectrics(t *testing.T) {
	low := map[string]float64{"X": -55, "Y": -30, "Z": 10}
	high := map[string]float64{"4": 65, "5": 85, "6": 105, "7": 125, "8": 150}
	for l, lo := range low {
		for h, hi := range high {
			for _, d := range []string{"P", "R", "S", "T", "U", "V"} {
				first(t, l+h+d, part.Ceramic, func(r marking.Reading) bool {
					return r.Dielectric == l+h+d && r.TempMinC == lo && r.TempMaxC == hi
				})
			}
		}
	}
	for _, c := range []string{"C0G", "COG", "NP0", "NPO"} {
		first(t, c, part.Ceramic, func(r marking.Reading) bool { return r.TempMinC == -55 && r.TempMaxC == 125 })
	}
}

// Every suppression class, alone, with a value, and as the pair printed on dual-rated
// parts (IEC 60384-14, from memory).
func TestSuppressionClasses(t *testing.T) {
	for _, c := range []string{"X1", "X2", "X3", "Y1", "Y2", "Y4"} {
		first(t, c, part.Suppression, func(r marking.Reading) bool { return r.Class == c && len(r.Cautions) > 0 })
		first(t, c+" 222M 250V~", part.Suppression, func(r marking.Reading) bool {
			return r.Class == c && near(r.Value, 2.2e-9) && r.VoltsAC == 250 && r.TolHigh == 0.2
		})
	}
	first(t, "X1Y1 102M", part.Suppression, func(r marking.Reading) bool { return r.Class == "X1Y1" && near(r.Value, 1e-9) })
}

func first(t *testing.T, text string, k part.Kind, ok func(marking.Reading) bool) {
	t.Helper()
	rs, err := marking.Read(text, marking.Hint{})
	if err != nil || rs[0].Kind != k || !ok(rs[0]) {
		t.Errorf("%s: %+v, %v", text, rs, err)
	}
}

// What EncodeFuse writes, Read reads back as that fuse first (order of IEC 60127-1, from
// memory).
func TestFuseRoundTrip(t *testing.T) {
	amps := []float64{0.032, 0.04, 0.05, 0.063, 0.08, 0.1, 0.125, 0.16, 0.2, 0.25, 0.315, 0.4, 0.5, 0.63, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10}
	for _, a := range amps {
		for _, speed := range []string{"FF", "F", "M", "T", "TT"} {
			for _, brk := range []string{"", "L", "E", "H"} {
				for _, volts := range []float64{0, 125, 250} {
					text, err := marking.EncodeFuse(a, volts, speed, brk)
					if err != nil {
						t.Fatal(err)
					}
					first(t, text, part.Fuse, func(r marking.Reading) bool {
						return near(r.Amps, a) && r.Speed == speed && r.Breaking == brk && r.VoltsAC == volts
					})
				}
			}
		}
	}
	if s, err := marking.EncodeFuse(1, 250, "S", ""); err == nil {
		t.Errorf("S is a speed letter: %s", s)
	}
}

// A resistor's bands read, in either direction, give its value among the
// readings; typed in order and in its own series, they give it first.
func TestBandsAreFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom([]int{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}).Draw(t, "E12")
		v := num64(m, rapid.IntRange(-1, 5).Draw(t, "exponent"))
		cs, err := marking.EncodeBands(marking.Banded{Ohms: v, Tolerance: 0.05}, 4)
		if err != nil {
			t.Fatal(err)
		}
		text, back := "", ""
		for _, c := range cs {
			text, back = text+" "+c.Code(), c.String()+" "+back
		}
		for _, typed := range []string{text, back} {
			rs, err := marking.Read(typed, marking.Hint{})
			if err != nil || rs[0].Value != v || rs[0].Kind != part.Resistor {
				t.Fatalf("%s: %v, %v; want %v", typed, rs, err, v)
			}
		}
	})
}

// Thermal-links, varistors and crystals: the figures come back (from memory, trade codes).
func TestTradeCodes(t *testing.T) {
	for _, c := range []float64{72, 77, 98, 117, 121, 128, 133, 139, 144, 152, 157, 167, 172, 184, 192, 216, 229, 240, 257} {
		first(t, fmt.Sprintf("TF%g", c), part.ThermalFuse, func(r marking.Reading) bool { return r.Value == c })
		first(t, fmt.Sprintf("TF %g°C 15A 250V", c), part.ThermalFuse, func(r marking.Reading) bool { return r.Value == c && r.Amps == 15 && r.VoltsAC == 250 })
	}
	for _, d := range []int{5, 7, 10, 14, 20} {
		for code, v := range map[string]float64{"221": 220, "391": 390, "431": 430, "471": 470, "561": 560, "102": 1000} {
			first(t, fmt.Sprintf("%02dD%sK", d, code), part.Varistor, func(r marking.Reading) bool { return r.Value == v && r.DiscMM == float64(d) })
		}
	}
	for _, mhz := range []string{"3.579545", "4.433619", "11.0592", "12.288", "14.31818", "24.576"} {
		first(t, mhz+"MHz", part.Crystal, func(r marking.Reading) bool { return near(r.Value, num(t, mhz)*1e6) })
	}
}
