package soak_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"fettler/internal/soak"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.8g, want %.8g (±%g)", what, got, want, tol)
	}
}

func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func table(t *testing.T, file string) [][]float64 {
	t.Helper()
	f, err := os.Open("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out [][]float64
	for _, r := range rows[1:] {
		var nums []float64
		for _, s := range r {
			v := math.NaN() // an empty field
			if s != "" {
				if v, err = strconv.ParseFloat(s, 64); err != nil {
					t.Fatal(err)
				}
			}
			nums = append(nums, v)
		}
		out = append(out, nums)
	}
	return out
}

// NIST/SEMATECH e-Handbook 8.4.5.1, tables of MTBF factors; see testdata/README.md.
func TestMTBFFactors(t *testing.T) {
	for _, row := range table(t, "factors.csv") {
		r, c := int(row[0]), row[1]
		total := max(float64(r), 1) // so that the estimate is 1
		b := must(soak.MTBFBounds(total, r, c, soak.ByTime))(t)
		near(t, "low", b.Low, row[2], 0.5001e-4)
		if b.Open != math.IsNaN(row[3]) {
			t.Errorf("r=%d: open is %v", r, b.Open)
		}
		if !b.Open {
			near(t, "high", b.High, row[3], 0.5001e-4)
		}
	}
}

// NIST/SEMATECH e-Handbook 8.4.5.1: 800 hours, two failures (from memory; the arithmetic is derived).
func TestHandbookExample(t *testing.T) {
	b := must(soak.MTBFBounds(800, 2, 0.9, soak.ByTime))(t)
	near(t, "low", b.Low, 127.07, 0.005)
	near(t, "high", b.High, 2251.2, 0.5) // 0.7107 is rounded to four digits
	low := must(soak.MTBFLower(800, 2, 0.95, soak.ByTime))(t)
	near(t, "the one-sided 95 % limit is the lower end of the two-sided 90 %", low, b.Low, 1e-9)
}

// One-sided with no failure: T·1.0914, 0.6213, 0.4343, 0.3338 (derived, −1/ln(1−C)).
func TestNoFailureOneSided(t *testing.T) {
	for c, want := range map[float64]float64{0.60: 1.0914, 0.80: 0.6213, 0.90: 0.4343, 0.95: 0.3338} {
		near(t, "lower", must(soak.MTBFLower(1, 0, c, soak.ByTime))(t), want, 0.5001e-4)
	}
}

// Multipliers −ln(1−C) of the zero-failure test (derived) and the bench's example:
// shows every 20 min on average, so 46.1 min for 90 %, 59.9 min for 95 %.
func TestTestTime(t *testing.T) {
	for c, want := range map[float64]float64{0.5: 0.6931, 0.6: 0.9163, 0.8: 1.6094, 0.9: 2.3026, 0.95: 2.9957, 0.99: 4.6052} {
		near(t, "multiplier", must(soak.TestTime(1, 0, c))(t), want, 0.5001e-4)
	}
	near(t, "20 min, 90 %", must(soak.TestTime(20, 0, 0.9))(t), 46.1, 0.05)
	near(t, "20 min, 95 %", must(soak.TestTime(20, 0, 0.95))(t), 59.9, 0.05)
}

// A test ended by a failure has 2r degrees of freedom in the lower limit, one
// ended by time 2r+2: the first with r+1 failures is the second with r.
func TestEndings(t *testing.T) {
	a := must(soak.MTBFLower(100, 4, 0.9, soak.ByFailure))(t)
	b := must(soak.MTBFLower(100, 3, 0.9, soak.ByTime))(t)
	near(t, "lower", a, b, 1e-12)
}

func TestSuccessRun(t *testing.T) {
	for _, row := range table(t, "success.csv") {
		if got := must(soak.SuccessRun(row[0], row[1]))(t); got != row[2] {
			t.Errorf("R=%g C=%g: %g trials, want %g", row[0], row[1], got, row[2])
		}
	}
	if got := must(soak.SuccessRun(0.5, 0.75))(t); got != 2 { // exactly two, by hand
		t.Errorf("R=0.5 C=0.75: %g trials, want 2", got)
	}
}

// Rule of three: n = 30 exact 0.0950 (0.1), n = 100 exact 0.02951 (0.03); derived.
func TestRuleOfThree(t *testing.T) {
	near(t, "30", must(soak.FailureUpper(0, 30, 0.95))(t), 0.0950, 0.5001e-4)
	near(t, "100", must(soak.FailureUpper(0, 100, 0.95))(t), 0.02951, 0.5001e-5)
	near(t, "30 rough", must(soak.RuleOfThree(30))(t), 0.1, 1e-15)
	near(t, "100 rough", must(soak.RuleOfThree(100))(t), 0.03, 1e-15)
}

// A chi-square of even degrees is a Poisson sum: at the limit, the chance of so
// few failures is 1−C. The sum is written out here by itself.
func TestLimitsArePoissonSums(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := rapid.IntRange(0, 60).Draw(rt, "failures")
		c := rapid.Float64Range(0.01, 0.999).Draw(rt, "confidence")
		m, err := soak.MTBFLower(1000, r, c, soak.ByTime)
		if err != nil {
			rt.Fatal(err)
		}
		mean := 1000 / m
		term, sum := math.Exp(-mean), 0.0
		for k := range r + 1 {
			sum += term
			term *= mean / float64(k+1)
		}
		if math.Abs(sum-(1-c)) > 1e-8 {
			rt.Fatalf("r=%d C=%g: P(at most r failures) = %g, want %g", r, c, sum, 1-c)
		}
		back, err := soak.MTBFConfidence(1000, r, m)
		if err != nil || math.Abs(back-c) > 1e-8 {
			rt.Fatalf("confidence of its own limit: %g, want %g (%v)", back, c, err)
		}
		need, err := soak.TestTime(m, r, c)
		if err != nil || math.Abs(need-1000) > 1e-5 {
			rt.Fatalf("test time of its own limit: %g, want 1000 (%v)", need, err)
		}
	})
}

// Clopper–Pearson: at the limit, the binomial chance of so few failures is 1−C.
func TestFailureUpperIsBinomial(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 80).Draw(rt, "trials")
		k := rapid.IntRange(0, n-1).Draw(rt, "failures")
		c := rapid.Float64Range(0.05, 0.995).Draw(rt, "confidence")
		p, err := soak.FailureUpper(k, n, c)
		if err != nil {
			rt.Fatal(err)
		}
		got := distuv.Binomial{N: float64(n), P: p}.CDF(float64(k))
		if math.Abs(got-(1-c)) > 1e-7 {
			rt.Fatalf("n=%d k=%d C=%g: p=%g, chance of so few %g, want %g", n, k, c, p, got, 1-c)
		}
	})
}

func TestExactBadInput(t *testing.T) {
	nan := math.NaN()
	for name, f := range map[string]func() error{
		"no time":           func() error { _, err := soak.MTBFBounds(0, 1, 0.9, soak.ByTime); return err },
		"time not a number": func() error { _, err := soak.MTBFLower(nan, 1, 0.9, soak.ByTime); return err },
		"negative failures": func() error { _, err := soak.MTBFBounds(1, -1, 0.9, soak.ByTime); return err },
		"no ending":         func() error { _, err := soak.MTBFBounds(1, 1, 0.9, ""); return err },
		"ended by none":     func() error { _, err := soak.MTBFLower(1, 0, 0.9, soak.ByFailure); return err },
		"certain":           func() error { _, err := soak.MTBFBounds(1, 1, 1, soak.ByTime); return err },
		"confidence NaN":    func() error { _, err := soak.TestTime(1, 0, nan); return err },
		"mean infinite":     func() error { _, err := soak.TestTime(math.Inf(1), 0, 0.9); return err },
		"mean zero":         func() error { _, err := soak.MTBFConfidence(1, 0, 0); return err },
		"always succeeds":   func() error { _, err := soak.SuccessRun(1, 0.9); return err },
		"no trials":         func() error { _, err := soak.FailureUpper(0, 0, 0.9); return err },
		"more than all":     func() error { _, err := soak.FailureUpper(3, 2, 0.9); return err },
		"three of none":     func() error { _, err := soak.RuleOfThree(0); return err },
	} {
		sentence(t, name, f())
	}
}
