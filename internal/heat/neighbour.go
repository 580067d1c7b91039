package heat

import (
	"fmt"
	"math"
	"strings"
)

// A NeighbourKind is one row of the table of things that mind heat.
type NeighbourKind struct {
	Kind                  string
	Limit                 float64 // °C for the half minute of rework, not for life
	Length, Width, Height float64 // mm, typical
	Density               float64 // g/cm³ of the whole body
	SpecificHeat          float64 // J/(kg·K)
	Joint                 float64 // W/K from body to board through its pins
	Skin                  float64 // W/(m²·K) from the face turned to the tool into the body
	Why                   string
	Mark                  Mark
}

// NeighbourKinds returns the table. The limits are judgements of the trade (from
// memory); a data sheet beats them.
func NeighbourKinds() []NeighbourKind { return append([]NeighbourKind(nil), neighbourKinds...) }

var neighbourKinds = []NeighbourKind{
	{"electrolytic capacitor", 125, 8, 8, 12, 1.5, 1100, 0.03, 1000, "radial cans are rated 85 to 125 °C and not for reflow: the electrolyte boils, the seal lets go", FromMemory},
	{"SMD electrolytic capacitor", 230, 8, 8, 10, 1.5, 1100, 0.06, 1000, "rated for one or two reflow passes; the can bulges beyond", FromMemory},
	{"film capacitor", 110, 13, 5, 11, 1.2, 1300, 0.02, 150, "polypropylene film shrinks; rated 105 or 110 °C", FromMemory},
	{"plastic connector", 180, 10, 6, 8, 1.3, 1500, 0.02, 150, "thermoplastics soften well below their melting point; pins creep out of line", FromMemory},
	{"high-temperature connector", 245, 10, 6, 8, 1.4, 1400, 0.02, 150, "made for reflow (LCP, PA9T and the like)", FromMemory},
	{"switch or potentiometer", 120, 10, 10, 8, 1.3, 1400, 0.02, 150, "wafers and grease: rated about 85 °C in use", FromMemory},
	{"crystal", 150, 11, 4.5, 3.5, 3, 600, 0.02, 2000, "leaded cans: the mount and tuning drift; surface-mount ones stand reflow", FromMemory},
	{"battery", 60, 20, 20, 4, 3, 1000, 0.03, 1000, "cells vent or burn: take the battery out before any heat", FromMemory},
	{"supercapacitor", 75, 14, 14, 7, 1.5, 1200, 0.03, 500, "rated 70 or 85 °C", FromMemory},
	{"display", 75, 30, 20, 3, 2, 1000, 0.02, 200, "liquid crystal and adhesive films", FromMemory},
	{"LED", 240, 3.5, 2.8, 1.4, 2, 900, 0.02, 500, "silicone lens and bond wires; stands one reflow", FromMemory},
	{"plastic housing", 95, 20, 10, 10, 1.05, 1400, 0.005, 100, "ABS softens about 95 to 105 °C", FromMemory},
	{"transformer or coil", 155, 15, 15, 12, 4, 500, 0.05, 400, "enamel and bobbin; class F", FromMemory},
	{"ceramic capacitor", 260, 3.2, 1.6, 1.6, 5.5, 500, 0.06, 5000, "cracks from steep gradients: mind the ramp more than the peak", FromMemory},
	{"integrated circuit", 240, 5, 4, 1.5, 1.9, 900, 0.03, 1000, "its joints melt from 217 °C (183 °C leaded) and it may shift", FromMemory},
	{"relay", 110, 19, 15, 15, 2, 1000, 0.03, 150, "rated 85 °C; sealed housings leak", FromMemory},
}

func kindByName(name string) (NeighbourKind, bool) {
	for _, k := range neighbourKinds {
		if k.Kind == name {
			return k, true
		}
	}
	return NeighbourKind{}, false
}

// placed fills in sizes and limits from the kind and turns a distance into a place.
func (n Neighbour) placed(b Board, p Part, i int) (Neighbour, error) {
	if n.Name == "" {
		n.Name = fmt.Sprintf("neighbour %d", i)
	}
	k, ok := kindByName(n.Kind)
	if !ok {
		var names []string
		for _, k := range neighbourKinds {
			names = append(names, k.Kind)
		}
		return n, &FieldError{n.Name + " kind", fmt.Sprintf("%q", n.Kind), "one of " + strings.Join(names, ", ")}
	}
	if n.Length == 0 && n.Width == 0 && n.Height == 0 {
		n.Length, n.Width, n.Height = k.Length, k.Width, k.Height
	}
	n.Limit = orDefault(n.Limit, k.Limit)
	if err := first(
		inRange(n.Name+" length", n.Length, 0.2, 300, "mm"),
		inRange(n.Name+" width", n.Width, 0.2, 300, "mm"),
		inRange(n.Name+" height", n.Height, 0.05, 200, "mm"),
		inRange(n.Name+" limit", n.Limit, 30, 400, "°C"),
		optional(n.Name+" distance", n.Distance, 0.05, 500, "mm"),
	); err != nil {
		return n, err
	}
	if n.Distance > 0 {
		n.X, n.Y = sideWithRoom(n, b, p)
	}
	if n.X-n.Length/2 < p.X+p.Length/2 && n.X+n.Length/2 > p.X-p.Length/2 &&
		n.Y-n.Width/2 < p.Y+p.Width/2 && n.Y+n.Width/2 > p.Y-p.Width/2 {
		return n, &FieldError{n.Name + " place", "inside the body of the part", "a place beside it"}
	}
	return n, first(
		inRange(n.Name+" x", n.X, 0, b.Width, "mm"),
		inRange(n.Name+" y", n.Y, 0, b.Height, "mm"),
	)
}

// sideWithRoom puts the neighbour at its distance on the side of the part where
// most board is left beyond it.
func sideWithRoom(n Neighbour, b Board, p Part) (x, y float64) {
	dx := p.Length/2 + n.Distance + n.Length/2
	dy := p.Width/2 + n.Distance + n.Width/2
	best := math.Inf(-1)
	for _, c := range []struct{ x, y, room float64 }{
		{p.X + dx, p.Y, b.Width - (p.X + dx + n.Length/2)},
		{p.X - dx, p.Y, p.X - dx - n.Length/2},
		{p.X, p.Y + dy, b.Height - (p.Y + dy + n.Width/2)},
		{p.X, p.Y - dy, p.Y - dy - n.Width/2},
	} {
		if c.room > best {
			best, x, y = c.room, c.x, c.y
		}
	}
	return x, y
}
