package part

import (
	"fmt"
	"slices"
	"strings"
)

// Kind is the kind of a part, in the trade's words. The zero value means
// "not known".
type Kind string

// The kinds this family of packages knows something about.
const (
	Unknown         Kind = ""
	Resistor        Kind = "resistor"
	FusibleResistor Kind = "fusible resistor"
	Ceramic         Kind = "ceramic capacitor"
	Film            Kind = "film capacitor"
	Electrolytic    Kind = "electrolytic capacitor"
	Tantalum        Kind = "tantalum capacitor"
	Suppression     Kind = "mains suppression capacitor"
	Inductor        Kind = "inductor"
	Rectifier       Kind = "rectifier diode"
	Zener           Kind = "zener diode"
	MOSFET          Kind = "MOSFET"
	Bipolar         Kind = "bipolar transistor"
	Regulator       Kind = "voltage regulator"
	Relay           Kind = "relay"
	Fuse            Kind = "fuse"
	ThermalFuse     Kind = "thermal fuse"
	Varistor        Kind = "varistor"
	Crystal         Kind = "crystal"
)

var kinds = []Kind{
	Resistor, FusibleResistor, Ceramic, Film, Electrolytic, Tantalum, Suppression,
	Inductor, Rectifier, Zener, MOSFET, Bipolar, Regulator, Relay, Fuse, ThermalFuse,
	Varistor, Crystal,
}

// Kinds lists every known kind, in a fixed order.
func Kinds() []Kind { return slices.Clone(kinds) }

// ParseKind reads a kind by its name, in any case.
func ParseKind(s string) (Kind, error) {
	for _, k := range kinds {
		if strings.EqualFold(strings.TrimSpace(s), string(k)) {
			return k, nil
		}
	}
	return Unknown, fmt.Errorf("%q is not a kind of part known here; say one of %s", s, joinKinds())
}

func joinKinds() string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k)
	}
	return strings.Join(names, ", ")
}

// Known reports whether k is one of [Kinds].
func (k Kind) Known() bool { return slices.Contains(kinds, k) }

// Capacitor reports whether k is a capacitor of any technology.
func (k Kind) Capacitor() bool {
	switch k {
	case Ceramic, Film, Electrolytic, Tantalum, Suppression:
		return true
	}
	return false
}

// SafetyCritical reports whether the part stands between a person, or a fire,
// and the mains: such a part is replaced like for like only.
func (k Kind) SafetyCritical() bool {
	switch k {
	case FusibleResistor, Suppression, Fuse, ThermalFuse, Varistor:
		return true
	}
	return false
}
