package casework

import (
	"context"
	"fmt"
	"math"
	"strings"

	"fettler/internal/note"
	"fettler/internal/part/ecap"
	"fettler/internal/part/unit"
)

// A CapAsk is an electrolytic capacitor and what was measured on it. Figures are
// typed: "1000 µF", "0.35 Ω".
type CapAsk struct {
	Marked   string // capacitance printed on it
	Volts    string // rated voltage printed on it
	Measured string // capacitance measured; "" not measured
	ESR      string // "" not measured
	Limit    string // most ESR when new, from its data sheet, at the meter's frequency; "" by its marking
	Hertz    string // of the meter; "" 100 kHz
	Grade    string // one of CapGrades; "" ordinary
	In       bool   // measured in circuit
	Prior    *float64
	Case     string // to write it down in; "" none
}

var capGrades = map[string]ecap.Grade{"ordinary": ecap.Ordinary, "compact": ecap.Compact, "bipolar": ecap.Bipolar}

// CapGrades lists the series whose limits are known.
func CapGrades() []string { return []string{"ordinary", "compact", "bipolar"} }

// CapPrior is how likely a suspected electrolytic is bad before it is measured, where
// nothing else is said (common practice, no source).
const CapPrior = 0.3

// A CapAnswer is what a measurement says of an electrolytic.
type CapAnswer struct {
	Verdict string      `json:"verdict"` // "replace", "doubtful" or "good as far as measured"
	Bad     float64     `json:"bad"`     // chance that it is bad
	Prior   float64     `json:"prior"`   // chance before measuring
	Words   []string    `json:"words"`
	Limit   float64     `json:"limit"` // Ω, most when new; 0 not known
	LimitOf string      `json:"limitOf"`
	Trust   string      `json:"trust"`
	Checks  []CapTarget `json:"checks"` // where it can be written down in the case
}

// A CapTarget is a check of a case that this measurement answers.
type CapTarget struct {
	Check   string `json:"check"`
	Title   string `json:"title"`
	Finding string `json:"finding"`
	Ask     string `json:"ask"`
	Answer  string `json:"answer"` // as RecordCheck takes it
}

// typed reads a figure that may be left out.
func typed(s, u, what, example string) (float64, error) {
	if strings.TrimSpace(s) == "" {
		return 0, nil
	}
	v, err := unit.Parse(s, u)
	if err != nil || !(v > 0) {
		return 0, fail(BadInput, "write it as in: "+example, "%s cannot be read from %q", what, clip(s))
	}
	return v, nil
}

// microfarads reads a capacitance; a bare figure is in µF, as electrolytics are printed.
func microfarads(s, what string) (float64, error) {
	if t := strings.TrimSpace(s); t != "" && strings.Trim(t, "0123456789.,") == "" {
		s = t + " µF"
	}
	return typed(s, "F", what, "1000 µF")
}

// JudgeCap says how likely an electrolytic is bad, and where that can be written down.
func (b *Bench) JudgeCap(ctx context.Context, a CapAsk) (*CapAnswer, error) {
	m, volts, err := a.measured()
	if err != nil {
		return nil, err
	}
	out := &CapAnswer{Prior: CapPrior, Checks: []CapTarget{}, Trust: ecap.LimitSource().String()}
	if m.LimitESR > 0 {
		out.LimitOf, out.Trust = "as stated", "stated by you"
	} else if m.NominalFarad > 0 && volts > 0 && m.ESR > 0 {
		if m.LimitESR, err = ecap.MaxESR(capGrades[a.Grade], m.NominalFarad, volts); err != nil {
			return nil, badFigure(err)
		}
		m.LimitHertz = 120
		out.LimitOf = "for a general-purpose part of its marking at 120 Hz"
	}
	out.Limit = m.LimitESR
	if a.Prior != nil {
		out.Prior = *a.Prior
	}
	o, err := ecap.Judge(m, out.Prior)
	if err != nil {
		return nil, badFigure(err)
	}
	out.Verdict, out.Bad, out.Words = o.Verdict, o.Bad, list(o.Words)
	if a.Case != "" {
		out.Checks, err = b.capTargets(ctx, a.Case, m.ESR, m.Farad, o.Verdict)
	}
	return out, err
}

func badFigure(err error) error {
	return &Error{Code: BadInput, Text: err.Error(), Next: "check the figures", Err: err}
}

func (a CapAsk) measured() (m ecap.Measured, volts float64, err error) {
	if a.Grade != "" {
		if err := oneOf(a.Grade, CapGrades(), true, "series"); err != nil {
			return m, 0, err
		}
	} else {
		a.Grade = "ordinary"
	}
	m.InCircuit = a.In
	var errs [6]error
	m.NominalFarad, errs[0] = microfarads(a.Marked, "the capacitance printed on it")
	volts, errs[1] = typed(a.Volts, "V", "the rated voltage", "25 V")
	m.Farad, errs[2] = microfarads(a.Measured, "the capacitance measured")
	m.ESR, errs[3] = typed(a.ESR, "Ω", "the ESR", "0.35 Ω")
	m.LimitESR, errs[4] = typed(a.Limit, "Ω", "the limit", "0.1 Ω")
	m.Hertz, errs[5] = typed(a.Hertz, "Hz", "the meter's frequency", "100 kHz")
	if err = firstError(errs[:]...); err != nil {
		return m, 0, err
	}
	if m.Hertz == 0 {
		m.Hertz = 100e3
	}
	if m.LimitESR > 0 {
		m.LimitHertz = m.Hertz
	}
	if m.ESR == 0 && m.Farad == 0 {
		return m, 0, fail(BadInput, "give the ESR, the capacitance, or both", "nothing was measured")
	}
	if a.Prior != nil && !(*a.Prior > 0 && *a.Prior < 1) {
		return m, 0, fail(BadInput, "give a chance above 0 and below 1", "a chance before measuring cannot be %v", *a.Prior)
	}
	return m, volts, nil
}

// capTargets finds the checks of a case that an ESR meter answers. A doubtful
// verdict answers readings only.
func (b *Bench) capTargets(ctx context.Context, caseID string, esr, farad float64, verdict string) ([]CapTarget, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	out := []CapTarget{}
	if c.Model == nil || c.Closed != nil {
		return out, nil
	}
	for i := range c.Model.Checks {
		x := &c.Model.Checks[i]
		if !aboutESR(x) {
			continue
		}
		for _, f := range x.Findings {
			y := &c.Model.Findings[f]
			answer := capAnswer(y, esr, farad, verdict)
			if answer == "" {
				continue
			}
			ask := y.Ask
			if ask == "" {
				ask = y.Title
			}
			out = append(out, CapTarget{Check: x.ID, Title: x.Title, Finding: y.ID, Ask: ask, Answer: answer})
		}
	}
	return out, nil
}

func aboutESR(x *note.Check) bool {
	return strings.Contains(x.Title, "ESR") || strings.Contains(strings.ToLower(strings.Join(x.With, " ")), "esr meter")
}

// capAnswer is what the measurement says to a finding, "" if nothing.
func capAnswer(f *note.Finding, esr, farad float64, verdict string) string {
	bad, good := verdict == "replace", strings.HasPrefix(verdict, "good")
	switch f.Kind {
	case note.Reading:
		switch {
		case f.Measure == "Ω" && esr > 0:
			return unit.Format(esr, "Ω")
		case f.Measure == "F" && farad > 0:
			return unit.Format(farad, "F")
		}
	case note.Sign:
		if !strings.Contains(f.Title+f.Ask, "ESR") {
			return ""
		}
		switch {
		case bad:
			return "yes"
		case good:
			return "no"
		}
	case note.Pick:
		for _, a := range f.Answers {
			low := strings.ToLower(a)
			if bad && (strings.Contains(low, "esr") || strings.Contains(low, "worn")) || good && (strings.Contains(low, "as marked") || low == "good") {
				return a
			}
		}
	}
	return ""
}

// A LifeAsk is an electrolytic and a better one in the same place.
type LifeAsk struct {
	Hours, RatedC             float64 // endurance and the temperature it is stated for
	AmbientC                  float64
	Ripple, ESR               float64 // A rms, Ω
	DiameterMM, HeightMM      float64
	WorkingVolts, RatedVolts  float64
	Exponent                  float64 // of the voltage, 0 not reckoned with
	NewHours, NewRatedC       float64
	NewESR                    float64 // 0: that of the old one
	NewDiameterMM, NewHightMM float64 // 0: those of the old one
}

// UsualLife is what a form begins with.
func UsualLife() LifeAsk {
	return LifeAsk{Hours: 2000, RatedC: 85, AmbientC: 55, NewHours: 5000, NewRatedC: 105}
}

// A LifeAnswer is how long they may be expected to last.
type LifeAnswer struct {
	OldHours, NewHours float64
	OldYears, NewYears float64 // running day and night
	RiseK, NewRiseK    float64 // core above ambient, by ripple
	Notes              []string
	Trust              string
	Points             []LifePoint
	Words              string
}

// A LifePoint is one temperature of the picture.
type LifePoint struct{ AmbientC, OldYears, NewYears, Ratio float64 }

// CapLife says how long an electrolytic lasts and how much a better one buys.
func CapLife(a LifeAsk) (*LifeAnswer, error) {
	out := &LifeAnswer{}
	var err error
	if out.RiseK, err = rise(a.Ripple, a.ESR, a.DiameterMM, a.HeightMM); err != nil {
		return nil, err
	}
	nd, nh, ne := orElse(a.NewDiameterMM, a.DiameterMM), orElse(a.NewHightMM, a.HeightMM), orElse(a.NewESR, a.ESR)
	if out.NewRiseK, err = rise(a.Ripple, ne, nd, nh); err != nil {
		return nil, err
	}
	old := ecap.Life{RatedHours: a.Hours, RatedC: a.RatedC, AmbientC: a.AmbientC, RiseK: out.RiseK, VoltageExponent: a.Exponent}
	if a.RatedVolts > 0 {
		old.VoltageRatio = a.WorkingVolts / a.RatedVolts
	}
	better := old
	better.RatedHours, better.RatedC, better.RiseK = a.NewHours, a.NewRatedC, out.NewRiseK
	x, err := old.Expect()
	if err != nil {
		return nil, badFigure(err)
	}
	y, err := better.Expect()
	if err != nil {
		return nil, badFigure(err)
	}
	out.OldHours, out.NewHours = x.StatedHours, y.StatedHours
	out.OldYears, out.NewYears = x.StatedHours/ecap.HoursPerYear, y.StatedHours/ecap.HoursPerYear
	out.Notes, out.Trust = append(list(x.Notes), y.Notes...), x.Source.String()
	pts, err := ecap.Compare(old, better, 35, math.Min(a.RatedC, orElse(a.NewRatedC, a.RatedC)), 26)
	if err != nil {
		return nil, badFigure(err)
	}
	for _, p := range pts {
		out.Points = append(out.Points, LifePoint{p.AmbientC, p.OldYears, p.NewYears, p.Ratio})
	}
	out.Words = fmt.Sprintf("At %s the old one lasts about %s, the better one %s: %.3g times as long before the cap of 15 years.", unit.Format(a.AmbientC, "°C"), yearsWords(out.OldYears), yearsWords(out.NewYears), y.Hours/x.Hours)
	return out, nil
}

func yearsWords(y float64) string {
	switch {
	case y >= 14.99:
		return "15 years or more"
	case y >= 1:
		return fmt.Sprintf("%.1f years", y)
	}
	return fmt.Sprintf("%.0f days", y*365.25)
}

func orElse(v, other float64) float64 {
	if v > 0 {
		return v
	}
	return other
}

// rise is the core's temperature above ambient; without ripple there is none.
func rise(amps, ohms, d, h float64) (float64, error) {
	if amps == 0 {
		return 0, nil
	}
	if !(ohms > 0 && d > 0 && h > 0) {
		return 0, fail(BadInput, "give them, or leave the ripple current out", "to reckon with the ripple current, ESR, diameter and height must be known")
	}
	k, err := ecap.SelfHeating(amps, ohms, d/1000, h/1000, 0)
	if err != nil {
		return 0, badFigure(err)
	}
	return k, nil
}
