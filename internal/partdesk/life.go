package partdesk

import (
	"fmt"
	"math"
	"slices"

	"fettler/internal/failure"
	"fettler/internal/part/ecap"
	"fettler/internal/part/unit"
	"fettler/internal/quantity"
)

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

// Take takes the rated voltage and the ESR as they are typed; "" leaves them out.
func (a *LifeAsk) Take(volts, esr string) error {
	var err error
	if a.RatedVolts, err = typed(volts, "V", "the rated voltage", "25 V"); err == nil {
		a.ESR, err = typed(esr, "Ω", "the ESR", "0.35 Ω")
	}
	return err
}

// A LifeAnswer is how long they may be expected to last.
type LifeAnswer struct {
	OldHours float64     `json:"oldHours"`
	NewHours float64     `json:"newHours"`
	OldYears float64     `json:"oldYears"` // running day and night
	NewYears float64     `json:"newYears"` // running day and night
	RiseK    float64     `json:"rise"`     // K, core above ambient, by ripple
	NewRiseK float64     `json:"newRise"`  // the same for the better one
	Notes    []string    `json:"notes"`
	Trust    string      `json:"trust"`
	Points   []LifePoint `json:"points"` // by temperature, for a picture
	Words    string      `json:"words"`
}

// A LifePoint is one temperature of the picture.
type LifePoint struct {
	AmbientC float64 `json:"ambient"` // °C
	OldYears float64 `json:"oldYears"`
	NewYears float64 `json:"newYears"`
	Ratio    float64 `json:"ratio"` // how many times as long
}

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
	out.Notes, out.Trust = list(x.Notes), x.Source.String()
	for _, n := range y.Notes {
		if !slices.Contains(out.Notes, n) {
			out.Notes = append(out.Notes, n)
		}
	}
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
	return quantity.Days(math.Round(y * 365.25))
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
		return 0, failure.New(failure.BadInput, "give them, or leave the ripple current out", "to reckon with the ripple current, ESR, diameter and height must be known")
	}
	k, err := ecap.SelfHeating(amps, ohms, d/1000, h/1000, 0)
	if err != nil {
		return 0, badFigure(err)
	}
	return k, nil
}
