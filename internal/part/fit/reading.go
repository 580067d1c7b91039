package fit

import (
	"fettler/internal/part"
	"fettler/internal/part/marking"
)

// FromReading takes what a marking said as the old part. What the marking does
// not give stays unknown and must be added by hand.
func FromReading(r marking.Reading) Old {
	o := Old{Kind: r.Kind, Figures: map[Param]float64{}, Words: map[Param]string{}}
	figure := func(p Param, v float64) {
		if v > 0 {
			o.Figures[p] = v
		}
	}
	word := func(p Param, w string) {
		if w != "" {
			o.Words[p] = w
		}
	}
	switch r.Unit {
	case "Ω":
		figure(Resistance, r.Value)
	case "F":
		figure(Capacitance, r.Value)
	case "H":
		figure(Inductance, r.Value)
	case "Hz":
		figure(Frequency, r.Value)
	}
	figure(Tolerance, max(r.TolHigh, -r.TolLow))
	figure(Current, r.Amps)
	figure(Power, r.Watts)
	word(Dielectric, r.Dielectric)
	word(Class, r.Class)
	word(Speed, r.Speed)
	figure(VoltsAC, r.VoltsAC)
	switch r.Kind {
	case part.Zener:
		figure(ZenerVolts, r.Value)
	case part.ThermalFuse:
		figure(OpensAt, r.Value)
	case part.Varistor:
		figure(ClampVolts, r.VoltsDC)
		figure(Diameter, r.DiscMM/1000)
	default:
		figure(VoltsDC, r.VoltsDC)
		figure(TempMax, r.TempMaxC)
	}
	if a := breakingAmps[r.Breaking]; a > 0 {
		o.Figures[Breaking] = max(a, 10*r.Amps*b2f(r.Breaking == "L"))
	}
	return o
}

// breakingAmps of the letters of IEC 60127 (from memory).
var breakingAmps = map[string]float64{"L": 35, "E": 150, "H": 1500}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
