package heat

import (
	"fmt"
	"strings"
)

// packageSpec describes a package outline; typical sizes of the usual outline
// drawings, from memory. Lead is W/K per joint, die to pad.
type packageSpec struct {
	name                string
	length, width, high float64
	layout              layout
	n                   int     // joints without the tab or exposed pad
	pitch, span         float64 // mm; span: between the pad rows' centres
	padW, padH          float64 // across and along the row's normal
	lead                float64
	tabW, tabH, tabY    float64 // exposed pad or tab
	tabLead             float64
	through             bool
	density             float64 // g/cm³; 0: moulding compound
}

type layout int

const (
	dual   layout = iota // two rows, along x
	quad                 // four sides
	ends                 // two end caps, left and right
	single               // one row along x
	grid                 // n balls in a square grid
	tabbed               // one row at the bottom, a tab at the top
)

var packageSpecs = []packageSpec{
	{name: "0402", length: 1, width: 0.5, high: 0.4, layout: ends, n: 2, span: 1, padW: 0.5, padH: 0.6, lead: 0.02, density: 4},
	{name: "0603", length: 1.6, width: 0.8, high: 0.5, layout: ends, n: 2, span: 1.6, padW: 0.8, padH: 0.9, lead: 0.02, density: 4},
	{name: "0805", length: 2, width: 1.25, high: 0.6, layout: ends, n: 2, span: 2, padW: 1, padH: 1.3, lead: 0.02, density: 4},
	{name: "1206", length: 3.2, width: 1.6, high: 0.7, layout: ends, n: 2, span: 3.2, padW: 1.1, padH: 1.7, lead: 0.02, density: 4},
	{name: "SMA", length: 4.3, width: 2.6, high: 2.2, layout: ends, n: 2, span: 4.4, padW: 1.8, padH: 1.8, lead: 0.02},
	{name: "SMD electrolytic", length: 8.3, width: 8.3, high: 10, layout: ends, n: 2, span: 7, padW: 4, padH: 1.9, lead: 0.02, density: 1.5},
	{name: "SOT-23", length: 2.9, width: 1.3, high: 1, layout: tabbed, n: 2, pitch: 1.9, span: 2.2, padW: 0.8, padH: 0.9, lead: 0.003, tabW: 0.8, tabH: 0.9, tabY: 1.1, tabLead: 0.006},
	{name: "SOT-223", length: 6.5, width: 3.5, high: 1.6, layout: tabbed, n: 3, pitch: 2.3, span: 6.3, padW: 1.2, padH: 1.8, lead: 0.006, tabW: 3.3, tabH: 1.8, tabY: 3.15, tabLead: 0.08},
	{name: "DPAK", length: 6.6, width: 6.1, high: 2.3, layout: tabbed, n: 2, pitch: 4.6, span: 9, padW: 1.5, padH: 2.2, lead: 0.006, tabW: 5.8, tabH: 6.2, tabY: 1.6, tabLead: 0.4},
	{name: "D2PAK", length: 10.2, width: 9.2, high: 4.4, layout: tabbed, n: 2, pitch: 5.1, span: 13, padW: 1.6, padH: 3, lead: 0.008, tabW: 10, tabH: 9, tabY: 2, tabLead: 0.8},
	{name: "SOIC-8", length: 4.9, width: 3.9, high: 1.5, layout: dual, n: 8, pitch: 1.27, span: 5.4, padW: 0.6, padH: 1.55, lead: 0.003},
	{name: "SOIC-14", length: 8.65, width: 3.9, high: 1.5, layout: dual, n: 14, pitch: 1.27, span: 5.4, padW: 0.6, padH: 1.55, lead: 0.003},
	{name: "SOIC-16", length: 9.9, width: 3.9, high: 1.5, layout: dual, n: 16, pitch: 1.27, span: 5.4, padW: 0.6, padH: 1.55, lead: 0.003},
	{name: "SOIC-8 exposed pad", length: 4.9, width: 3.9, high: 1.5, layout: dual, n: 8, pitch: 1.27, span: 5.4, padW: 0.6, padH: 1.55, lead: 0.003, tabW: 3, tabH: 2.4, tabLead: 0.12},
	{name: "SOIC-16 wide", length: 10.3, width: 7.5, high: 2.35, layout: dual, n: 16, pitch: 1.27, span: 9.3, padW: 0.6, padH: 2, lead: 0.003},
	{name: "TSSOP-16", length: 5, width: 4.4, high: 1, layout: dual, n: 16, pitch: 0.65, span: 5.7, padW: 0.4, padH: 1.4, lead: 0.002},
	{name: "QFN-16 3x3", length: 3, width: 3, high: 0.9, layout: quad, n: 16, pitch: 0.5, span: 2.9, padW: 0.28, padH: 0.8, lead: 0.003, tabW: 1.7, tabH: 1.7, tabLead: 0.08},
	{name: "QFN-32 5x5", length: 5, width: 5, high: 0.9, layout: quad, n: 32, pitch: 0.5, span: 4.9, padW: 0.28, padH: 0.8, lead: 0.003, tabW: 3.4, tabH: 3.4, tabLead: 0.2},
	{name: "QFN-48 7x7", length: 7, width: 7, high: 0.9, layout: quad, n: 48, pitch: 0.5, span: 6.9, padW: 0.28, padH: 0.8, lead: 0.003, tabW: 5.2, tabH: 5.2, tabLead: 0.4},
	{name: "QFP-44", length: 10, width: 10, high: 1.6, layout: quad, n: 44, pitch: 0.8, span: 11.6, padW: 0.5, padH: 1.5, lead: 0.002},
	{name: "QFP-64", length: 10, width: 10, high: 1.4, layout: quad, n: 64, pitch: 0.5, span: 11.6, padW: 0.3, padH: 1.5, lead: 0.002},
	{name: "QFP-100", length: 14, width: 14, high: 1.4, layout: quad, n: 100, pitch: 0.5, span: 15.6, padW: 0.3, padH: 1.5, lead: 0.002},
	{name: "BGA-64 8x8", length: 8, width: 8, high: 1.2, layout: grid, n: 64, pitch: 0.8, padW: 0.4, padH: 0.4, lead: 0.004},
	{name: "BGA-256 17x17", length: 17, width: 17, high: 1.6, layout: grid, n: 256, pitch: 1, padW: 0.5, padH: 0.5, lead: 0.004},
	{name: "DIP-8", length: 9.5, width: 6.4, high: 3.3, layout: dual, n: 8, pitch: 2.54, span: 7.62, padW: 1.6, padH: 1.6, lead: 0.006, through: true},
	{name: "DIP-14", length: 19, width: 6.4, high: 3.3, layout: dual, n: 14, pitch: 2.54, span: 7.62, padW: 1.6, padH: 1.6, lead: 0.006, through: true},
	{name: "TO-220", length: 10, width: 4.5, high: 15, layout: single, n: 3, pitch: 2.54, padW: 1.8, padH: 2.2, lead: 0.02, through: true, density: 3},
	{name: "radial electrolytic", length: 8, width: 8, high: 12, layout: single, n: 2, pitch: 3.5, padW: 1.8, padH: 1.8, lead: 0.015, through: true, density: 1.5},
}

// PackageNames lists what [PartFor] can lay out.
func PackageNames() []string {
	names := make([]string, len(packageSpecs))
	for i, p := range packageSpecs {
		names[i] = p.name
	}
	return names
}

// PartFor lays out a common package at x, y (mm) with typical body, pads and lead
// conductance (from memory). Vias and ground connection are the user's to add.
func PartFor(name, pkg string, x, y float64) (Part, error) {
	for _, s := range packageSpecs {
		if strings.EqualFold(s.name, pkg) {
			return s.part(name, x, y), nil
		}
	}
	return Part{}, &FieldError{"package", fmt.Sprintf("%q", pkg), "one of " + strings.Join(PackageNames(), ", ") + "; or describe body and pads"}
}

func (s packageSpec) part(name string, x, y float64) Part {
	p := Part{Name: name, X: x, Y: y, Length: s.length, Width: s.width, Height: s.high}
	if s.density > 0 {
		p.Mass = s.density * s.length * s.width * s.high / 1000
	}
	if s.through && s.layout == single {
		p.Gap = 1
	}
	add := func(px, py, w, h float64) {
		p.Pads = append(p.Pads, Pad{Name: fmt.Sprint(len(p.Pads) + 1), X: px, Y: py, Width: w, Height: h, Lead: s.lead, Through: s.through})
	}
	row := func(n int, at func(off float64)) {
		for i := range n {
			at((float64(i) - float64(n-1)/2) * s.pitch)
		}
	}
	half := s.span / 2
	switch s.layout {
	case dual:
		row(s.n/2, func(o float64) { add(o, -half, s.padW, s.padH) })
		row(s.n/2, func(o float64) { add(-o, half, s.padW, s.padH) })
	case quad:
		row(s.n/4, func(o float64) { add(-half, -o, s.padH, s.padW) })
		row(s.n/4, func(o float64) { add(o, -half, s.padW, s.padH) })
		row(s.n/4, func(o float64) { add(half, o, s.padH, s.padW) })
		row(s.n/4, func(o float64) { add(-o, half, s.padW, s.padH) })
	case ends:
		add(-half, 0, s.padW, s.padH)
		add(half, 0, s.padW, s.padH)
	case single:
		row(s.n, func(o float64) { add(o, 0, s.padW, s.padH) })
	case tabbed:
		row(s.n, func(o float64) { add(o, -half, s.padW, s.padH) })
	case grid:
		side := 1
		for side*side < s.n {
			side++
		}
		row(side, func(oy float64) { row(side, func(ox float64) { add(ox, oy, s.padW, s.padH) }) })
	}
	if s.tabW > 0 {
		p.Pads = append(p.Pads, Pad{Name: "tab", Y: s.tabY, Width: s.tabW, Height: s.tabH, Lead: s.tabLead})
	}
	return p
}
