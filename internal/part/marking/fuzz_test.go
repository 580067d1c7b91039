package marking_test

import (
	"math"
	"testing"

	"fettler/internal/part"
	"fettler/internal/part/marking"
)

func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"yellow violet red gold", "BNBKRDGD", "103", "66B", "4R7", "2A104J", "1000µF 25V 105°C", "T3.15AH250V", "X2 0.33µF 275V~", "C106", "14K275",
		"10D471K", "16.000", "5V1", "TF 152°C 10A", "?03", "b?r", "X7R", "-40/105°C", "1,5", "E", "01R", "100E", "--", "0.0", "000V", "A11",
	} {
		f.Add(s, 0.0, 0.0, false, "")
	}
	f.Fuzz(func(t *testing.T, s string, lo, hi float64, burnt bool, kind string) {
		rs, err := marking.Read(s, marking.Hint{Min: lo, Max: hi, Burnt: burnt, Kind: part.Kind(kind), Year: 2026})
		if err != nil {
			if err.Error() == "" || rs != nil {
				t.Fatal("an error must be a sentence and come alone")
			}
			return
		}
		if len(rs) == 0 {
			t.Fatal("no reading and no error")
		}
		sane(t, s, rs)
	})
}

// Whatever a decoder accepts is finite and encodes to something that reads the same.
func FuzzDecoders(f *testing.F) {
	for _, s := range []string{"103", "4702", "66B", "4R7", "2n2", "10N", "X5", "1208", "BNBKRDGD", "1H", "T2A"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if v, err := marking.DecodeEIA96(s); err == nil {
			code, err := marking.EncodeEIA96(v)
			if again, err2 := marking.DecodeEIA96(code); err != nil || err2 != nil || again != v {
				t.Fatalf("%q: %v, %q, %v", s, v, code, again)
			}
		}
		for _, u := range []string{"Ω", "F", "H"} {
			if v, err := marking.DecodeRKM(s, u); err == nil {
				finite(t, s, v)
				if code, err := marking.EncodeRKM(v, u); err == nil {
					if again, err := marking.DecodeRKM(code, u); err != nil || math.Abs(again-v) > 1e-9*v {
						t.Fatalf("%q: %v, %q, %v, %v", s, v, code, again, err)
					}
				}
			}
		}
		for _, e := range []int{0, -6, -12} {
			if v, err := marking.DecodeDigits(s, e); err == nil {
				finite(t, s, v)
				if code, err := marking.EncodeDigits(v, e, len(s)); err == nil {
					if again, err := marking.DecodeDigits(code, e); err != nil || again != v {
						t.Fatalf("%q: %v, %q, %v, %v", s, v, code, again, err)
					}
				}
			}
		}
		if ds, err := marking.DecodeYearMonth(s); err == nil {
			for _, d := range ds {
				if code, err := marking.EncodeYearMonth(d.Year, d.Month); err != nil || code != s {
					t.Fatalf("%q: %v, %q", s, d, code)
				}
			}
		}
		if d, err := marking.DecodeYearWeek(s); err == nil {
			if code, err := marking.EncodeYearWeek(d.Year, d.Week); err != nil || code != s {
				t.Fatalf("%q: %v, %q", s, d, code)
			}
		}
		if cs, err := marking.ParseColours(s); err == nil {
			if v, err := marking.DecodeBands(cs); err == nil {
				finite(t, s, v.Ohms)
			}
		}
	})
}

func finite(t *testing.T, s string, v float64) {
	t.Helper()
	if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
		t.Fatalf("%q: %v", s, v)
	}
}
