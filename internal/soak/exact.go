package soak

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Ending says what ended a life test.
type Ending string

const (
	// ByTime: the test was to last a given time (type I censoring).
	ByTime Ending = "by time"
	// ByFailure: the test ended with its last failure (type II censoring).
	ByFailure Ending = "by failure"
)

// Bounds is a confidence interval. Open means that it has no upper end: High is
// then 0 and says nothing.
type Bounds struct {
	Low, High float64
	Open      bool
}

const (
	maxTime  = 1e12
	maxCount = 1_000_000
)

func checkTest(total float64, failures int, ending Ending) error {
	if !(total > 0 && total <= maxTime) {
		return bad("the time on test", total, "more than 0, up to "+num(maxTime))
	}
	if failures < 0 || failures > maxCount {
		return bad("the number of failures", float64(failures), "0 to "+num(maxCount))
	}
	switch {
	case ending != ByTime && ending != ByFailure:
		return &FieldError{"what ended the test", "\"" + string(ending) + "\"", "\"by time\" or \"by failure\""}
	case ending == ByFailure && failures == 0:
		return bad("the number of failures", 0, "at least 1 for a test that a failure ended")
	}
	return nil
}

func checkLevel(confidence float64) error {
	if confidence > 0 && confidence < 1 {
		return nil
	}
	return bad("the confidence", confidence, "more than 0 and less than 1, such as 0.9")
}

// chi2 is the quantile of the chi-square distribution with an even number of
// degrees of freedom.
func chi2(p float64, df int) float64 {
	if df == 2 {
		return -2 * math.Log1p(-p)
	}
	return distuv.ChiSquared{K: float64(df)}.Quantile(p)
}

// lowerDF is the number of degrees of freedom of the lower limit.
func lowerDF(failures int, ending Ending) int {
	if ending == ByFailure {
		return 2 * failures
	}
	return 2*failures + 2
}

// MTBFBounds returns the two-sided interval for the mean time between failures
// of an exponential life, with the stated confidence 1−α:
//
//	2T/χ²(1−α/2; 2r+2) ≤ MTBF ≤ 2T/χ²(α/2; 2r)
//
// with 2r in place of 2r+2 for a test ended by a failure. With no failure the
// interval is open. The unit is that of total.
//
// References: NIST/SEMATECH e-Handbook 8.4.5.1.
func MTBFBounds(total float64, failures int, confidence float64, ending Ending) (Bounds, error) {
	if err := first(checkTest(total, failures, ending), checkLevel(confidence)); err != nil {
		return Bounds{}, err
	}
	tail := (1 - confidence) / 2
	b := Bounds{Low: 2 * total / chi2(1-tail, lowerDF(failures, ending)), Open: failures == 0}
	if failures > 0 {
		b.High = 2 * total / chi2(tail, 2*failures)
	}
	return b, nil
}

// MTBFLower returns the one-sided lower limit of the mean time between failures.
// References: NIST/SEMATECH e-Handbook 8.4.5.1.
func MTBFLower(total float64, failures int, confidence float64, ending Ending) (float64, error) {
	if err := first(checkTest(total, failures, ending), checkLevel(confidence)); err != nil {
		return 0, err
	}
	return 2 * total / chi2(confidence, lowerDF(failures, ending)), nil
}

// MTBFConfidence returns how sure a test that lasted total with some failures
// makes one that the mean time between failures is at least mtbf:
// P(χ²(2r+2) ≤ 2T/m), the chance that a device just that bad would have failed more often.
func MTBFConfidence(total float64, failures int, mtbf float64) (float64, error) {
	if err := checkTest(total, failures, ByTime); err != nil {
		return 0, err
	}
	if !(mtbf > 0 && mtbf <= maxTime) {
		return 0, bad("the mean time between failures", mtbf, "more than 0, up to "+num(maxTime))
	}
	return distuv.ChiSquared{K: float64(2*failures + 2)}.CDF(2 * total / mtbf), nil
}

// TestTime returns how long a test with at most the allowed number of failures
// must last to show with the stated confidence that the mean time between
// failures is at least mtbf: m·χ²(C; 2r+2)/2, for no failure m·(−ln(1−C)).
func TestTime(mtbf float64, allowed int, confidence float64) (float64, error) {
	if !(mtbf > 0 && mtbf <= maxTime) {
		return 0, bad("the mean time between failures", mtbf, "more than 0, up to "+num(maxTime))
	}
	if allowed < 0 || allowed > maxCount {
		return 0, bad("the number of failures allowed", float64(allowed), "0 to "+num(maxCount))
	}
	if err := checkLevel(confidence); err != nil {
		return 0, err
	}
	return mtbf * chi2(confidence, 2*allowed+2) / 2, nil
}

// SuccessRun returns how many trials without a failure show with the stated
// confidence that each succeeds with chance reliability or more:
// ln(1−C)/ln(R), rounded up.
func SuccessRun(reliability, confidence float64) (float64, error) {
	if !(reliability > 0 && reliability < 1) {
		return 0, bad("the chance of success per trial", reliability, "more than 0 and less than 1, such as 0.9")
	}
	if err := checkLevel(confidence); err != nil {
		return 0, err
	}
	return roundUp(math.Log1p(-confidence) / math.Log(reliability)), nil
}

// roundUp is the next whole number, forgiving a rounding error above one.
func roundUp(x float64) float64 { return max(1, math.Ceil(x*(1-1e-12))) }

// FailureUpper returns the exact one-sided upper limit of the chance of failure
// per trial after some failures in trials: the quantile C of Beta(k+1, n−k), for
// none 1−(1−C)^(1/n).
//
// References: Clopper and Pearson 1934.
func FailureUpper(failures, trials int, confidence float64) (float64, error) {
	if trials < 1 || trials > maxCount {
		return 0, bad("the number of trials", float64(trials), "1 to "+num(maxCount))
	}
	if failures < 0 || failures > trials {
		return 0, bad("the number of failures", float64(failures), "0 to the number of trials")
	}
	if err := checkLevel(confidence); err != nil {
		return 0, err
	}
	switch failures {
	case 0:
		return -math.Expm1(math.Log1p(-confidence) / float64(trials)), nil
	case trials:
		return 1, nil
	}
	return distuv.Beta{Alpha: float64(failures) + 1, Beta: float64(trials - failures)}.Quantile(confidence), nil
}

// RuleOfThree returns 3/n, the well-known rough upper limit at 95 % of a chance
// that did not come up in n trials; 1 for fewer than three.
func RuleOfThree(trials int) (float64, error) {
	if trials < 1 {
		return 0, bad("the number of trials", float64(trials), "at least 1")
	}
	return min(1, 3/float64(trials)), nil
}
