package web

import "testing"

// A figure beside an axis has three digits and no power of ten.
func TestTickPlain(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 1e-14: "0", 0.25: "0.25", 12.34: "12.3", 999.4: "999", 999.5: "1000", 999.9: "1000", 1000: "1000", 123456: "123456", -999.7: "-1000"} {
		if got := tickPlain(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
}
