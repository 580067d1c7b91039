package heat

import (
	"fmt"
	"math"
)

// MartinNusselt is the Nusselt number averaged over a disc of radius r (mm) around
// the stagnation point of one round jet from a nozzle of diameter d (mm) at a
// distance h (mm):
//
//	Nu/Pr^0.42 = G·2·Re^½·(1 + 0.005·Re^0.55)^½
//	G = 2s(1 − 2.2s)/(1 + 0.2(h/d − 6)s),  s = d/(2r) = √A_r
//
// valid for 2000 ≤ Re ≤ 400 000, 2 ≤ h/d ≤ 12, 0.004 ≤ A_r ≤ 0.04. Outside, the value
// is still returned and outside names each range that is left; where the formula has
// no value (Re below zero) it is NaN, and outside is not empty.
//
// Reference: H. Martin 1977; Incropera eq. 7.75.
func MartinNusselt(re, pr, d, h, r float64) (nu float64, outside []string) {
	s := d / (2 * r)
	if !(re >= 2000 && re <= 4e5) {
		outside = append(outside, fmt.Sprintf("Re = %.0f is outside 2000 to 400000", re))
	}
	if q := h / d; !(q >= 2 && q <= 12) {
		outside = append(outside, fmt.Sprintf("distance is %.2g nozzle diameters, outside 2 to 12", q))
	}
	if a := s * s; !(a >= 0.004-1e-12 && a <= 0.04+1e-12) {
		outside = append(outside, fmt.Sprintf("radius is %.2g nozzle diameters, outside 2.5 to 7.9", r/d))
	}
	return martinG(s, h/d) * martinF(re) * math.Pow(pr, 0.42), outside
}

func martinF(re float64) float64 {
	return 2 * math.Sqrt(re) * math.Sqrt(1+0.005*math.Pow(re, 0.55))
}

func martinG(s, hd float64) float64 {
	return 2 * s * (1 - 2.2*s) / (1 + 0.2*(hd-6)*s)
}

// martinLocal is the local counterpart of martinG: from the mean over a disc,
// local = mean + (r/2)·d(mean)/dr = G − (s/2)·dG/ds.
func martinLocal(s, hd float64) float64 {
	c := 0.2 * (hd - 6)
	den := 1 + c*s
	dG := 2 * ((1-4.4*s)*den - c*(s-2.2*s*s)) / (den * den)
	return martinG(s, hd) - s/2*dG
}

// A Jet is the round hot-air jet on a surface as the solver uses it.
//
// From 2.5 to 7.9 nozzle diameters from the axis the coefficient is Martin's, made
// local. Inside 2.5 diameters the correlation gives only the mean: a bell
// h_e + (h_0 − h_e)(1 − (r/r_e)²)² joins it there and keeps that mean exactly. Beyond
// 7.9 diameters the local form is continued (it falls as 1/r). Re below 2000 and
// distances outside 2 to 12 diameters use the formula at the nearest end (distance)
// or as it stands (Re); [Jet.Notes] says so.
//
// The air that drives the heat is the jet mixed with room air and cooled by what it
// has given off; that part is an assumption of this model (mark M):
//
//	T_air(r) = T_amb + (T_set − T_amb)·min(1, 6d/h)·(1 + (r/2.5d)²)^−½·exp(−½·NTU(r))
type Jet struct {
	Re       float64
	Mean     float64 // W/(m²·K), mean over 2.5 nozzle diameters around the axis
	Centre   float64 // W/(m²·K) on the axis
	Capacity float64 // W/K, heat capacity flow of the air
	Notes    []string

	d, hd, scale, edge float64
	excess, ambient    float64
	ntu                []float64 // per ntuStep·d of radius
}

const (
	jetEdge = 2.5 // radius, in diameters, where the correlation starts
	ntuStep = 0.25
	ntuEnd  = 60.0 // diameters
)

// NewJet computes the jet of a nozzle (mm) at a distance (mm) with flow in l/min of
// air at 20 °C, air temperature set and ambient in °C. hFactor scales the coefficient
// (1: as the correlation says). Values outside the ranges of [HotAir] are refused.
func NewJet(nozzle, distance, flow, set, ambient, hFactor float64) (*Jet, error) {
	if err := first(
		inRange("nozzle", nozzle, 1, 60, "mm"),
		inRange("nozzle distance", distance, 0.1, 1500, "mm"),
		inRange("air flow", flow, 1, 500, "l/min"),
		inRange("air temperature", set, 60, 550, "°C"),
		inRange("ambient temperature", ambient, -20, 60, "°C"),
		inRange("factor on the heat transfer coefficient", hFactor, 0.1, 10, ""),
	); err != nil {
		return nil, err
	}
	k, nu := airAt(set)
	d := nozzle / 1000
	volume := flow / 60000 // m³/s at 20 °C
	speed := volume * (set + kelvin) / (20 + kelvin) / (math.Pi / 4 * d * d)
	j := &Jet{
		Re: speed * d / nu, d: d, hd: min(max(distance/nozzle, 2), 12),
		Capacity: volume * airDensity20 * airHeat,
		excess:   (set - ambient) * min(1, 6*nozzle/distance), ambient: ambient,
	}
	mean, _ := MartinNusselt(j.Re, 0.69, 1, j.hd, jetEdge)
	j.Mean = mean * k / d * hFactor
	j.scale = martinF(j.Re) * math.Pow(0.69, 0.42) * k / d * hFactor
	s := 1 / (2 * jetEdge)
	j.edge = martinLocal(s, j.hd) * j.scale
	j.Centre = j.edge + 3*(j.Mean-j.edge)
	if j.Re < 2000 {
		j.Notes = append(j.Notes, fmt.Sprintf("jet Reynolds number %.0f is below 2000, where the correlation starts: the coefficient is an extrapolation", j.Re))
	}
	if q := distance / nozzle; q < 2 || q > 12 {
		j.Notes = append(j.Notes, fmt.Sprintf("nozzle distance is %.1f diameters; the correlation covers 2 to 12: the nearest end is used", q))
	}
	j.fillNTU()
	return j, nil
}

// fillNTU integrates the transfer units of the wall jet, ∫ 2πr·h·η/(ṁc) dr.
func (j *Jet) fillNTU() {
	n := int(ntuEnd / ntuStep)
	j.ntu = make([]float64, n+1)
	dr := ntuStep * j.d
	for i := 1; i <= n; i++ {
		r := (float64(i) - 0.5) * dr
		j.ntu[i] = j.ntu[i-1] + 2*math.Pi*r*j.H(r*1000)*j.mixed(r)/j.Capacity*dr
	}
}

func (j *Jet) mixed(r float64) float64 {
	x := r / (jetEdge * j.d)
	return 1 / math.Sqrt(1+x*x)
}

// H is the local coefficient, W/(m²·K), at r mm from the axis.
func (j *Jet) H(r float64) float64 {
	x := r / 1000 / j.d
	if x >= jetEdge {
		return j.scale * martinLocal(1/(2*x), j.hd)
	}
	u := 1 - x*x/(jetEdge*jetEdge)
	return j.edge + (j.Centre-j.edge)*u*u
}

// Air is the temperature, °C, that drives the heat at r mm from the axis.
func (j *Jet) Air(r float64) float64 {
	rm := r / 1000
	x := rm / j.d / ntuStep
	i := int(x)
	ntu := j.ntu[len(j.ntu)-1]
	if i < len(j.ntu)-1 {
		ntu = j.ntu[i] + (x-float64(i))*(j.ntu[i+1]-j.ntu[i])
	}
	return j.ambient + j.excess*j.mixed(rm)*math.Exp(-ntu/2)
}

// orbitPoints is how many positions stand for a nozzle moved in a circle. The
// circle takes a second or two, the board tens of seconds: the mean over the circle
// is what the board feels.
const orbitPoints = 24

// field gives coefficient and coefficient × air temperature at dx, dy mm from the
// centre of the motion, averaged over a circle of the given radius.
func (j *Jet) field(dx, dy, orbit float64) (h, hT float64) {
	if orbit == 0 {
		r := math.Hypot(dx, dy)
		h = j.H(r)
		return h, h * j.Air(r)
	}
	for i := range orbitPoints {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / orbitPoints)
		r := math.Hypot(dx-orbit*cos, dy-orbit*sin)
		hi := j.H(r)
		h += hi / orbitPoints
		hT += hi * j.Air(r) / orbitPoints
	}
	return h, hT
}
