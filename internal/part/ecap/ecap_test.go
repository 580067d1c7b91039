package ecap_test

import (
	"fmt"
	"math"
	"testing"

	"fettler/internal/part/ecap"

	"pgregory.net/rapid"
)

func near(a, b, rel float64) bool { return math.Abs(a-b) <= rel*math.Abs(b) }

func ExampleJudge() {
	limit, _ := ecap.MaxESR(ecap.Ordinary, 1000e-6, 25)
	o, err := ecap.Judge(ecap.Measured{ESR: 0.9, LimitESR: limit, Farad: 610e-6, NominalFarad: 1000e-6}, 0.3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %.0f %%\n", o.Verdict, 100*o.Bad)
	fmt.Println(o.Words[0])
	// Output:
	// replace, 100 %
	// ESR 900 mΩ is 4.8 times the most when new (end of life is usually 1.5 times)
}

// Worked life examples, computed from the makers' equations.
func TestLifeWorked(t *testing.T) {
	for _, c := range []struct {
		name string
		l    ecap.Life
		want float64
	}{
		{"2000 h/105 °C at 65 °C", ecap.Life{RatedHours: 2000, RatedC: 105, AmbientC: 65}, 32000},
		{"the same with a rise of 5 K", ecap.Life{RatedHours: 2000, RatedC: 105, AmbientC: 65, RiseK: 5}, 16000},
		{"2000 h/85 °C at 45 °C", ecap.Life{RatedHours: 2000, RatedC: 85, AmbientC: 45}, 32000},
		{"rated with 5 K of ripple, run with 10 K", ecap.Life{RatedHours: 2000, RatedC: 105, AmbientC: 65, RiseK: 10, RatedRiseK: 5}, 16000},
	} {
		e, err := c.l.Expect()
		if err != nil || !near(e.Hours, c.want, 1e-12) {
			t.Errorf("%s: %v, %v; want %v", c.name, e.Hours, err, c.want)
		}
	}
	e, err := ecap.Life{RatedHours: 5000, RatedC: 105, AmbientC: 40}.Expect()
	if err != nil || e.StatedHours != ecap.CapHours || len(e.Notes) == 0 {
		t.Errorf("more than 15 years stated: %+v, %v", e, err)
	}
	// (0.8)^−4.4: the exponent is from memory, the arithmetic is not.
	e, err = ecap.Life{RatedHours: 2000, RatedC: 105, AmbientC: 105, VoltageRatio: 0.8, VoltageExponent: 4.4}.Expect()
	if err != nil || !near(e.Voltage, 2.669, 1e-3) {
		t.Errorf("voltage factor %v, %v", e.Voltage, err)
	}
}

// 12.5 × 20 mm, 1 A rms in 0.1 Ω, β = 2.05 mW/(K·cm²): S = 9.08 cm², ΔT = 5.4 K.
func TestSelfHeatingWorked(t *testing.T) {
	dt, err := ecap.SelfHeating(1, 0.1, 12.5e-3, 20e-3, 20.5)
	if err != nil || math.Abs(dt-5.4) > 0.05 {
		t.Errorf("ΔT = %v, %v; want 5.4", dt, err)
	}
	if _, err := ecap.SelfHeating(1, 0.1, 12.5, 20, 0); err == nil {
		t.Error("millimetres were taken as metres")
	}
}

// ESR limits at 120 Hz computed from a maker's tan δ table, to the digits printed.
func TestESRWorked(t *testing.T) {
	for _, c := range []struct{ uF, v, tan, esr float64 }{
		{100, 6.3, 0.22, 2.918}, {470, 50, 0.10, 0.2822}, {1000, 16, 0.16, 0.2122}, {1000, 25, 0.14, 0.1857}, {2200, 35, 0.14, 0.0844}, {4700, 16, 0.22, 0.0621},
	} {
		tan, err := ecap.TanDelta(ecap.Ordinary, c.uF*1e-6, c.v)
		esr, err2 := ecap.MaxESR(ecap.Ordinary, c.uF*1e-6, c.v)
		if err != nil || err2 != nil || !near(tan, c.tan, 1e-12) || !near(esr, c.esr, 1e-3) {
			t.Errorf("%g µF %g V: tan δ %v, ESR %v; want %v, %v (%v, %v)", c.uF, c.v, tan, esr, c.tan, c.esr, err, err2)
		}
	}
}

// The whole published tan δ table, three series.
func TestTanTable(t *testing.T) {
	volts := []float64{6.3, 10, 16, 25, 35, 50, 63, 100, 160, 200, 250, 350, 400, 450}
	for g, row := range [][]float64{
		{0.22, 0.19, 0.16, 0.14, 0.12, 0.10, 0.09, 0.08, 0.16, 0.18, 0.18, 0.20, 0.20, 0.20},
		{0.28, 0.24, 0.20, 0.16, 0.14, 0.12, 0.10, 0.08, 0.20, 0.20, 0.20, 0.25, 0.25, 0.25},
		{0.24, 0.20, 0.17, 0.15, 0.14, 0.12, 0, 0.10, 0, 0, 0, 0, 0, 0},
	} {
		for i, want := range row {
			got, err := ecap.TanDelta(ecap.Grade(g), 100e-6, volts[i])
			if (want == 0) != (err != nil) || got != want {
				t.Errorf("grade %d, %g V: %v, %v; want %v", g, volts[i], got, err, want)
			}
		}
	}
}

// At the published end-of-life criteria a reading says nothing; it speaks
// against a part beyond, for it before; the order never turns.
func TestJudge(t *testing.T) {
	o, err := ecap.Judge(ecap.Measured{ESR: 1.5, LimitESR: 1}, 0.3)
	if err != nil || !near(o.Bad, 0.3, 1e-9) {
		t.Errorf("at 150 %%: %v, %v", o.Bad, err)
	}
	o, err = ecap.Judge(ecap.Measured{Farad: 0.8e-3, NominalFarad: 1e-3}, 0.3)
	if err != nil || !near(o.Bad, 0.3, 1e-9) {
		t.Errorf("at −20 %%: %v, %v", o.Bad, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		prior := rapid.Float64Range(0.01, 0.99).Draw(t, "prior")
		r1 := rapid.Float64Range(0.01, 50).Draw(t, "r1")
		r2 := rapid.Float64Range(0.01, 50).Draw(t, "r2")
		c := rapid.Float64Range(0.05, 1.4).Draw(t, "c")
		in := rapid.Bool().Draw(t, "in circuit")
		a, err1 := ecap.Judge(ecap.Measured{ESR: min(r1, r2), LimitESR: 1, Farad: c, NominalFarad: 1, InCircuit: in}, prior)
		b, err2 := ecap.Judge(ecap.Measured{ESR: max(r1, r2), LimitESR: 1, Farad: c, NominalFarad: 1, InCircuit: in}, prior)
		if err1 != nil || err2 != nil || a.Bad > b.Bad+1e-12 || !(a.Bad >= 0) || !(b.Bad <= 1) {
			t.Fatalf("ESR %v: %v; ESR %v: %v", min(r1, r2), a.Bad, max(r1, r2), b.Bad)
		}
		// Parallel parts hide a bad one: in circuit a reading in favour is weaker.
		free, _ := ecap.Judge(ecap.Measured{ESR: r1, LimitESR: 1}, prior)
		tied, _ := ecap.Judge(ecap.Measured{ESR: r1, LimitESR: 1, InCircuit: true}, prior)
		if tied.Bad < free.Bad-1e-12 {
			t.Fatalf("in circuit %v is surer than free %v", tied.Bad, free.Bad)
		}
	})
	// A 120 Hz limit cannot clear a part measured at 100 kHz, but can convict it.
	o, _ = ecap.Judge(ecap.Measured{ESR: 0.1, LimitESR: 0.2, LimitHertz: 120, Hertz: 1e5}, 0.4)
	if !near(o.Bad, 0.4, 1e-9) {
		t.Errorf("cleared by the wrong limit: %v", o.Bad)
	}
	o, _ = ecap.Judge(ecap.Measured{ESR: 1, LimitESR: 0.2, LimitHertz: 120, Hertz: 1e5}, 0.4)
	if o.Bad < 0.9 {
		t.Errorf("five times the limit: %v", o.Bad)
	}
}

func TestCompare(t *testing.T) {
	pts, err := ecap.Compare(ecap.Life{RatedHours: 2000, RatedC: 85}, ecap.Life{RatedHours: 5000, RatedC: 105}, 40, 80, 5)
	if err != nil || len(pts) != 5 {
		t.Fatalf("%v, %v", pts, err)
	}
	for i, p := range pts {
		if !near(p.Ratio, 2.5*4, 1e-12) || p.AmbientC != 40+10*float64(i) || p.OldYears > 15 || p.NewYears > 15 {
			t.Errorf("%+v: ten times the life is wanted", p)
		}
	}
	if !near(pts[4].OldYears, 2000*math.Sqrt2/8766, 1e-9) {
		t.Errorf("at 80 °C: %+v", pts[4])
	}
}

// Bad input is an error, never NaN.
func TestBadInput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64()
		e, err := ecap.Life{f.Draw(t, "a"), f.Draw(t, "b"), f.Draw(t, "c"), f.Draw(t, "d"), f.Draw(t, "e"), f.Draw(t, "f"), f.Draw(t, "g"), f.Draw(t, "h")}.Expect()
		if err == nil && (math.IsNaN(e.Hours) || math.IsInf(e.Hours, 0)) {
			t.Fatalf("%+v", e)
		}
		o, err := ecap.Judge(ecap.Measured{Farad: f.Draw(t, "C"), NominalFarad: f.Draw(t, "Cn"), ESR: f.Draw(t, "R"), LimitESR: f.Draw(t, "Rl")}, f.Draw(t, "p"))
		if err == nil && !(o.Bad >= 0 && o.Bad <= 1) {
			t.Fatalf("%+v", o)
		}
	})
	for _, v := range []float64{math.NaN(), math.Inf(1), -1, 0} {
		if _, err := ecap.MaxESR(ecap.Ordinary, v, 25); err == nil {
			t.Errorf("a capacitance of %v has a limit", v)
		}
		if _, err := ecap.Judge(ecap.Measured{ESR: 1, LimitESR: 1}, v); err == nil {
			t.Errorf("a prior of %v was taken", v)
		}
	}
}
