package heat

import "fmt"

// An Alloy is one solder alloy with its melting range.
type Alloy struct {
	Name       string
	Solidus    float64 // °C
	Liquidus   float64 // °C; where makers differ, the highest printed
	LatentHeat float64 // kJ/kg; from memory or estimated for every alloy
	LeadFree   bool
	Mark       Mark // of solidus and liquidus
	Note       string
}

// Alloys returns the table of solder alloys.
func Alloys() []Alloy { return append([]Alloy(nil), alloys...) }

// DefaultAlloy is assumed when a [Job] names none: the harder case of the two
// alloys a repairer meets.
const DefaultAlloy = "Sn96.5Ag3Cu0.5"

var alloys = []Alloy{
	{"Sn63Pb37", 183, 183, 37, false, Verified, "eutectic; the usual wire before lead was banned"},
	{"Sn60Pb40", 183, 188, 37, false, Verified, ""},
	{"Sn50Pb50", 183, 212, 37, false, Verified, "plumbing and very old sets"},
	{"Sn96.5Ag3Cu0.5", 217, 220.6, 60, true, Verified, "the usual lead-free alloy; makers print 218, 220 and 220.6 °C, J-STD-020 counts from 217 °C"},
	{"Sn99.3Cu0.7", 227, 227, 60, true, Verified, "wave soldering; the source is weak"},
	{"Sn97Cu3", 227, 300, 60, true, Verified, "the source is weak"},
	{"Sn96.5Ag3.5", 221, 221, 60, true, FromMemory, ""},
	{"Bi58Sn42", 138, 138, 45, true, Verified, "low-temperature assembly; with leaded solder it can soften far lower"},
	{"Bi57.6Sn42Ag0.4", 138, 140, 45, true, FromMemory, ""},
	{"Bi50Pb26.7Sn13.3Cd10", 70, 70, 40, false, Verified, "contains cadmium and lead: toxic, do not use for rework"},
	{"In51Bi32.5Sn16.5", 60.5, 60.5, 30, true, Verified, ""},
	{"Bi56Sn30In14", 79, 91, 40, true, Verified, "low-melt desoldering alloy"},
	{"SAC with low-melt alloy", 100, 180, 45, true, FromMemory, "a joint flooded with low-melt alloy: melts well below 180 °C, stays liquid for many seconds; clean every trace off before refitting"},
	{"SAC with a little SnPb", 177, 217, 55, false, FromMemory, "mixed joint after an older repair: begins to melt near 177–183 °C"},
}

// AlloyByName finds an alloy by its name; the empty name is [DefaultAlloy].
func AlloyByName(name string) (Alloy, error) {
	if name == "" {
		name = DefaultAlloy
	}
	for _, a := range alloys {
		if a.Name == name {
			return a, nil
		}
	}
	names := ""
	for i, a := range alloys {
		if i > 0 {
			names += ", "
		}
		names += a.Name
	}
	return Alloy{}, &FieldError{Field: "alloy", Problem: fmt.Sprintf("%q is not in the table", name), Allowed: "one of " + names}
}
