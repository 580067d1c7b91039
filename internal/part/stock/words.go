package stock

import (
	"regexp"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/fit"
)

// A phrase is what a name stands for: a kind, words of it, or both.
type phrase struct {
	kind  part.Kind
	param fit.Param
	word  string
}

// phrases are looked for with up to three words, the longest first, in small
// letters and without a plural's s.
var phrases = map[string]phrase{
	"electrolytic": {kind: part.Electrolytic}, "electrolytic capacitor": {kind: part.Electrolytic}, "aluminium electrolytic": {kind: part.Electrolytic},
	"aluminium electrolytic capacitor": {kind: part.Electrolytic},
	"tantalum":                         {kind: part.Tantalum}, "tantalum capacitor": {kind: part.Tantalum},
	"ceramic": {kind: part.Ceramic}, "ceramic capacitor": {kind: part.Ceramic}, "mlcc": {kind: part.Ceramic},
	"film": {kind: part.Film}, "film capacitor": {kind: part.Film},
	"suppression capacitor": {kind: part.Suppression}, "mains suppression capacitor": {kind: part.Suppression},
	"resistor": {kind: part.Resistor}, "fusible resistor": {kind: part.FusibleResistor},
	"inductor": {kind: part.Inductor}, "power inductor": {kind: part.Inductor}, "choke": {kind: part.Inductor},
	"diode": {kind: part.Rectifier}, "rectifier": {kind: part.Rectifier}, "rectifier diode": {kind: part.Rectifier},
	"zener": {kind: part.Zener}, "zener diode": {kind: part.Zener},
	"mosfet": {kind: part.MOSFET}, "transistor": {kind: part.Bipolar}, "bipolar transistor": {kind: part.Bipolar},
	"regulator": {kind: part.Regulator}, "voltage regulator": {kind: part.Regulator},
	"relay": {kind: part.Relay}, "fuse": {kind: part.Fuse}, "thermal fuse": {kind: part.ThermalFuse}, "thermal link": {kind: part.ThermalFuse},
	"varistor": {kind: part.Varistor}, "crystal": {kind: part.Crystal},

	"low esr": {param: fit.Series, word: "low impedance"}, "low-esr": {param: fit.Series, word: "low impedance"}, "low impedance": {param: fit.Series, word: "low impedance"},
	"general purpose": {param: fit.Series, word: "general purpose"}, "polymer": {param: fit.Series, word: "polymer"},
	"bipolar": {param: fit.BipolarType, word: "bipolar"}, "non-polar": {param: fit.BipolarType, word: "bipolar"},
	"npn": {kind: part.Bipolar, param: fit.Polarity, word: "NPN"}, "pnp": {kind: part.Bipolar, param: fit.Polarity, word: "PNP"},
	"n-channel": {kind: part.MOSFET, param: fit.Channel, word: "N"}, "p-channel": {kind: part.MOSFET, param: fit.Channel, word: "P"},
	"polypropylene": {param: fit.Dielectric, word: "polypropylene"}, "polyester": {param: fit.Dielectric, word: "polyester"},
	"flameproof": {param: fit.Flameproof, word: "yes"}, "approved": {param: fit.Approved, word: "yes"},
	"time-lag": {param: fit.Speed, word: "T"}, "slow": {param: fit.Speed, word: "T"}, "quick": {param: fit.Speed, word: "F"}, "quick-acting": {param: fit.Speed, word: "F"},
}

// fill is what a line may say without meaning anything by it.
var fill = map[string]bool{"of": true, "the": true, "a": true, "an": true, "with": true, "capacitor": true, "capacitors": true, "rated": true, "and": true, ",": true, "new": true}

var (
	reClass      = regexp.MustCompile(`^(?:[XYxy][1-4]){1,2}$`)
	reDielectric = regexp.MustCompile(`^(?i:X[5678][RST]|Y5V|Z5U|C0G|COG|NP0|NPO)$`)
	reCase       = regexp.MustCompile(`^(?i:0402|0603|0805|1206|1210|1812|2010|2512|SOT-?\d+|SOD-?\d+|SOIC-?\d+|DIP-?\d+|TO-?\d+[A-Z]*|DO-?\d+[A-Z]*|D2?PAK|SM[ABC])$`)
	rePlural     = regexp.MustCompile(`^(.{3,}[^s])s$`)
)

// singular takes a plural's s away.
func singular(w string) string { return rePlural.ReplaceAllString(w, "$1") }

// lookUp finds the longest phrase that words begin with, and how many words it has.
func lookUp(words []string) (phrase, int) {
	for n := min(3, len(words)); n > 0; n-- {
		low := strings.Fields(strings.ToLower(strings.Join(words[:n], " ")))
		if p, ok := phrases[strings.Join(low, " ")]; ok {
			return p, n
		}
		if len(low) > 0 {
			low[len(low)-1] = singular(low[len(low)-1])
		}
		if p, ok := phrases[strings.Join(low, " ")]; ok {
			return p, n
		}
	}
	return phrase{}, 0
}

// usual is what a unit stands for on most parts; special where it is another.
var usual = map[string]fit.Param{"F": fit.Capacitance, "Ω": fit.Resistance, "H": fit.Inductance, "Hz": fit.Frequency, "%": fit.Tolerance, "V": fit.VoltsDC,
	"A": fit.Current, "W": fit.Power, "°C": fit.TempMax, "h": fit.Endurance, "size": fit.Diameter}

var special = map[part.Kind]map[string]fit.Param{
	part.Zener:       {"V": fit.ZenerVolts},
	part.Relay:       {"V": fit.CoilVolts, "A": fit.ContactAmps, "Ω": fit.CoilOhms},
	part.Regulator:   {"V": fit.OutputVolts},
	part.Suppression: {"V": fit.VoltsAC},
	part.Fuse:        {"V": fit.VoltsAC},
	part.ThermalFuse: {"V": fit.VoltsAC, "°C": fit.OpensAt},
	part.Varistor:    {"V": fit.VoltsAC, "m": fit.Diameter},
	part.Rectifier:   {"s": fit.Recovery},
	part.MOSFET:      {"Ω": fit.OnResistance, "C": fit.GateCharge},
	part.Crystal:     {"F": fit.LoadCap},
}

// named are figures that a word before them names.
var named = map[string]map[string]fit.Param{
	"esr": {"Ω": fit.ESR}, "ripple": {"A": fit.Ripple}, "pitch": {"m": fit.Pitch}, "spacing": {"m": fit.Pitch}, "coil": {"V": fit.CoilVolts, "Ω": fit.CoilOhms},
	"diameter": {"m": fit.Diameter}, "height": {"m": fit.Height}, "clamp": {"V": fit.ClampVolts}, "recovery": {"s": fit.Recovery}, "forward": {"V": fit.ForwardVolts},
	"gate drive": {"V": fit.GateDrive}, "gate charge": {"C": fit.GateCharge}, "drop-out": {"V": fit.DropOut}, "input": {"V": fit.InputMax}, "output": {"V": fit.OutputVolts},
	"contact": {"A": fit.ContactAmps, "V": fit.ContactVolts}, "contacts": {"A": fit.ContactAmps, "V": fit.ContactVolts}, "saturation": {"A": fit.Saturation}, "breaking": {"A": fit.Breaking},
}
