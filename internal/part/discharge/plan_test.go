package discharge_test

import (
	"strings"
	"testing"

	"fettler/internal/part/discharge"
)

// How long to hold the resistor on is what keeps hands safe: until 1 V, and three times as
// long as it takes to the voltage told. t = RC·ln(V0/V): 5.6 kΩ and 470 µF from 325 V are
// at 1 V after 2.632 s · 5.784 = 15.2 s; 1.5 kΩ and 1000 µF from 25 V after 4.83 s, so 14.5 s.
func TestHeldLongEnough(t *testing.T) {
	for want, c := range map[string]discharge.Charge{
		"for 15 s; it falls to 60 V in 4.4 s": {Farad: 470e-6, Volts: 325},
		"for 14 s; it falls to 1 V in 4.8 s":  {Farad: 1000e-6, Volts: 25},
		"for 14 s; it falls to 1 V in 4.7 s":  {Farad: 470e-6, Volts: -25, Ohms: 3.1e3},
	} {
		p, err := discharge.Make(c)
		if err != nil || !strings.Contains(strings.Join(p.Steps, "\n"), want) {
			t.Errorf("%+v: %q, %v; want %q", c, p.Steps, err, want)
		}
	}
}

// The rating takes the peak at ten times overload and the energy in ten seconds, the peak at
// twice overload if it lasts over 30 s, and is 5 W or more above 60 V.
func TestRating(t *testing.T) {
	for name, c := range map[string]struct {
		discharge.Charge
		watts float64
	}{
		"the peak: 50²/100 = 25 W":               {discharge.Charge{Farad: 1e-6, Volts: 50, Ohms: 100}, 3},
		"the energy: 125 J":                      {discharge.Charge{Farad: 0.1, Volts: 50}, 17},
		"it lasts 33 s: 60²/500 = 7.2 W":         {discharge.Charge{Farad: 16e-3, Volts: 60, Ohms: 500}, 5},
		"the same for 20 s: 28.8 J":              {discharge.Charge{Farad: 10e-3, Volts: 60, Ohms: 500}, 2},
		"a sturdy body above 60 V":               {discharge.Charge{Farad: 1e-6, Volts: 61, Ohms: 10e3}, 5},
		"no need of one: 1 µF at 60 V, 0.0018 J": {discharge.Charge{Farad: 1e-6, Volts: 60, Ohms: 10e3}, 0.5},
	} {
		p, err := discharge.Make(c.Charge)
		if err != nil || p.RatedWatts != c.watts {
			t.Errorf("%s: %g W, %v; want %g W", name, p.RatedWatts, err, c.watts)
		}
	}
}

// Up to 1000 V there is a procedure, above there is none.
func TestWhereTheGuideEnds(t *testing.T) {
	for volts, guided := range map[float64]bool{999: true, 1000: true, 1001: false, -1001: false} {
		p, err := discharge.Make(discharge.Charge{Farad: 1e-6, Volts: volts})
		if err != nil || (p.Ohms > 0) != guided {
			t.Errorf("%g V: %+v, %v", volts, p, err)
		}
	}
	// a piece stands 350 V (common practice, no source)
	for volts, pieces := range map[float64]int{350: 1, 351: 2, 700: 2, 701: 3, 1000: 3} {
		if p, err := discharge.Make(discharge.Charge{Farad: 10e-6, Volts: volts}); err != nil || p.Pieces != pieces {
			t.Errorf("%g V: %d pieces, %v; want %d", volts, p.Pieces, err, pieces)
		}
	}
}

// NFPA 70E-2021, 360.3 (from memory): hazardous above 100 J below 100 V, 1 J from 100 V to
// 400 V, 0.25 J above.
func TestElectricalSafetyThreshold(t *testing.T) {
	for volts, joules := range map[float64]float64{99: 100, 100: 1, 400: 1, 401: 0.25, -401: 0.25} {
		ls, err := discharge.Limits(1e-6, volts)
		if err != nil {
			t.Fatal(err)
		}
		if l := ls[len(ls)-1]; !strings.Contains(l.Name, "electrical-safety") || l.Value != joules {
			t.Errorf("%g V: %v, want %g J", volts, l, joules)
		}
	}
}
