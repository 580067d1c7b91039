package rework

import "strings"

// A Family is packages that come off and go on the same way.
type Family struct {
	ID       string
	Title    string
	About    string
	Packages []string // names of package heat's outlines that belong to it
}

var families = []Family{
	{"two-pin", "Through-hole part with two pins", "radial electrolytics, film capacitors, diodes, resistors, fuses", []string{"radial electrolytic"}},
	{"multi-pin", "Through-hole part with three pins or more", "transistors, DIP circuits, relays, transformers, potentiometers", []string{"DIP-8", "DIP-14", "TO-220"}},
	{"chip", "Small surface-mount chip", "chip resistors and capacitors, diodes, small transistors", []string{"0402", "0603", "0805", "1206", "SMA", "SOT-23"}},
	{"can", "Surface-mount electrolytic can", "aluminium cans on a plastic foot", []string{"SMD electrolytic"}},
	{"gull-wing", "Circuit with legs: SOIC, TSSOP, QFP", "legs on two or four sides, no pad below", []string{"SOIC-8", "SOIC-14", "SOIC-16", "SOIC-16 wide", "TSSOP-16", "QFP-44", "QFP-64", "QFP-100"}},
	{"qfn", "Circuit with a pad below: QFN, power packages", "no legs to see, or a large pad under the body", []string{"QFN-16 3x3", "QFN-32 5x5", "QFN-48 7x7", "SOIC-8 exposed pad", "SOT-223", "DPAK", "D2PAK"}},
	{"connector", "Soldered connector", "plastic bodies that soften, with shell or ground pins that soak up heat", nil},
	{"shield", "Metal shield", "cans over radio and switching circuits, soldered all round", nil},
}

// Families returns the families, easiest first.
func Families() []Family { return append([]Family(nil), families...) }

// FamilyByID finds a family.
func FamilyByID(id string) (Family, bool) {
	for _, f := range families {
		if f.ID == id {
			return f, true
		}
	}
	return Family{}, false
}

// FamilyOf is the family of one of package heat's outlines, "" if none fits.
func FamilyOf(outline string) string {
	for _, f := range families {
		for _, p := range f.Packages {
			if strings.EqualFold(p, outline) {
				return f.ID
			}
		}
	}
	return ""
}
