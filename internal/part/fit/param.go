package fit

import (
	"maps"
	"slices"

	"fettler/internal/part/unit"
)

// Param names one parameter of a part. The values are stable: shelves may be
// stored with them.
type Param string

// Figures, in SI; temperatures in °C, endurance in hours.
const (
	Capacitance  Param = "capacitance"       // F
	Resistance   Param = "resistance"        // Ω
	Inductance   Param = "inductance"        // H
	Frequency    Param = "frequency"         // Hz
	Tolerance    Param = "tolerance"         // fraction
	VoltsDC      Param = "rated voltage DC"  // V
	VoltsAC      Param = "rated voltage AC"  // V
	Current      Param = "rated current"     // A
	Power        Param = "rated power"       // W
	TempMax      Param = "rated temperature" // °C
	ESR          Param = "ESR at 100 kHz"    // Ω
	Ripple       Param = "ripple current"    // A rms
	Endurance    Param = "endurance"         // h at TempMax
	Diameter     Param = "diameter"          // m
	Height       Param = "height"            // m
	Pitch        Param = "lead pitch"        // m
	Recovery     Param = "reverse recovery"  // s
	ForwardVolts Param = "forward voltage"   // V
	OnResistance Param = "on-resistance"     // Ω
	GateCharge   Param = "gate charge"       // C
	GateDrive    Param = "gate drive needed" // V at which the on-resistance is stated
	Gain         Param = "current gain"      // hFE
	Transition   Param = "transition frequency"
	OutputVolts  Param = "output voltage"
	DropOut      Param = "drop-out voltage"
	InputMax     Param = "highest input voltage"
	CoilVolts    Param = "coil voltage"
	CoilOhms     Param = "coil resistance"
	ContactAmps  Param = "contact current"
	ContactVolts Param = "contact voltage"
	Saturation   Param = "saturation current"
	DCResistance Param = "DC resistance"
	LoadCap      Param = "load capacitance"
	OpensAt      Param = "opening temperature" // °C
	Breaking     Param = "breaking capacity"
	ClampVolts   Param = "voltage at 1 mA"
	ZenerVolts   Param = "zener voltage"
)

// Words.
const (
	Package     Param = "package"
	Pinout      Param = "pinout"
	Dielectric  Param = "dielectric"
	Class       Param = "suppression class"
	Approved    Param = "safety approval"
	Speed       Param = "fuse speed"
	Channel     Param = "channel"
	Polarity    Param = "polarity"
	Contacts    Param = "contact arrangement"
	CoilKind    Param = "coil AC or DC"
	Mode        Param = "crystal mode"
	Series      Param = "series" // "low impedance", "general purpose"
	Flameproof  Param = "flameproof"
	Adjustable  Param = "regulator type"
	BipolarType Param = "polarised"
)

// figures gives the unit of each numeric parameter.
var figures = map[Param]string{
	Capacitance: "F", Resistance: "Ω", Inductance: "H", Frequency: "Hz", Tolerance: "%", VoltsDC: "V", VoltsAC: "V", Current: "A", Power: "W",
	TempMax: "°C", ESR: "Ω", Ripple: "A", Endurance: "h", Diameter: "m", Height: "m", Pitch: "m", Recovery: "s", ForwardVolts: "V", OnResistance: "Ω",
	GateCharge: "C", GateDrive: "V", Gain: "", Transition: "Hz", OutputVolts: "V", DropOut: "V", InputMax: "V", CoilVolts: "V", CoilOhms: "Ω",
	ContactAmps: "A", ContactVolts: "V", Saturation: "A", DCResistance: "Ω", LoadCap: "F", OpensAt: "°C", Breaking: "A", ClampVolts: "V", ZenerVolts: "V",
}

var words = map[Param]bool{
	Package: true, Pinout: true, Dielectric: true, Class: true, Approved: true, Speed: true, Channel: true, Polarity: true, Contacts: true,
	CoilKind: true, Mode: true, Series: true, Flameproof: true, Adjustable: true, BipolarType: true,
}

// Figure reports whether p is a figure and in which unit.
func (p Param) Figure() (unit string, ok bool) {
	unit, ok = figures[p]
	return unit, ok
}

// Word reports whether p is a word.
func (p Param) Word() bool { return words[p] }

// Show prints a value of p.
func (p Param) Show(v float64) string {
	u := figures[p]
	if u == "C" {
		return unit.Format(v*1e9, "") + " nC"
	}
	return unit.Format(v, u)
}

// Params lists all parameters, figures first, in alphabetical order.
func Params() []Param {
	return append(slices.Sorted(maps.Keys(figures)), slices.Sorted(maps.Keys(words))...)
}

// A Stated is one thing that is known of a part, for people to read.
type Stated struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// InWords puts what is known of a part into words, in the order of Params.
func InWords(figures map[Param]float64, words map[Param]string) []Stated {
	out := []Stated{}
	for _, p := range Params() {
		if v, ok := figures[p]; ok {
			out = append(out, Stated{string(p), p.Show(v)})
		} else if w, ok := words[p]; ok {
			out = append(out, Stated{string(p), w})
		}
	}
	return out
}
