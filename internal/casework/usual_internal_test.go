package casework

import "testing"

func TestUsualWords(t *testing.T) {
	for _, c := range []struct {
		prior float64
		basis string
		want  string
	}{
		{0.131, "plug fuse: 0.8 faults per million hours, 100 % of them open (judged; tired fuses that open without an overload); its class moved towards its share in repair records of Small kitchen item",
			"Of such devices that come in broken, about 13 in 100 have this. That rests on judgement and repair records of “Small kitchen item”."},
		{0.011, "judged 0.5 faults per million hours; from 3 cases here: ×1.4",
			"Of such devices that come in broken, about one in 90 has this. That rests on judgement and 3 closed cases here."},
		{0.05, "diode: 1 faults per million hours, 60 % of them short (MIL-HDBK-217F parts count, power rectifier 0.003 ×2; modes FMD-91)",
			"Of such devices that come in broken, about one in 20 has this. That rests on a handbook of part failures."},
		{0.0002, "", "Of such devices that come in broken, fewer than one in a thousand have this."},
	} {
		if got := usualWords(c.prior, c.basis); got != c.want {
			t.Errorf("%g, %q:\n got %s\nwant %s", c.prior, c.basis, got, c.want)
		}
	}
}
