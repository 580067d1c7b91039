package ledger_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"fettler/internal/ledger"
)

// Worked by hand: 0.8 stated five times, came four; 0.3 stated five times, came two.
// Reliability ½·0² + ½·0.1² = 0.005; base rate 0.6, resolution ½·0.2² + ½·0.2² = 0.04;
// uncertainty 0.24; so the Brier score is 0.205 (Murphy 1973: three terms).
func TestCalibrationByHand(t *testing.T) {
	var said []ledger.Saying
	for i := range 5 {
		said = append(said, ledger.Saying{P: 0.8, Came: i < 4}, ledger.Saying{P: 0.3, Came: i < 2})
	}
	got, err := ledger.Calibrate(said, 0)
	if err != nil {
		t.Fatal(err)
	}
	want := ledger.Calibration{N: 10, BaseRate: 0.6, Brier: 0.205, Reliability: 0.005, Resolution: 0.04, Uncertainty: 0.24,
		Skill: 1 - 0.205/0.24, Bins: []ledger.Bin{
			// Clopper–Pearson 90 % for 2 and 4 of 5: 0.0764…0.8107 and 0.3426…0.9898 (published tables of binomial limits, from memory)
			{From: 0.3, To: 0.4, N: 5, Stated: 0.3, Came: 0.4, Low: 0.0764, High: 0.8107},
			{From: 0.8, To: 0.9, N: 5, Stated: 0.8, Came: 0.8, Low: 0.3426, High: 0.9898}}}
	if d := cmp.Diff(want, got, cmpopts.EquateApprox(0, 1e-4)); d != "" {
		t.Errorf("(-want +got)\n%s", d)
	}
}

// The five terms add up to the score exactly, whatever the bins (Stephenson,
// Coelho and Jolliffe 2008).
func TestBrierAddsUp(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		said := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) ledger.Saying {
			return ledger.Saying{P: rapid.Float64Range(0, 1).Draw(t, "p"), Came: rapid.Bool().Draw(t, "came")}
		}), 1, 60).Draw(rt, "said")
		c, err := ledger.Calibrate(said, rapid.IntRange(1, 20).Draw(rt, "bins"))
		if err != nil {
			rt.Fatal(err)
		}
		if sum := c.Reliability - c.Resolution + c.Uncertainty + c.WithinVariance - c.WithinCovariance; math.Abs(sum-c.Brier) > 1e-12 {
			rt.Fatalf("terms add up to %g, the score is %g", sum, c.Brier)
		}
		n := 0
		for _, b := range c.Bins {
			n += b.N
			if b.Stated < b.From-1e-12 || b.Stated > b.To+1e-12 || b.Low > b.Came+1e-12 || b.High < b.Came-1e-12 {
				rt.Fatalf("bin %+v", b)
			}
		}
		if n != len(said) {
			rt.Fatalf("%d in the bins, %d stated", n, len(said))
		}
	})
}

func TestCalibrationBadInput(t *testing.T) {
	_, err := ledger.Calibrate([]ledger.Saying{{P: math.NaN()}}, 0)
	sentence(t, "not a number", err)
	_, err = ledger.Calibrate(nil, -1)
	sentence(t, "bins", err)
	if c, err := ledger.Calibrate(nil, 0); err != nil || c.N != 0 {
		t.Errorf("nothing stated: %+v, %v", c, err)
	}
}

func TestCosts(t *testing.T) {
	b := new(ledger.Book)
	for i, real := range []float64{12, 8, 20, 16} {
		add(t, b, ledger.Record{Bench: "hall", Case: fmt.Sprint(i), Closed: day.AddDate(0, 0, i),
			Cost: ledger.Cost{Currency: "EUR", Money: real, Minutes: 60, Foretold: true, MoneyMean: 10, MoneyLow: 5, MoneyHigh: 16, MinMean: 40}})
	}
	add(t, b, ledger.Record{Bench: "hall", Case: "nothing foretold", Closed: day, Cost: ledger.Cost{Currency: "EUR", Money: 1000}})
	got := b.Costs()
	if len(got) != 1 || got[0].Currency != "EUR" {
		t.Fatalf("costs %+v", got)
	}
	// by hand: off by 2, −2, 10, 6; mean 4, variance (4+36+36+4)/3
	m := got[0].Money
	near(t, "bias", m.Bias, 4, 1e-12)
	near(t, "spread", m.Spread, math.Sqrt(80.0/3), 1e-12)
	near(t, "standard error", m.BiasError, math.Sqrt(80.0/3)/2, 1e-12)
	near(t, "median", m.Median, 4, 1e-12)
	near(t, "ratio", m.Ratio, 1.4, 1e-12)
	if m.N != 4 || m.Ranges != 4 || m.InRange != 3 || got[0].Minutes.Ranges != 0 || got[0].Minutes.Bias != 20 {
		t.Errorf("misses %+v", got[0])
	}
	want := []ledger.Point{{X: 10, Y: 12}, {X: 10, Y: 8}, {X: 10, Y: 20}, {X: 10, Y: 16}}
	if d := cmp.Diff(want, m.Foretold); d != "" {
		t.Errorf("(-want +got)\n%s", d)
	}
}

func TestSavings(t *testing.T) {
	b := new(ledger.Book)
	put := func(name string, months int, fixed bool, cur string, money, minutes, worth, scrap, kg float64) {
		add(t, b, ledger.Record{Bench: "hall", Case: name, Closed: day.AddDate(0, months, 0), Fixed: fixed,
			Cost: ledger.Cost{Currency: cur, Money: money, Minutes: minutes}, Gain: ledger.Gain{Worth: worth, Scrap: scrap, Kg: kg}})
	}
	put("loudspeaker", 0, true, "EUR", 8, 90, 60, 5, 9)
	put("bread maker", 1, false, "EUR", 4, 30, 40, 6, 7) // not fixed: its worth and mass do not count, its parts do
	put("bench supply", 1, true, "CHF", 2, 60, 30, 0, 3)
	got, err := b.Savings(ledger.Carbon{})
	if err != nil {
		t.Fatal(err)
	}
	month := func(m time.Month) time.Time { return time.Date(2030, m, 1, 0, 0, 0, 0, time.UTC) }
	want := ledger.Savings{Cases: 3, Fixed: 2, Hours: 3, Kg: 12,
		Money: []ledger.Money{{Currency: "CHF", Worth: 30, Spent: 2, Net: 28}, {Currency: "EUR", Worth: 60, Scrap: 6, Spent: 12, Net: 54}},
		Series: []ledger.Saved{
			{Month: month(5), Fixed: 1, Hours: 1.5, Kg: 9, Net: map[string]float64{"EUR": 52}},
			{Month: month(6), Fixed: 2, Hours: 3, Kg: 12, Net: map[string]float64{"EUR": 54, "CHF": 28}}}}
	if d := cmp.Diff(want, got, cmpopts.EquateApprox(0, 1e-9)); d != "" {
		t.Errorf("(-want +got)\n%s", d)
	}
	with, err := b.Savings(ledger.Carbon{KgPerKg: 2, Source: "an invented publication"})
	if err != nil || with.CO2Kg != 24 || with.CO2Source == "" {
		t.Errorf("with a factor: %+v, %v", with, err)
	}
	_, err = b.Savings(ledger.Carbon{KgPerKg: 2})
	sentence(t, "factor without a source", err)
	_, err = b.Savings(ledger.Carbon{Source: "an invented publication"})
	sentence(t, "source without a factor", err)
	_, err = b.Savings(ledger.Carbon{KgPerKg: math.NaN(), Source: "x"})
	sentence(t, "factor not a number", err)
}

func TestCurves(t *testing.T) {
	f := ledger.Factor{Mean: 1.8, Low: 1, High: 3, Shape: 9}
	area := 0.0
	c := f.Curve(2000)
	for i := 1; i < len(c); i++ {
		area += (c[i].X - c[i-1].X) * (c[i].Y + c[i-1].Y) / 2
	}
	near(t, "area under the curve of a factor", area, 1, 1e-3)
	area = 0
	for _, p := range (ledger.Chance{A: 8, B: 3}).Curve(1000) {
		area += p.Y / 1001
	}
	near(t, "area under the curve of a chance", area, 1, 1e-3)
}
