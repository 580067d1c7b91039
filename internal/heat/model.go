package heat

import "math"

// A model is a job turned into a plate, a network of lumps and joints. SI units.
type model struct {
	job       Job
	set       Settings
	alloy     Alloy
	plate     *plate
	net       network
	stepper   stepper
	stiffness float64 // see stiffRate
	calm      bool    // nothing jumps in this step: the factored form will do
	joints    []joint
	jet       *Jet

	mesh      mesh
	across    [][]within // for a frame: the columns that make up each of its cells, in x
	along     [][]within // … and in y
	cover     []float64
	case_     int // lump indices
	die       int
	neighbour []int
	caseSkin  float64 // K·m²/W from the centre of the upper half to its surface
	caseH     float64 // W/(m²·K) of the jet on top of the body
	skins     []skin
	melts     []melting
}

// A joint is one solder joint: the surface nodes under its pad.
type joint struct {
	name     string
	cells    []share
	melts    []int // indices into model.melts
	required bool
}

// A share is a column with the fraction of a rectangle that lies in it.
type share struct {
	col      int
	of, fill float64 // fraction of the rectangle; fraction of the cell
}

// A melting node holds solder: enthalpy between solidus and liquidus.
type melting struct {
	node        int
	latent, got float64 // J
}

// A skin is the face of a neighbour turned to the tool.
type skin struct {
	air, ratio float64 // T_skin = (T_body + ratio·T_air)/(1 + ratio)
}

// viaConductance is the copper section of a plated hole of 0.3 mm with 25 µm wall
// times conductivity, W·m/K; pinConductance that of a plated hole with its pin.
const (
	viaSection   = math.Pi * 0.3e-3 * 25e-6
	pinSection   = 1.0e-7 // m² of copper: 0.9 mm barrel and a brass or steel pin; an estimate
	padSolder    = 0.1    // mm of solder on a pad if nothing else is said
	holeSolder   = 0.35   // mm² around a pin of 0.6 mm in a hole of 0.9 mm
	filletSolder = 0.5    // mm³ of both fillets
	// padSpread caps how much better a pad conducts along the board than the surface
	// around it. More changes the melting time by less than 1 % (the surroundings
	// limit the spreading) but lengthens the time step's error.
	padSpread  = 3.0
	leadFin    = 0.5   // extra air-swept area of a lead per pad area outside the body
	sideFactor = 0.7   // coefficient at a side wall compared with the face below the jet
	sideHigh   = 4.0   // mm of a side wall swept by the air running along the board
	shieldLeft = 0.25  // share of the hot-air coefficient left under a shield
	maskGap    = 0.3   // mm of air under a neighbour
	airGap     = 0.035 // W/(m·K), air at about 150 °C
	jetWins    = 8.0   // W/(m²·K): above it the jet replaces free convection
)

func newModel(j Job, s Settings) *model {
	alloy, _ := AlloyByName(j.Alloy)
	g := newMesh(j, s)
	m := &model{job: j, set: s, alloy: alloy, plate: newPlate(g.nx(), g.ny(), s.Nodes, s.Workers), mesh: g, cover: make([]float64, g.nx()*g.ny())}
	m.plate.ambient = j.Ambient
	for q := range m.plate.t {
		m.plate.t[q] = j.Ambient
	}
	m.coverBodies()
	m.buildPlate()
	m.buildSurfaces()
	m.buildLumps()
	return m
}

// rect spreads a rectangle (mm) over the columns it covers.
func (m *model) rect(x, y, w, h float64) []share { return m.mesh.rect(x, y, w, h) }

func (m *model) coverBodies() {
	mark := func(x, y, w, h float64) {
		for _, s := range m.rect(x, y, w, h) {
			m.cover[s.col] = min(m.cover[s.col]+s.fill, 1)
		}
	}
	p := m.job.Part
	mark(p.X, p.Y, p.Length, p.Width)
	for _, n := range m.job.Neighbours {
		mark(n.X, n.Y, n.Length, n.Width)
	}
}

// copperAt spreads the copper layers over the nodes through the thickness: stored
// and conducting thickness, m.
func (m *model) copperAt() (stored, conducts []float64) {
	b, nz := m.job.Board, m.plate.nz
	stored, conducts = make([]float64, nz), make([]float64, nz)
	for l := range b.Layers {
		share := b.CopperShare
		if b.PlaneUnder && l == 1 {
			share = b.PlaneShare
		}
		share = min(max(share*m.set.Vary.Copper, 0.02), 1)
		z := 0.0
		if b.Layers > 1 {
			z = float64(l) / float64(b.Layers-1) * float64(nz-1)
		}
		k := min(int(z), nz-2)
		f := z - float64(k)
		t := b.CopperThickness * 1e-6
		stored[k] += (1 - f) * t * share
		stored[k+1] += f * t * share
		conducts[k] += (1 - f) * t * share * share
		conducts[k+1] += f * t * share * share
	}
	return stored, conducts
}

// buildPlate sets capacities and conductances from laminate, copper, pads, solder.
func (m *model) buildPlate() {
	p, b := m.plate, m.job.Board
	fr4, cu := materials[matFR4], materials[matCopper]
	thick := b.Thickness / 1000
	dz := thick / float64(p.nz-1)
	stored, conducts := m.copperAt()
	sheet := make([]float64, len(p.c)) // W/K
	for q := range p.c {
		k := q % p.nz
		vol := dz
		if k == 0 || k == p.nz-1 {
			vol = dz / 2
		}
		cell := m.mesh.area(q / p.nz)
		p.c[q] = cell * (fr4.Density*fr4.SpecificHeat*vol + cu.Density*cu.SpecificHeat*stored[k])
		sheet[q] = fr4.Conductivity*vol + cu.Conductivity*conducts[k]
		if k < p.nz-1 {
			p.gz[q] = fr4.Through / dz * cell
		}
	}
	m.addPads(sheet, dz, conducts[0])
	half := func(a, da, b, db float64) float64 { return 2 / (da/a + db/b) } // sheets in series, from centre to centre
	g := &m.mesh
	for j := range p.ny {
		for i := range p.nx {
			for k := range p.nz {
				q := (j*p.nx+i)*p.nz + k
				if i < p.nx-1 {
					p.gx[q] = half(sheet[q], g.dx(i), sheet[q+p.nz], g.dx(i+1)) * g.dy(j)
				}
				if j < p.ny-1 {
					p.gy[q] = half(sheet[q], g.dy(j), sheet[q+p.nx*p.nz], g.dy(j+1)) * g.dx(i)
				}
			}
		}
	}
}

// addPads lays pad copper, solder, vias and pins into the plate and makes the joints.
func (m *model) addPads(sheet []float64, dz, conducts0 float64) {
	p, cu := m.plate, materials[matCopper]
	solder := materials[matSAC]
	if !m.alloy.LeadFree {
		solder = materials[matSnPb]
	}
	foil := m.job.Board.CopperThickness * 1e-6
	touched := m.touched()
	base := sheet[0]
	for i, pad := range m.job.Part.Pads {
		jt := joint{name: pad.Name, required: touched[i],
			cells: m.rect(m.job.Part.X+pad.X, m.job.Part.Y+pad.Y, pad.Width, pad.Height)}
		area := pad.Width * pad.Height * 1e-6
		vol := orDefault(pad.Solder, m.usualSolder(pad)) * 1e-9
		mass := vol * solder.Density
		down := float64(pad.Vias) * viaSection * cu.Conductivity
		if pad.Through {
			down += pinSection * cu.Conductivity
		}
		for _, s := range jt.cells {
			q := s.col * p.nz
			depth := 1
			if pad.Through {
				depth = p.nz
			}
			for k := range depth {
				part := s.of / float64(depth)
				p.c[q+k] += part * mass * solder.SpecificHeat
				jt.melts = append(jt.melts, len(m.melts))
				m.melts = append(m.melts, melting{node: q + k, latent: part * mass * m.alloy.LatentHeat * 1000})
			}
			sheet[q] += s.fill * min(max(cu.Conductivity*(foil-conducts0), 0)+solder.Conductivity*vol/area, padSpread*base)
			for k := range p.nz - 1 {
				p.gz[q+k] += down / dz * s.of
			}
		}
		m.joints = append(m.joints, jt)
	}
}

// usualSolder is the solder on a pad if the job does not say, mm³: a layer, and for a
// pin the filled hole and two fillets.
func (m *model) usualSolder(pad Pad) float64 {
	v := pad.Width * pad.Height * padSolder
	if pad.Through {
		v += holeSolder*m.job.Board.Thickness + filletSolder
	}
	return v
}

// touched says which joints must melt: all of them, or with an iron alone those it
// touches.
func (m *model) touched() []bool {
	pads := m.job.Part.Pads
	t := make([]bool, len(pads))
	if m.job.Tool.HotAir == nil && m.job.Tool.Iron != nil {
		for _, i := range m.tipPads() {
			t[i] = true
		}
		return t
	}
	for i := range t {
		t[i] = true
	}
	return t
}

func (m *model) tipPads() []int {
	if r := m.job.Tool.Iron; len(r.Pads) > 0 {
		return r.Pads
	}
	return []int{0}
}

// buildSurfaces sets what the faces exchange with hot air, preheater and room.
func (m *model) buildSurfaces() {
	p, b, n := m.plate, m.job.Board, len(m.cover)
	length := b.Width * b.Height / (2 * (b.Width + b.Height)) / 1000
	for _, f := range []*surface{&p.top, &p.under} {
		f.free = newLossTable(length, m.job.Ambient, f == &p.top, true)
		f.still = newLossTable(length, m.job.Ambient, f == &p.top, false)
	}
	for c := range n {
		cell := m.mesh.area(c)
		p.top.area[c] = cell * (1 - m.cover[c])
		p.under.area[c] = cell
	}
	if m.job.Tool.HotAir != nil {
		m.blow()
	}
	if w := m.job.Tool.Preheat; w != nil {
		h := orDefault(w.H, 35) * m.set.Vary.H
		for _, s := range m.rect(m.job.Part.X, m.job.Part.Y, orDefault(w.Width, 4*b.Width), orDefault(w.Height, 4*b.Height)) {
			a := s.fill * m.mesh.area(s.col) * h
			p.under.h[s.col], p.under.hT[s.col] = a, a*w.Temp
			p.under.forced[s.col] = true
		}
	}
}

func (m *model) blow() {
	a, p := m.job.Tool.HotAir, m.plate
	jet, err := NewJet(a.Nozzle, a.Distance*m.set.Vary.Distance, a.Flow, a.SetTemp, m.job.Ambient, m.set.Vary.H)
	if err != nil {
		panic("heat: a checked job was refused: " + err.Error())
	}
	m.jet = jet
	p.each(p.ny, func(lo, hi int) {
		for c := lo * p.nx; c < hi*p.nx; c++ {
			h, hT := m.blowAt(c)
			area := m.mesh.area(c) * (1 - m.cover[c])
			p.top.h[c], p.top.hT[c] = h*area, hT*area
			p.top.forced[c] = h > jetWins
		}
	})
	for _, jt := range m.joints {
		for _, s := range jt.cells {
			gain := 1 + leadFin*s.fill
			p.top.h[s.col] *= gain
			p.top.hT[s.col] *= gain
		}
	}
	for _, n := range m.job.Neighbours {
		if !n.Shielded {
			continue
		}
		for _, s := range m.rect(n.X, n.Y, n.Length+2, n.Width+2) {
			left := 1 - s.fill*(1-shieldLeft)
			p.top.h[s.col] *= left
			p.top.hT[s.col] *= left
		}
	}
}

// blowAt is the jet over the centre of a column.
func (m *model) blowAt(col int) (h, hT float64) {
	x, y := m.mesh.centre(col)
	return m.jet.field(x-m.job.Part.X, y-m.job.Part.Y, m.job.Tool.HotAir.Orbit)
}
