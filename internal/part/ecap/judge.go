package ecap

import (
	"fmt"
	"math"

	"fettler/internal/part/unit"
)

// Measured is what was measured on one capacitor, and what it should have been.
// A zero figure is one that was not measured or is not known.
type Measured struct {
	Farad        float64 // capacitance measured
	NominalFarad float64 // capacitance marked
	ESR          float64 // ESR measured
	LimitESR     float64 // most when new, at the frequency it was measured at; see MaxESR
	// LimitHertz is the frequency the limit holds for and Hertz that of the meter; 0
	// means the two agree. A limit for 120 Hz used with a meter of 100 kHz can
	// only speak against a part, not for it.
	LimitHertz float64
	Hertz      float64
	InCircuit  bool // other parts were in parallel
}

// Opinion is the outcome of [Judge].
type Opinion struct {
	Bad      float64 // probability that the part is bad
	Prior    float64 // what it was before measuring
	RatioESR float64 // likelihood ratio, bad over good, from ESR; 1 = says nothing
	RatioC   float64 // from capacitance
	Words    []string
	Verdict  string // "replace", "doubtful" or "good as far as measured"
}

// The likelihood model. Both are judgement around published end-of-life criteria
// (IEC 60384-4 practice: tan δ 150 % of the limit, capacitance −20 %), where the ratio is 1.
//
// ESR: ln(ESR/limit) is normal with σ = 0.5, mean ln 0.5 for good parts, ln 4.5
// for bad ones; so ln ratio = (ln 9/σ²)·ln(r/1.5).
//
// Capacitance: C/marked is normal with σ = 0.1, mean 1.0 for good parts and 0.6 for
// bad ones; so ln ratio = −40·(c − 0.8).
const (
	esrEnd   = 1.5
	esrSlope = 8.788898309344878 // ln 9 / 0.25
	capEnd   = 0.8
	capSlope = 40.0
	most     = 5.298317366548036 // ln 200: no single reading counts for more
)

// Judge says how probable it is that the part is bad, given a prior
// probability (between 0 and 1, exclusive) and the measurements.
//
// Bayes' rule in odds; each reading's ratio lies between 1/200 and 200. Drying out
// raises ESR and lowers capacitance together, so when both say the same the weaker counts half.
// In circuit, parallel parts can only lower ESR and raise capacitance: a reading in
// favour counts half (ESR) or a third (capacitance), in logarithm. Neither reading sees leakage or a short.
func Judge(m Measured, prior float64) (Opinion, error) {
	if err := m.check(prior); err != nil {
		return Opinion{}, err
	}
	o := Opinion{Prior: prior}
	le := m.fromESR(&o)
	lc := m.fromC(&o)
	sum := le + lc
	if le*lc > 0 { // the weaker of two that agree counts half
		sum -= 0.5 * math.Copysign(math.Min(math.Abs(le), math.Abs(lc)), le)
	}
	o.RatioESR, o.RatioC = math.Exp(le), math.Exp(lc)
	o.Bad = 1 / (1 + math.Exp(-(math.Log(prior/(1-prior)) + sum)))
	switch {
	case o.Bad >= 0.8:
		o.Verdict = "replace"
	case o.Bad <= 0.1:
		o.Verdict = "good as far as measured"
	default:
		o.Verdict = "doubtful"
	}
	o.Words = append(o.Words, "leakage and breakdown under voltage do not show in these readings")
	return o, nil
}

func (m Measured) check(prior float64) error {
	switch {
	case !finite(m.Farad, m.NominalFarad, m.ESR, m.LimitESR, m.LimitHertz, m.Hertz, prior):
		return fmt.Errorf("the readings must be numbers; leave out what the meter did not show")
	case m.Farad < 0 || m.NominalFarad < 0 || m.ESR < 0 || m.LimitESR < 0 || m.LimitHertz < 0 || m.Hertz < 0:
		return fmt.Errorf("a reading below zero: is the capacitor charged? discharge it and measure again")
	case !(prior > 0 && prior < 1):
		return fmt.Errorf("a prior of %g cannot be moved by any reading; give one between 0 and 1, such as 0.3", prior)
	case (m.Farad == 0 || m.NominalFarad == 0) && (m.ESR == 0 || m.LimitESR == 0):
		return fmt.Errorf("nothing to judge: give ESR with its limit, or capacitance with the value marked")
	}
	return nil
}

func (m Measured) fromESR(o *Opinion) float64 {
	if m.ESR == 0 || m.LimitESR == 0 {
		return 0
	}
	r := m.ESR / m.LimitESR
	l := clamp(esrSlope * math.Log(r/esrEnd))
	o.say("ESR %s is %s times the most when new (end of life is usually 1.5 times)", unit.Format(m.ESR, "Ω"), unit.FormatDigits(r, "", 2))
	if m.Hertz > 0 && m.LimitHertz > 0 && m.Hertz > 10*m.LimitHertz && l < 0 {
		o.say("but that limit holds at %s and the meter works at %s, where ESR is lower: it cannot speak for the part", unit.Format(m.LimitHertz, "Hz"), unit.Format(m.Hertz, "Hz"))
		return 0
	}
	if m.InCircuit && l < 0 {
		o.say("measured in circuit, where a good neighbour hides a bad part: counts half")
		l /= 2
	}
	return l
}

func (m Measured) fromC(o *Opinion) float64 {
	if m.Farad == 0 || m.NominalFarad == 0 {
		return 0
	}
	c := m.Farad / m.NominalFarad
	l := clamp(-capSlope * (c - capEnd))
	o.say("capacitance %s is %s of the value marked (end of life is usually 80 %%)", unit.Format(m.Farad, "F"), unit.FormatDigits(c, "%", 2))
	switch {
	case c > 1.5 && !m.InCircuit:
		o.say("far too much: leaky, or the meter is fooled; measure leakage")
		return 0
	case m.InCircuit && l < 0:
		o.say("measured in circuit, where parallel capacitors add: counts a third")
		l /= 3
	}
	return l
}

func (o *Opinion) say(format string, args ...any) {
	o.Words = append(o.Words, fmt.Sprintf(format, args...))
}

func clamp(l float64) float64 { return math.Max(-most, math.Min(most, l)) }
