package heat

import (
	"math"
	"testing"
)

// Closed forms: Incropera, Fundamentals of Heat and Mass Transfer, ch. 3 and 5. The
// figures in the tables were computed from them for FR-4 with k = 0.3 W/(m·K),
// ρ = 1850 kg/m³, c = 1100 J/(kg·K). The tests drive the very step of the solver.

const (
	testK  = 0.3
	testRC = 1850.0 * 1100
)

// wall is one column of area 1 m² and the given thickness, with convection at the
// faces, cut in n−1 slices.
func wall(thick float64, n int, hTop, hUnder, air, start float64) *model {
	p := newPlate(1, 1, n, 1)
	dz := thick / float64(n-1)
	for k := range n {
		p.c[k], p.t[k] = testRC*dz, start
		if k == 0 || k == n-1 {
			p.c[k] /= 2
		}
		if k < n-1 {
			p.gz[k] = testK / dz
		}
	}
	p.top.h[0], p.top.hT[0], p.top.on = hTop, hTop*air, true
	p.under.h[0], p.under.hT[0], p.under.on = hUnder, hUnder*air, true
	p.top.forced[0], p.under.forced[0] = true, true
	return &model{plate: p, net: network{tip: -1}}
}

// march steps to each time in turn and reads off.
func march(m *model, dt float64, times []float64, read func(i int)) {
	now := 0.0
	for i, t := range times {
		n := int(math.Ceil((t-now)/dt - 1e-9))
		for range n {
			m.step((t-now)/float64(n), implicit)
		}
		now = t
		read(i)
	}
}

func near(t *testing.T, what string, got, want, rise, share float64) {
	t.Helper()
	if d := math.Abs(got-want) / rise; !(d <= share) {
		t.Errorf("%s: got %.5g, want %.5g: off by %.2f %% of the rise", what, got, want, 100*d)
	}
}

func TestSlabConvectionBothSides(t *testing.T) {
	times := []float64{5, 10, 20, 40}
	mid := []float64{63.29, 101.27, 159.91, 230.39}
	face := []float64{81.04, 116.16, 170.41, 235.61}
	m := wall(1.6e-3, 33, 60, 60, 300, 25)
	march(m, 0.05, times, func(i int) {
		near(t, "middle", m.plate.t[16], mid[i], mid[i]-25, 0.01)
		near(t, "top face", m.plate.t[0], face[i], face[i]-25, 0.01)
		near(t, "bottom face", m.plate.t[32], face[i], face[i]-25, 0.01)
	})
}

// The default of three nodes through the thickness is coarse: this is what it costs.
func TestSlabThreeNodes(t *testing.T) {
	m := wall(1.6e-3, 3, 60, 60, 300, 25)
	march(m, 0.25, []float64{10, 20, 40}, func(i int) {
		near(t, "middle", m.plate.t[1], []float64{101.27, 159.91, 230.39}[i], 275, 0.01)
		near(t, "face", m.plate.t[0], []float64{116.16, 170.41, 235.61}[i], 275, 0.01)
	})
}

func TestSemiInfiniteConvection(t *testing.T) {
	// 60 mm stands for infinity: √(αt) is 3 mm at 60 s.
	times := []float64{5, 20, 60}
	face, deep := []float64{95.34, 140.39, 181.76}, []float64{33.35, 72.86, 124.96}
	m := wall(60e-3, 601, 100, 0, 300, 25)
	march(m, 0.02, times, func(i int) {
		near(t, "x = 0", m.plate.t[0], face[i], face[i]-25, 0.01)
		near(t, "x = 1.6 mm", m.plate.t[16], deep[i], deep[i]-25, 0.01)
	})
}

// A face held at one temperature (here by an enormous coefficient): θ = erfc(x/2√(αt)), and
// the heat taken up is 2kΔT√(t/πα). Incropera ch. 5.
func TestSemiInfiniteFixedFace(t *testing.T) {
	const rise = 200.0
	alpha := testK / testRC
	m := wall(60e-3, 601, 1e7, 0, 25+rise, 25)
	march(m, 0.02, []float64{5, 20, 60}, func(i int) {
		at := []float64{5, 20, 60}[i]
		near(t, "x = 1.6 mm", m.plate.t[16], 25+rise*math.Erfc(1.6e-3/(2*math.Sqrt(alpha*at))), rise, 0.01)
		taken := 0.0
		for k, c := range m.plate.c {
			taken += c * (m.plate.t[k] - 25)
		}
		want := 2 * testK * rise * math.Sqrt(at/(math.Pi*alpha))
		near(t, "heat taken up", taken, want, want, 0.01)
	})
}

// TestConvergence halves grid and step and compares with the closed form of the
// semi-infinite body, x = 0 and 1.6 mm at 20 s: the error in space falls as the square,
// in time at least in proportion.
func TestConvergence(t *testing.T) {
	exact := func(x, at float64) float64 {
		const h = 100.0
		alpha := testK / testRC
		a := x / (2 * math.Sqrt(alpha*at))
		b := h * math.Sqrt(alpha*at) / testK
		return 25 + 275*(math.Erfc(a)-math.Exp(h*x/testK+b*b)*math.Erfc(a+b))
	}
	if got := exact(0, 20); math.Abs(got-140.39) > 0.005 {
		t.Fatalf("closed form gives %.3f, the table 140.39", got)
	}
	at := func(n int, dt float64) float64 {
		m := wall(32e-3, n, 100, 0, 300, 25)
		march(m, dt, []float64{20}, func(int) {})
		return math.Abs(m.plate.t[(n-1)/20] - exact(1.6e-3, 20))
	}
	var space, time []float64
	for _, n := range []int{21, 41, 81} {
		space = append(space, at(n, 0.005))
	}
	for _, dt := range []float64{2, 1, 0.5} {
		time = append(time, at(641, dt))
	}
	t.Logf("x = 1.6 mm at 20 s, error in K: cells of 1.6, 0.8, 0.4 mm %.3g; steps of 2, 1, 0.5 s %.3g", space, time)
	for i := 1; i < 3; i++ {
		if r := space[i-1] / space[i]; r < 3 {
			t.Errorf("halving the cells divides the error by %.2f, want about 4", r)
		}
		if r := time[i-1] / time[i]; r < 1.7 {
			t.Errorf("halving the step divides the error by %.2f, want 2 or more", r)
		}
	}
}

// lumped: τ = 37.5 s; 25 → 217 °C in 300 °C air after 44.92 s.
func TestLumpedBody(t *testing.T) {
	const h, area, c = 60, 4e-4, 1e-3 * 900
	p := newPlate(1, 1, 2, 1)
	p.c[0], p.c[1] = 1, 1
	m := &model{plate: p, net: network{tip: -1, jetOn: true, lumps: []lump{{c: c, t: 25, h: h * area, hT: h * area * 300}},
		still: newLossTable(0.01, 25, true, false)}}
	march(m, 0.25, []float64{10, 20, 44.92, 90}, func(i int) {
		at := []float64{10, 20, 44.92, 90}[i]
		near(t, "lump", m.net.lumps[0].t, 300-275*math.Exp(-at/37.5), 275, 0.001)
	})
	m.net.lumps[0].t = 25
	march(m, 0.25, []float64{44.92}, func(int) { near(t, "217 °C", m.net.lumps[0].t, 217, 192, 0.001) })
}

// fin is a strip of board heated at one end by a lump held at 1 and cooled on both
// faces to 0 along x, or along y if turned.
func fin(n int, length, k, thick, h float64, turned bool) (base float64, tip float64) {
	nx, ny := n, 1
	if turned {
		nx, ny = 1, n
	}
	p := newPlate(nx, ny, 2, 1)
	dx := length / float64(n)
	g := k * thick / 2 / dx // per half thickness and metre of width
	for i := range n {
		for z := range 2 {
			q := i*2 + z
			p.c[q] = testRC * thick / 2 * dx
			if i < n-1 && !turned {
				p.gx[q] = g
			}
			if i < n-1 && turned {
				p.gy[q] = g
			}
		}
		p.gz[i*2] = 1e4 * dx // the fin formula knows no thickness
		for _, f := range []*surface{&p.top, &p.under} {
			f.h[i], f.on, f.forced[i] = h*dx, true, true
		}
	}
	m := &model{plate: p, net: network{tip: -1, lumps: []lump{{c: 1e9, t: 1}},
		links: []link{{0, 0, 2 * g}, {0, 1, 2 * g}}}}
	for range 400 {
		m.step(5, implicit)
	}
	return 2 * g * (2 - p.t[0] - p.t[1]), p.t[(n-1)*2]
}

// Fin with adiabatic tip: θ_tip/θ_b = 1/cosh mL, η = tanh(mL)/(mL); for mL = 1
// 0.6481 and 0.7616. Bare FR-4, k = 0.9, 1.6 mm, h = 20: 1/m = 6.0 mm, with 2 × 35 µm
// full copper (k = 17.0) 26.6 mm.
func TestFin(t *testing.T) {
	for _, c := range []struct {
		k, reach float64
	}{{0.9, 6.0e-3}, {17.0 * 1.67 / 1.6, 26.6e-3}} { // 17.0 counts over 1.6 mm and 70 µm
		m := math.Sqrt(2 * 20 / (c.k * 1.6e-3))
		near(t, "1/m", 1/m, c.reach, c.reach, 0.01)
		for _, turned := range []bool{false, true} {
			q, tip := fin(100, 1/m, c.k, 1.6e-3, 20, turned)
			near(t, "tip", tip, 0.6481, 0.6481, 0.001)
			near(t, "efficiency", q/(20*2/m), 0.7616, 0.7616, 0.001)
		}
	}
	var errs []float64
	for _, n := range []int{5, 10, 20} {
		_, tip := fin(n, 6e-3, 0.9, 1.6e-3, 20, false)
		errs = append(errs, math.Abs(tip-1/math.Cosh(6e-3*math.Sqrt(2*20/(0.9*1.6e-3)))))
	}
	t.Logf("fin tip with 5, 10, 20 cells: errors %.2g", errs)
	if errs[0]/errs[1] < 3 || errs[1]/errs[2] < 3 {
		t.Errorf("errors %v do not fall as the square of the cell", errs)
	}
	_, far := fin(200, 40e-3, 0.9, 1.6e-3, 20, false)
	if far > 0.005 {
		t.Errorf("40 mm of bare board pass %.3g", far)
	}
}

// Layers in parallel: full 35 µm on both sides of 1.6 mm, k_FR4 = 0.9, give
// 17.0 W/(m·K) (with 385 W/(m·K) for copper; the table's measured foil has 391). The
// built plate must conduct along x and y as its layers do, whatever the nodes.
func TestBoardConductsAsItsLayers(t *testing.T) {
	parallel := func(kCu float64) float64 { return (kCu*70e-6 + 0.9*1.6e-3) / 1.67e-3 }
	near(t, "closed form", parallel(385), 17.0, 17.0, 0.001)
	for _, nodes := range []int{2, 3, 4, 9} {
		p, err := PartFor("U1", "0402", 20, 20)
		if err != nil {
			t.Fatal(err)
		}
		j, err := Job{Board: Board{Width: 40, Height: 40, Thickness: 1.6, Layers: 2, CopperShare: 1}, Part: p,
			Tool: Tool{Iron: &Iron{TipTemp: 350, Contact: 0.2, Power: 50}}}.withDefaults()
		if err != nil {
			t.Fatal(err)
		}
		s, err := Settings{Nodes: nodes, Cell: 2, Uniform: true}.withDefaults(j)
		if err != nil {
			t.Fatal(err)
		}
		m := newModel(j, s)
		x, y := 0.0, 0.0
		for k := range nodes {
			x += m.plate.gx[k] * m.mesh.dx(0) / m.mesh.dy(0)
			y += m.plate.gy[k] * m.mesh.dy(0) / m.mesh.dx(0)
		}
		want := parallel(materials[matCopper].Conductivity) * 1.67e-3
		near(t, "along x", x, want, want, 1e-9)
		near(t, "along y", y, want, want, 1e-9)
	}
}

// A hot spot on an insulated plate spreads without loss and forgets the directions:
// x and y sweeps must agree, and the heat must stay.
func TestPlateSymmetryAndConservation(t *testing.T) {
	const n, nz = 21, 3
	p := newPlate(n, n, nz, 2)
	for j := range n {
		for i := range n {
			for k := range nz {
				q := (j*n+i)*nz + k
				p.c[q] = 1
				if i < n-1 {
					p.gx[q] = 0.7
				}
				if j < n-1 {
					p.gy[q] = 0.7
				}
				if k < nz-1 {
					p.gz[q] = 0.2
				}
			}
		}
	}
	mid := (n/2*n + n/2) * nz
	p.t[mid] = 1000
	m := &model{plate: p, net: network{tip: -1}}
	for range 30 {
		m.step(0.5, implicit)
	}
	sum := 0.0
	for _, v := range p.t {
		sum += v
	}
	if math.Abs(sum-1000) > 1e-9 {
		t.Errorf("heat changed from 1000 to %.12g", sum)
	}
	for d := 1; d < n/2; d++ {
		x, y := p.t[mid+d*nz], p.t[mid+d*n*nz]
		if math.Abs(x-y) > 0.002*p.t[mid] {
			t.Errorf("%d cells away: %.6g along x, %.6g along y", d, x, y)
		}
	}
}

// TestFastModesDecay: with a step a thousand times the fast time constants nothing
// grows.
func TestFastModesDecay(t *testing.T) {
	p := newPlate(8, 8, 3, 1)
	for q := range p.c {
		p.c[q] = 1e-4
		p.t[q] = float64(q*7919%101) - 50
		if q/3%8 < 7 {
			p.gx[q] = 0.5
		}
		if q/24 < 7 {
			p.gy[q] = 0.5
		}
		if q%3 < 2 {
			p.gz[q] = 0.5
		}
	}
	m := &model{plate: p, net: network{tip: -1}}
	for i := range 200 {
		m.step(0.25, implicit)
		for _, v := range p.t {
			if math.Abs(v) > 60 {
				t.Fatalf("step %d: %.3g from a start within ±50", i, v)
			}
		}
	}
}

// Latent heat: a node fed with constant power stays at the melting point for L/P.
func TestLatentPlateau(t *testing.T) {
	p := newPlate(1, 1, 2, 1)
	p.c[0], p.c[1], p.t[0] = 0.5, 1e-9, 20
	p.top.h[0], p.top.hT[0], p.top.on, p.top.forced[0] = 1e-9, 10, true, true // 10 W
	r := &run{model: &model{plate: p, net: network{tip: -1}, alloy: Alloy{Solidus: 183, Liquidus: 183},
		melts: []melting{{node: 0, latent: 37}}}, res: &Result{}}
	at := map[string]float64{}
	for i := range 4000 {
		r.forward(0.01, implicit)
		now := float64(i+1) * 0.01
		if p.t[0] >= 183-1e-9 && at["start"] == 0 {
			at["start"] = now
		}
		if p.t[0] > 183+1e-6 && at["end"] == 0 {
			at["end"] = now
		}
	}
	near(t, "reaches 183 °C", at["start"], 0.5*163/10, 8.15, 0.005)
	near(t, "plateau", at["end"]-at["start"], 3.7, 3.7, 0.01)
}
