package heat_test

import (
	"math"
	"testing"

	"fettler/internal/heat"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func sample(nx, ny int, d float64, f func(x, y float64) float64) heat.Grid {
	g := heat.Grid{Nx: nx, Ny: ny, Dx: d, Dy: d, Values: make([]float64, nx*ny)}
	for j := range ny {
		for i := range nx {
			g.Values[j*nx+i] = f(float64(i)*d, float64(j)*d)
		}
	}
	return g
}

func length(c heat.Contour) (l, area float64) {
	n := len(c.Points)
	for i := range n {
		if i == n-1 && !c.Closed {
			break
		}
		a, b := c.Points[i], c.Points[(i+1)%n]
		l += math.Hypot(b[0]-a[0], b[1]-a[1])
		area += (a[0]*b[1] - b[0]*a[1]) / 2
	}
	return l, area
}

// A cone has circles: one closed line each, circumference 2πr and area πr², the high
// side (the middle) on the left, that is counter-clockwise.
func TestContourCircles(t *testing.T) {
	g := sample(101, 101, 0.5, func(x, y float64) float64 { return 300 - 10*math.Hypot(x-25, y-25) })
	cs, err := heat.Contours(g, []float64{100, 217})
	if err != nil {
		t.Fatal(err)
	}
	if len(cs) != 2 {
		t.Fatalf("%d lines, want 2", len(cs))
	}
	for i, r := range []float64{20, 8.3} {
		l, area := length(cs[i])
		if !cs[i].Closed || math.Abs(l/(2*math.Pi*r)-1) > 2e-3 || math.Abs(area/(math.Pi*r*r)-1) > 2e-3 {
			t.Errorf("radius %v: closed %v, length %v, area %v", r, cs[i].Closed, l, area)
		}
	}
	if cs[1].Label != "217 °C" || cs[1].Angle < -90 || cs[1].Angle > 90 || math.Abs(math.Hypot(cs[1].LabelAt[0]-25, cs[1].LabelAt[1]-25)-8.3) > 0.05 {
		t.Errorf("label %q at %v, %v°", cs[1].Label, cs[1].LabelAt, cs[1].Angle)
	}
}

// A ramp has one straight open line, exactly where the value is.
func TestContourRamp(t *testing.T) {
	g := sample(5, 4, 2, func(x, _ float64) float64 { return x })
	cs, err := heat.Contours(g, []float64{3})
	if err != nil {
		t.Fatal(err)
	}
	want := []heat.Contour{{Level: 3, Label: "3 °C", Points: [][2]float64{{3, 6}, {3, 4}, {3, 2}, {3, 0}}, LabelAt: [2]float64{3, 3}, Angle: -90}}
	// the high side (x > 3) is on the left: the line runs down
	for i := range want[0].Points {
		want[0].Points[i][1] = 6 - 2*float64(i)
	}
	if d := cmp.Diff(want, cs); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// A saddle: the mean of the corners decides which pair is joined.
func TestContourSaddle(t *testing.T) {
	for _, c := range []struct {
		values []float64
		along  bool // the high corners (lower left, upper right) are joined
	}{{[]float64{10, 0, 0, 10}, true}, {[]float64{6, 0, 0, 6}, false}} {
		cs, err := heat.Contours(heat.Grid{Nx: 2, Ny: 2, Dx: 1, Dy: 1, Values: c.values}, []float64{4})
		if err != nil {
			t.Fatal(err)
		}
		if len(cs) != 2 {
			t.Fatalf("%d lines", len(cs))
		}
		for _, l := range cs {
			a, b := l.Points[0], l.Points[1]
			mid := [2]float64{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
			if lowCorner := (mid[0] < 0.5) != (mid[1] < 0.5); lowCorner != c.along {
				t.Errorf("%v: a line around %v", c.values, mid)
			}
		}
	}
}

// Any field: every point lies on a grid line where the interpolated value is the level;
// open lines end on the border; the answer is the same each time.
func TestContourProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nx, ny := rapid.IntRange(1, 7).Draw(t, "nx"), rapid.IntRange(1, 7).Draw(t, "ny")
		g := heat.Grid{Nx: nx, Ny: ny, Dx: 1, Dy: 1, Values: rapid.SliceOfN(rapid.Float64Range(-3, 3), nx*ny, nx*ny).Draw(t, "values")}
		for i := range g.Values {
			if rapid.Bool().Draw(t, "round") {
				g.Values[i] = math.Round(g.Values[i])
			}
		}
		level := float64(rapid.IntRange(-3, 3).Draw(t, "level"))
		cs, err := heat.Contours(g, []float64{level})
		if err != nil {
			t.Fatal(err)
		}
		border := func(p [2]float64) bool {
			return p[0] == 0 || p[1] == 0 || p[0] == float64(nx-1) || p[1] == float64(ny-1)
		}
		for _, c := range cs {
			for _, p := range c.Points {
				i, j := min(int(p[0]), nx-1), min(int(p[1]), ny-1)
				fx, fy := p[0]-float64(i), p[1]-float64(j)
				k := j*nx + i
				v := g.Values[k]
				if fx > 0 {
					v += fx * (g.Values[k+1] - v)
				} else if fy > 0 {
					v += fy * (g.Values[k+nx] - v)
				}
				if fx > 0 && fy > 0 || math.Abs(v-level) > 1e-9 {
					t.Errorf("point %v has %v, want %v", p, v, level)
				}
			}
			if n := len(c.Points); !c.Closed && !(border(c.Points[0]) && border(c.Points[n-1])) {
				t.Errorf("open line ends inside: %v … %v", c.Points[0], c.Points[n-1])
			}
		}
		again, _ := heat.Contours(g, []float64{level})
		if d := cmp.Diff(cs, again); d != "" {
			t.Errorf("not the same twice: %s", d)
		}
	})
}

func TestContourBadInput(t *testing.T) {
	good := heat.Grid{Nx: 2, Ny: 1, Dx: 1, Dy: 1, Values: []float64{0, 1}}
	for name, c := range map[string]struct {
		change func(*heat.Grid)
		level  float64
	}{
		"count":   {func(g *heat.Grid) { g.Nx = 3 }, 0.5},
		"nan":     {func(g *heat.Grid) { g.Values = []float64{0, math.NaN()} }, 0.5},
		"spacing": {func(g *heat.Grid) { g.Dx = 0 }, 0.5},
		"level":   {func(*heat.Grid) {}, math.Inf(1)},
	} {
		g := good
		c.change(&g)
		if _, err := heat.Contours(g, []float64{c.level}); err == nil {
			t.Errorf("%s accepted", name)
		}
	}
}

// A run's frame can be drawn: the melting line closes around the part.
func TestContourOfRun(t *testing.T) {
	j := speaker(t, "SOIC-8")
	r, err := heat.Simulate(t.Context(), j, heat.Settings{Hold: 1, Cool: 0.01})
	if err != nil {
		t.Fatal(err)
	}
	g := r.History.Grid(len(r.History.Frames)-1, false)
	cs, err := heat.Contours(g, []float64{150})
	if err != nil {
		t.Fatal(err)
	}
	if len(cs) != 1 || !cs[0].Closed {
		t.Fatalf("%d lines at 150 °C", len(cs))
	}
	for _, p := range cs[0].Points {
		if d := math.Hypot(p[0]-25, p[1]-20); d > 20 {
			t.Errorf("150 °C at %v, %.0f mm from the part", p, d)
		}
	}
}
