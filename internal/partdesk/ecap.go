package partdesk

import (
	"cmp"
	"context"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/note"
	"fettler/internal/part"
	"fettler/internal/part/ecap"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
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

// capGrades are the series by name; the zero Grade is the ordinary one.
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
		return 0, failure.New(failure.BadInput, "write it as in: "+example, "%s cannot be read from %q", what, failure.Clip(s))
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

// CapMarked reads capacitance and voltage off what is printed on a capacitor, such as
// "470 µF 25 V" or "470 25"; what it does not say comes back empty.
func CapMarked(s string) (farad, volts string, err error) {
	fields := strings.Fields(s)
	bare := func(i int) bool { return strings.Trim(fields[i], "0123456789.,") == "" }
	if n := len(fields); n > 0 && n <= 2 {
		if bare(0) {
			fields[0] += " µF"
		}
		if n == 2 && bare(1) {
			fields[1] += " V"
		}
	}
	if len(fields) == 0 {
		return "", "", nil
	}
	p := stock.Read(string(part.Electrolytic) + " " + strings.Join(fields, " "))
	if len(p.Rest) > 0 {
		return "", "", failure.New(failure.BadInput, "write it as in: 470 µF 25 V", "%q cannot be read", failure.Clip(strings.Join(p.Rest, " ")))
	}
	if v, ok := p.Figures[fit.Capacitance]; ok {
		farad = fit.Capacitance.Show(v)
	}
	if v, ok := p.Figures[fit.VoltsDC]; ok {
		volts = fit.VoltsDC.Show(v)
	}
	if v, ok := p.Figures[fit.VoltsAC]; ok {
		return "", "", failure.New(failure.BadInput, "give the DC voltage across it: after an AC voltage up to 1.41 times as much", "%s is an AC voltage", fit.VoltsAC.Show(v))
	}
	return farad, volts, nil
}

// JudgeCap says how likely an electrolytic is bad, and where that can be written down.
func (d *Desk) JudgeCap(ctx context.Context, a CapAsk) (*CapAnswer, error) {
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
		out.Checks, err = d.capTargets(ctx, a.Case, m.ESR, m.Farad, o.Verdict)
	}
	return out, err
}

func badFigure(err error) error {
	return &failure.Error{Code: failure.BadInput, Text: err.Error(), Next: "check the figures", Err: err}
}

func (a CapAsk) measured() (m ecap.Measured, volts float64, err error) {
	if a.Grade != "" {
		if err := failure.OneOf(a.Grade, CapGrades(), true, "series"); err != nil {
			return m, 0, err
		}
	}
	m.InCircuit = a.In
	var errs [6]error
	m.NominalFarad, errs[0] = microfarads(a.Marked, "the capacitance printed on it")
	volts, errs[1] = typed(a.Volts, "V", "the rated voltage", "25 V")
	m.Farad, errs[2] = microfarads(a.Measured, "the capacitance measured")
	m.ESR, errs[3] = typed(a.ESR, "Ω", "the ESR", "0.35 Ω")
	m.LimitESR, errs[4] = typed(a.Limit, "Ω", "the limit", "0.1 Ω")
	m.Hertz, errs[5] = typed(a.Hertz, "Hz", "the meter's frequency", "100 kHz")
	if err = cmp.Or(errs[:]...); err != nil {
		return m, 0, err
	}
	if m.Hertz == 0 {
		m.Hertz = 100e3
	}
	if m.LimitESR > 0 {
		m.LimitHertz = m.Hertz
	}
	if m.ESR == 0 && m.Farad == 0 {
		return m, 0, failure.New(failure.BadInput, "give the ESR, the capacitance, or both", "nothing was measured")
	}
	if a.Prior != nil && !(*a.Prior > 0 && *a.Prior < 1) {
		return m, 0, failure.New(failure.BadInput, "give a chance above 0 and below 1", "a chance before measuring cannot be %v", *a.Prior)
	}
	return m, volts, nil
}

// capTargets finds the checks of a case that an ESR meter answers. A doubtful
// verdict answers readings only.
func (d *Desk) capTargets(ctx context.Context, caseID string, esr, farad float64, verdict string) ([]CapTarget, error) {
	m, open, err := d.bench.CaseNote(ctx, caseID)
	if err != nil {
		return nil, err
	}
	out := []CapTarget{}
	if m == nil || !open {
		return out, nil
	}
	for i := range m.Checks {
		x := &m.Checks[i]
		if !OfElectrolytics(x.Title, x.With) {
			continue
		}
		for _, f := range x.Findings {
			y := &m.Findings[f]
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

// CapOfCheck is the electrolytic that a check is about, as the bench note's repairs of
// the same block name it; empty where they name none, or several.
func (d *Desk) CapOfCheck(ctx context.Context, caseID, check string) (farad, volts string, err error) {
	m, _, err := d.bench.CaseNote(ctx, caseID)
	if err != nil || m == nil {
		return "", "", err
	}
	block, _, _ := strings.Cut(check, ".")
	for i := range m.Repairs {
		x := &m.Repairs[i]
		if in, _, _ := strings.Cut(x.ID, "."); in != block {
			continue
		}
		for _, it := range x.Buys {
			p := stock.Read(it.What)
			f, v := p.Figures[fit.Capacitance], p.Figures[fit.VoltsDC]
			if p.Kind != part.Electrolytic || f == 0 || v == 0 {
				continue
			}
			fs, vs := fit.Capacitance.Show(f), fit.VoltsDC.Show(v)
			if farad != "" && (fs != farad || vs != volts) {
				return "", "", nil
			}
			farad, volts = fs, vs
		}
	}
	return farad, volts, nil
}

// OfElectrolytics says that a check, by its title and what it is done with, measures
// electrolytic capacitors with an ESR meter.
func OfElectrolytics(title string, with []string) bool {
	return strings.Contains(title, "ESR") || strings.Contains(strings.ToLower(strings.Join(with, " ")), "esr meter")
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
