package ecap

import (
	"fmt"
	"math"

	"fettler/internal/part"
)

// Life describes a capacitor and how it is run. A zero field means what its
// comment says.
type Life struct {
	RatedHours float64 // endurance L0 at RatedC; must be given
	RatedC     float64 // upper category temperature T0; 0 = 105
	AmbientC   float64 // air around the can, Ta
	RiseK      float64 // core above ambient from ripple, ΔT; 0 = no ripple
	// RatedRiseK is ΔT0, the rise at rated ripple when the endurance was stated with
	// ripple (5 K is typical at 105 °C). 0 = stated without ripple.
	RatedRiseK float64
	RippleStep float64 // kelvin per halving by ripple; 0 = 5; makers say 5 to 10
	// VoltageRatio is working over rated voltage; 0 = not considered. It counts only
	// with a VoltageExponent: for radial cans up to 160 V it is negligible, for snap-in
	// and screw cans 2.5 to 5 (from memory).
	VoltageRatio    float64
	VoltageExponent float64
}

// Expectation is the outcome of [Life.Expect].
type Expectation struct {
	Hours       float64 // what the formula gives
	StatedHours float64 // the same, but at most 15 years
	Temperature float64 // factor from temperature
	Ripple      float64 // factor from ripple
	Voltage     float64 // factor from voltage
	Notes       []string
	Source      part.Source
}

const (
	// HoursPerYear of running day and night.
	HoursPerYear = 8766
	// CapHours is the most that is ever stated, 15 years: seals age too (from memory,
	// common advice of makers).
	CapHours = 15 * HoursPerYear

	coolestC = 35  // the ten-degree rule is not stretched below this
	leastV   = 0.6 // nor is the voltage law below this ratio (from memory)
)

// Expect gives the expected life, to the usual end of life (capacitance −20 %,
// tan δ half as much again as allowed): a typical figure for the series, not a promise for
// one part.
func (l Life) Expect() (Expectation, error) {
	l = l.defaults()
	if err := l.check(); err != nil {
		return Expectation{}, err
	}
	e := Expectation{Voltage: 1, Source: part.Source{Text: "makers' life notes: ten-degree law and ripple factor", Mark: part.Read}}
	ta := l.AmbientC
	if ta < coolestC {
		ta = coolestC
		e.note("below 35 °C the rule is not stretched: the life at 35 °C is given")
	}
	if ta > l.RatedC {
		e.note("hotter than the part is rated for: the rule does not hold, expect less")
	}
	if ta+l.RiseK > l.RatedC+math.Max(l.RatedRiseK, 5)+10 {
		e.note("the core is far above its rated temperature: it may vent long before it ages")
	}
	e.Temperature = math.Exp2((l.RatedC - ta) / 10)
	e.Ripple = math.Exp2((l.RatedRiseK - l.RiseK) / l.RippleStep)
	if l.VoltageRatio > 0 && l.VoltageExponent > 0 {
		e.Voltage = math.Pow(math.Max(l.VoltageRatio, leastV), -l.VoltageExponent)
		e.note("the voltage law is from memory")
	}
	e.Hours = l.RatedHours * e.Temperature * e.Ripple * e.Voltage
	e.StatedHours = math.Min(e.Hours, CapHours)
	if e.Hours > CapHours {
		e.note("the formula gives more than 15 years; seals and leads age as well, so no more is stated")
	}
	return e, nil
}

func (e *Expectation) note(s string) { e.Notes = append(e.Notes, s) }

func (l Life) defaults() Life {
	if l.RatedC == 0 {
		l.RatedC = 105
	}
	if l.RippleStep == 0 {
		l.RippleStep = 5
	}
	return l
}

func (l Life) check() error {
	switch {
	case !finite(l.RatedHours, l.RatedC, l.AmbientC, l.RiseK, l.RatedRiseK, l.RippleStep, l.VoltageRatio, l.VoltageExponent):
		return fmt.Errorf("the figures of the capacitor's life must be numbers")
	case !(l.RatedHours > 0) || l.RatedHours > 1e6:
		return fmt.Errorf("a rated endurance of %g h is not usable; take it from the data sheet, for example 2000 h", l.RatedHours)
	case l.RatedC < 60 || l.RatedC > 200:
		return fmt.Errorf("a rated temperature of %g °C is not one of electrolytics; 85, 105 and 125 °C are usual", l.RatedC)
	case l.AmbientC < -60 || l.AmbientC > 200:
		return fmt.Errorf("an ambient of %g °C is outside what the rule covers", l.AmbientC)
	case l.RiseK < 0 || l.RiseK > 100 || l.RatedRiseK < 0 || l.RatedRiseK > 50:
		return fmt.Errorf("a rise of %g K is outside what the rule covers (0 to 100 K)", max(l.RiseK, l.RatedRiseK))
	case l.RippleStep < 2 || l.RippleStep > 20:
		return fmt.Errorf("%g K per halving is outside what makers state (5 to 10 K)", l.RippleStep)
	case l.VoltageRatio < 0 || l.VoltageRatio > 1:
		return fmt.Errorf("%g times the rated voltage is not a matter of life but of failure: choose a higher rating", l.VoltageRatio)
	case l.VoltageExponent < 0 || l.VoltageExponent > 10:
		return fmt.Errorf("a voltage exponent of %g is outside what makers state (2.5 to 5)", l.VoltageExponent)
	}
	return nil
}

// SelfHeating is the rise of a can's core above ambient.
//
//	ΔT = I²·ESR / (β·S),  S = (π/4)·D·(D + 4·L)
//
// I in A rms, ESR in Ω, diameter and length in metres. Beta is the loss per area and kelvin
// in W/(K·m²); 0 means 20.5 (2.05 mW/(K·cm²), from memory, for cans of 5 to 18 mm).
func SelfHeating(ripple, esr, diameter, length, beta float64) (float64, error) {
	if beta == 0 {
		beta = 20.5
	}
	if !finite(ripple, esr, diameter, length, beta) || ripple < 0 || esr < 0 || !(diameter > 1e-3) || !(length > 1e-3) || !(beta > 0) || diameter > 1 || length > 1 {
		return 0, fmt.Errorf("self-heating needs a ripple current and ESR of 0 or more and a can between 1 mm and 1 m; diameter and length are in metres")
	}
	s := math.Pi / 4 * diameter * (diameter + 4*length)
	dt := ripple * ripple * esr / (beta * s)
	if !finite(dt) {
		return 0, fmt.Errorf("the ripple current or ESR is too large to mean anything")
	}
	return dt, nil
}

func finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
