package heat

import (
	"math"
	"slices"
)

// buildLumps makes case and die of the part, one lump per neighbour, and the tip.
func (m *model) buildLumps() {
	m.net.tip = -1
	m.net.still = newLossTable(0.01, m.job.Ambient, true, true)
	m.buildPart()
	for _, n := range m.job.Neighbours {
		m.buildNeighbour(n)
	}
	if m.job.Tool.Iron != nil {
		m.buildTip()
	}
	slices.SortStableFunc(m.net.links, func(a, b link) int { return a.node - b.node })
}

func (m *model) addLump(l lump) int {
	if l.t == 0 {
		l.t = m.job.Ambient
	}
	m.net.lumps = append(m.net.lumps, l)
	return len(m.net.lumps) - 1
}

// buildPart splits the body in an upper half (case) and a lower half (die).
func (m *model) buildPart() {
	p, mould := m.job.Part, materials[matMould]
	area := p.Length * p.Width * 1e-6
	high := p.Height / 1000
	mass := orDefault(p.Mass, mould.Density*area*high*1000) / 1000
	sides := 2 * (p.Length + p.Width) / 1000 * high
	footprint := m.rect(p.X, p.Y, p.Length, p.Width)
	m.caseSkin = high / 4 / mould.Conductivity
	c := lump{name: p.Name + " case", c: mass / 2 * mould.SpecificHeat, area: area + sides/2}
	d := lump{name: p.Name + " die", c: mass / 2 * mould.SpecificHeat, area: sides / 2}
	if m.jet != nil {
		h, air := m.airOver(footprint)
		m.caseH = h
		top := area / (1/h + m.caseSkin)
		swept := min(1, sideHigh/p.Height)
		wall := sideFactor * h * sides / 2 * swept
		c.h, c.hT = top+wall, (top+wall)*air
		d.h, d.hT = wall, wall*air
	}
	m.case_, m.die = m.addLump(c), m.addLump(d)
	m.net.bonds = append(m.net.bonds, bond{m.case_, m.die, mould.Conductivity * area / (high / 2)})

	gap := orDefault(p.Gap, 0.1) / 1000
	under := m.set.Vary.Contact * area / (gap/airGap + high/4/mould.Conductivity)
	m.spread(m.die, footprint, under)
	for i, pad := range p.Pads {
		m.spread(m.die, m.joints[i].cells, orDefault(pad.Lead, 0.003)*m.set.Vary.Contact)
	}
}

// airOver averages coefficient and air temperature over a body's outline.
func (m *model) airOver(cells []share) (h, air float64) {
	hT := 0.0
	for _, s := range cells {
		a, b := m.blowAt(s.col)
		h += s.of * a
		hT += s.of * b
	}
	return h, hT / h
}

// spread links a lump to the surface nodes of a rectangle.
func (m *model) spread(l int, cells []share, g float64) {
	for _, s := range cells {
		m.net.links = append(m.net.links, link{lump: l, node: s.col * m.plate.nz, g: g * s.of})
	}
}

// buildNeighbour makes a lump: its top is swept by the jet if it is low, its side
// facing the tool up to sideHigh.
func (m *model) buildNeighbour(n Neighbour) {
	k, _ := kindByName(n.Kind)
	vol := n.Length * n.Width * n.Height * 1e-9
	area := n.Length * n.Width * 1e-6
	round := 2 * (n.Length + n.Width) / 1000
	l := lump{name: n.Name, c: k.Density * 1000 * vol * k.SpecificHeat, area: area + round*n.Height/1000}
	cells := m.rect(n.X, n.Y, n.Length, n.Width)
	var sk skin
	if m.jet != nil {
		h, air := m.nearest(n)
		if n.Shielded {
			h *= shieldLeft
		}
		swept := sideFactor * h * round / 2 * min(n.Height, sideHigh) / 1000
		l.h, l.hT = swept, swept*air
		if n.Height <= sideHigh {
			h, air := m.airOver(cells)
			if n.Shielded {
				h *= shieldLeft
			}
			l.h += h * area
			l.hT += h * area * air
		}
		sk = skin{air: air, ratio: h / k.Skin}
	}
	i := m.addLump(l)
	m.neighbour = append(m.neighbour, i)
	m.skins = append(m.skins, sk)
	gap := area / (maskGap/1000/airGap + n.Height/4000/0.25)
	m.spread(i, cells, m.set.Vary.Contact*(k.Joint+gap))
}

// nearest is the jet at the point of the neighbour nearest to the part's centre.
func (m *model) nearest(n Neighbour) (h, air float64) {
	dx := max(math.Abs(n.X-m.job.Part.X)-n.Length/2, 0)
	dy := max(math.Abs(n.Y-m.job.Part.Y)-n.Width/2, 0)
	h, hT := m.jet.field(dx, dy, m.job.Tool.HotAir.Orbit)
	return h, hT / h
}

// buildTip makes the iron: a lump with a limited heater, linked to the joints it
// touches while the tool is on.
func (m *model) buildTip() {
	r := m.job.Tool.Iron
	m.net.tip = m.addLump(lump{name: "tip", c: orDefault(r.Capacity, 1.5), t: r.TipTemp,
		heater: heater{power: r.Power, set: r.TipTemp}})
	pads := m.tipPads()
	for _, i := range pads {
		m.spread(m.net.tip, m.joints[i].cells, r.Contact*m.set.Vary.Contact/float64(len(pads)))
	}
}
