package discharge_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fettler/internal/part"
	"fettler/internal/part/discharge"
	"fettler/internal/part/eseries"

	"pgregory.net/rapid"
)

const mainsPeak = 325.26911934581187 // 230·√2

func near(a, b, rel float64) bool { return math.Abs(a-b) <= rel*math.Abs(b) }

func ExampleMake() {
	p, err := discharge.Make(discharge.Charge{Farad: 470e-6, Volts: 325})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f J; %g Ω, %g W; %.1f s to %g V\n", p.Joules, p.Ohms, p.RatedWatts, p.Seconds, p.EndAt)
	// Output: 24.8 J; 5600 Ω, 5 W; 4.4 s to 60 V
}

// Worked values computed from the equations, to the digits printed.
func TestWorked(t *testing.T) {
	for _, c := range []struct{ farad, v, sec, ohms float64 }{
		{0.33e-6, 60, 2, 3.585e6}, {1e-6, 60, 2, 1.183e6}, {1e-6, 34, 1, 442.8e3}, {0.47e-6, 34, 1, 942.2e3},
	} {
		r, err := discharge.MaxOhms(c.farad, mainsPeak, c.v, c.sec)
		if err != nil || !near(r, c.ohms, 2e-4) {
			t.Errorf("%g F to %g V in %g s: %v, %v; want %v", c.farad, c.v, c.sec, r, err, c.ohms)
		}
	}
	p, err := discharge.Make(discharge.Charge{Farad: 470e-6, Volts: mainsPeak, Ohms: 2000, EndAt: 60})
	if err != nil || !near(p.Joules, 24.86, 1e-3) || !near(p.Seconds, 1.589, 1e-3) || !near(p.PeakAmps, 0.1626, 1e-3) || !near(p.PeakWatts, 52.9, 1e-3) {
		t.Errorf("470 µF through 2 kΩ: %+v, %v", p, err)
	}
	if s, _ := discharge.Seconds(470e-6, 2000, mainsPeak, 42.4); !near(s, 1.915, 1e-3) {
		t.Errorf("to 42.4 V: %v s", s)
	}
	if e, _ := discharge.Energy(330e-6, 325); !near(e, 17.43, 1e-3) {
		t.Errorf("330 µF at 325 V: %v J", e)
	}
	if s, _ := discharge.Seconds(330e-6, 220e3, 325, 60); !near(s, 122.7, 1e-3) {
		t.Errorf("330 µF, 220 kΩ: %v s", s)
	}
	for _, c := range []struct{ uF, v, joule float64 }{
		{0.47, 325, 0.0248}, {10, 400, 0.8}, {150, 330, 8.17}, {100, 400, 8.0}, {470, 400, 37.6}, {1, 2100, 2.205},
	} {
		if e, err := discharge.Energy(c.uF*1e-6, c.v); err != nil || !near(e, c.joule, 2e-3) {
			t.Errorf("%g µF at %g V: %v J, %v; want %v", c.uF, c.v, e, err, c.joule)
		}
	}
}

// IEC 62368-1 table 5, from memory: every entry, and that the mark says so.
func TestTouchTable(t *testing.T) {
	es1 := []float64{60, 75, 100, 125, 150, 200, 250, 350, 500, 1000, 2500, 5000, 10000, 20000, 25000}
	es2 := []float64{120, 150, 200, 250, 300, 400, 500, 700, 1000, 2000, 5000, 10000, 20000, 40000, 50000}
	for i, nF := range []float64{300, 170, 91, 61, 41, 28, 18, 12, 8, 4, 1.6, 0.8, 0.4, 0.2, 0.133} {
		a, b, src, err := discharge.TouchVolts(nF * 1e-9)
		if err != nil || a != es1[i] || b != es2[i] || src.Mark != part.Memory {
			t.Errorf("%g nF: %v, %v, %v, %v", nF, a, b, src, err)
		}
	}
	if a, _, _, _ := discharge.TouchVolts(470e-6); a != 60 {
		t.Errorf("470 µF: %v", a)
	}
	if a, _, _, _ := discharge.TouchVolts(171e-9); a != 60 {
		t.Errorf("171 nF takes the safer, larger entry: %v", a)
	}
}

// 0.1 J, 0.25 J and 10 J of the laboratory leaflet.
func TestLimits(t *testing.T) {
	over := func(c, v float64) string {
		ls, err := discharge.Limits(c, v)
		if err != nil {
			t.Fatal(err)
		}
		s := ""
		for _, l := range ls {
			if l.Source.Mark == "" || !strings.Contains(l.String(), string(l.Source.Mark)) {
				t.Errorf("%v shows no mark of trust", l)
			}
			if l.Over {
				s += l.Name + ";"
			}
		}
		return s
	}
	if s := over(470e-6, 325); !strings.Contains(s, "lethal") || !strings.Contains(s, "class 2") {
		t.Errorf("470 µF at 325 V: %s", s)
	}
	if s := over(0.47e-6, 325); strings.Contains(s, "servicing") || !strings.Contains(s, "class 2") {
		t.Errorf("0.47 µF at 325 V: %s", s)
	}
	if s := over(1000e-6, 25); strings.Contains(s, "class") {
		t.Errorf("1000 µF at 25 V: %s", s)
	}
}

// The household rule needs 442.8 kΩ for 1 µF, and does not apply up to 0.1 µF.
func TestPlugPins(t *testing.T) {
	for ohms, over := range map[float64]bool{440e3: false, 446e3: true} {
		ls, err := discharge.PlugPins(1e-6, ohms, mainsPeak)
		if err != nil || len(ls) != 2 || ls[0].Over != over || ls[1].Over {
			t.Errorf("1 µF, %g Ω: %v, %v", ohms, ls, err)
		}
	}
	ls, err := discharge.PlugPins(0.1e-6, 10e6, mainsPeak)
	if err != nil || len(ls) != 1 {
		t.Errorf("0.1 µF: %v, %v", ls, err)
	}
}

func TestNoGuideAboveAKilovolt(t *testing.T) {
	p, err := discharge.Make(discharge.Charge{Farad: 1e-6, Volts: 2100})
	if err != nil || p.Ohms != 0 || len(p.Steps) != 1 || !strings.Contains(p.Steps[0], "trained") {
		t.Errorf("%+v, %v", p, err)
	}
}

// A suggestion is an E12 value that stands its peak, and is quick unless the
// peak forbids it.
func TestSuggestion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := math.Pow(10, rapid.Float64Range(-9, -2).Draw(t, "log C"))
		v := rapid.Float64Range(2, 1000).Draw(t, "V")
		p, err := discharge.Make(discharge.Charge{Farad: c, Volts: v})
		if err != nil {
			if p.Joules > 2000 || 0.5*c*v*v > 500 {
				return
			}
			t.Fatal(err)
		}
		if !eseries.E12.Contains(p.Ohms) || p.PeakWatts > 10*p.RatedWatts*(1+1e-9) || p.PeakWatts > 100*(1+1e-9) || p.Pieces < 1 {
			t.Fatalf("%+v", p)
		}
		slow, _ := discharge.Seconds(c, v*v/100*1.25, v, p.EndAt)
		if p.Seconds > 5*(1+1e-9) && p.Seconds > slow && p.Ohms > 10 {
			t.Fatalf("%g s is slower than the peak asks for: %+v", p.Seconds, p)
		}
		left, err := discharge.VoltsAfter(c, p.Ohms, v, p.Seconds)
		if err != nil || !near(left, math.Min(v, p.EndAt), 1e-9) {
			t.Fatalf("%v V left, want %v", left, p.EndAt)
		}
	})
}

func TestBadInput(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64()
		c := discharge.Charge{f.Draw(t, "C"), f.Draw(t, "V"), f.Draw(t, "end"), f.Draw(t, "s"), f.Draw(t, "R")}
		p, err := discharge.Make(c)
		for _, x := range []float64{p.Joules, p.EndAt, p.Ohms, p.RatedWatts, p.PeakAmps, p.PeakWatts, p.Heat, p.Seconds, p.ToOneVolt} {
			if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Fatalf("%+v: %+v", c, p)
			}
		}
	})
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, err := discharge.Make(discharge.Charge{Farad: bad, Volts: 100}); err == nil {
			t.Errorf("%v F was planned for", bad)
		}
		if _, err := discharge.MaxOhms(bad, 100, 10, 1); err == nil {
			t.Errorf("%v F has a largest resistance", bad)
		}
		if _, _, _, err := discharge.TouchVolts(bad); err == nil {
			t.Errorf("%v F has a touch voltage", bad)
		}
	}
}

// A resistor of one's own that draws too much is refused for that reason: 400 V / 10 Ω = 40 A.
func TestAResistorTooSmall(t *testing.T) {
	_, err := discharge.Make(discharge.Charge{Farad: 150e-6, Volts: 400, Ohms: 10})
	if err == nil || !strings.Contains(err.Error(), "40 A") || !strings.Contains(err.Error(), "10 kΩ") || strings.Contains(err.Error(), "No usual") {
		t.Errorf("%v", err)
	}
	p, err := discharge.Make(discharge.Charge{Farad: 150e-6, Volts: 400})
	if err != nil || p.Pieces != 2 || !strings.Contains(strings.Join(p.Steps, " "), "2 of 4.7 kΩ, 5 W each in series") {
		t.Errorf("%+v, %v", p, err)
	}
	for n := 1; n < 5; n++ {
		if ohms, watts := discharge.Each(10e3, 10, n); !near(ohms*float64(n), 10e3, 0.11) || watts < 5 || watts*float64(n) < 10 {
			t.Errorf("%d pieces of %g Ω, %g W", n, ohms, watts)
		}
	}
}
