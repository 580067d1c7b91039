package ecap_test

import (
	"math"
	"testing"

	"fettler/internal/part/ecap"
)

// By how much each reading moves the odds, worked from the formulas at the model in
// judge.go: ln ratio = (ln 9/0.25)·ln(r/1.5) for ESR, −40·(c − 0.8) for capacitance, no
// single one beyond 200; in circuit what speaks for the part counts half, or a third.
func TestWhatAReadingIsWorth(t *testing.T) {
	esr := func(r float64) float64 { return math.Log(9) / 0.25 * math.Log(r/1.5) }
	for name, c := range map[string]struct {
		m        ecap.Measured
		esr, cap float64 // ln of the ratios
	}{
		"ESR as when new":                  {ecap.Measured{ESR: 1, LimitESR: 1}, esr(1), 0},
		"ESR twice the limit":              {ecap.Measured{ESR: 2, LimitESR: 1}, esr(2), 0},
		"ESR ten times the limit":          {ecap.Measured{ESR: 10, LimitESR: 1}, math.Log(200), 0},
		"the same in circuit":              {ecap.Measured{ESR: 1, LimitESR: 1, InCircuit: true}, esr(1) / 2, 0},
		"bad is bad in circuit too":        {ecap.Measured{ESR: 2, LimitESR: 1, InCircuit: true}, esr(2), 0},
		"nine tenths":                      {ecap.Measured{Farad: 0.9, NominalFarad: 1}, 0, -4},
		"seven tenths":                     {ecap.Measured{Farad: 0.7, NominalFarad: 1}, 0, 4},
		"nine tenths in circuit":           {ecap.Measured{Farad: 0.9, NominalFarad: 1, InCircuit: true}, 0, -4.0 / 3},
		"far too much says nothing":        {ecap.Measured{Farad: 1.6, NominalFarad: 1}, 0, 0},
		"too much in circuit, a neighbour": {ecap.Measured{Farad: 1.6, NominalFarad: 1, InCircuit: true}, 0, -math.Log(200) / 3},
		"limit at a tenth of the meter's":  {ecap.Measured{ESR: 1, LimitESR: 1, LimitHertz: 10e3, Hertz: 100e3}, esr(1), 0},
		"limit far below the meter's":      {ecap.Measured{ESR: 1, LimitESR: 1, LimitHertz: 9e3, Hertz: 100e3}, 0, 0},
	} {
		o, err := ecap.Judge(c.m, 0.3)
		if err != nil || !near(o.RatioESR, math.Exp(c.esr), 1e-9) || !near(o.RatioC, math.Exp(c.cap), 1e-9) {
			t.Errorf("%s: ratios %v and %v, %v; want %v and %v", name, o.RatioESR, o.RatioC, err, math.Exp(c.esr), math.Exp(c.cap))
		}
		if want := 1 / (1 + 0.7/0.3*math.Exp(-c.esr-c.cap)); !near(o.Bad, want, 1e-9) {
			t.Errorf("%s: bad with %v, want %v", name, o.Bad, want)
		}
	}
}

// Of two readings that agree the weaker counts half; two that disagree count in full.
func TestTwoReadings(t *testing.T) {
	esr := func(r float64) float64 { return math.Log(9) / 0.25 * math.Log(r/1.5) }
	for _, c := range []struct{ r, c, sum float64 }{
		{2, 0.7, esr(2)/2 + 4}, {2, 0.79, esr(2) + 0.2}, {1, 0.9, esr(1)/2 - 4}, {2, 0.9, esr(2) - 4}, {1, 0.7, esr(1) + 4},
	} {
		o, err := ecap.Judge(ecap.Measured{ESR: c.r, LimitESR: 1, Farad: c.c, NominalFarad: 1}, 0.5)
		if want := 1 / (1 + math.Exp(-c.sum)); err != nil || !near(o.Bad, want, 1e-9) {
			t.Errorf("ESR %g, capacitance %g: %v, %v; want %v", c.r, c.c, o.Bad, err, want)
		}
	}
}

// The verdict turns at 10 % and at 80 %. At the end-of-life criterion a reading says
// nothing, so the prior decides.
func TestVerdict(t *testing.T) {
	for prior, want := range map[float64]string{0.05: "good as far as measured", 0.11: "doubtful", 0.79: "doubtful", 0.81: "replace"} {
		if o, err := ecap.Judge(ecap.Measured{ESR: 1.5, LimitESR: 1}, prior); err != nil || o.Verdict != want {
			t.Errorf("%g: %q, %v; want %q", prior, o.Verdict, err, want)
		}
	}
}

// The rules are not stretched: not below 35 °C, nor below 0.6 of the rated voltage.
func TestLifeIsNotStretched(t *testing.T) {
	hours := func(l ecap.Life) float64 {
		e, err := l.Expect()
		if err != nil {
			t.Fatal(err)
		}
		return e.Hours
	}
	l := ecap.Life{RatedHours: 1000, RatedC: 85, VoltageExponent: 3, VoltageRatio: 1}
	at := func(c, ratio float64) float64 { l.AmbientC, l.VoltageRatio = c, ratio; return hours(l) }
	if at(20, 1) != at(35, 1) || !near(at(35, 1), 1000*32, 1e-12) || !near(at(45, 1), 1000*16, 1e-12) {
		t.Errorf("20 °C %v, 35 °C %v, 45 °C %v h", at(20, 1), at(35, 1), at(45, 1))
	}
	if at(85, 0.5) != at(85, 0.6) || !near(at(85, 0.6), 1000/math.Pow(0.6, 3), 1e-12) || !near(at(85, 0.8), 1000/math.Pow(0.8, 3), 1e-12) {
		t.Errorf("0.5: %v, 0.6: %v, 0.8: %v h", at(85, 0.5), at(85, 0.6), at(85, 0.8))
	}
}
