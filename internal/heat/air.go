package heat

import "math"

const (
	kelvin       = 273.15
	stefan       = 5.670374e-8 // W/(m²·K⁴)
	emissivity   = 0.9         // solder mask, mould compound; from memory
	airHeat      = 1005.0      // J/(kg·K)
	airDensity20 = 1.204       // kg/m³ at 20 °C, 101.325 kPa
)

// airAt gives conductivity W/(m·K) and kinematic viscosity m²/s of air at one
// atmosphere and c °C: Sutherland's law for viscosity, its three-constant form for
// conductivity, ideal gas for density. Within 4 % of tables from 0 to 600 °C.
func airAt(c float64) (k, nu float64) {
	t := c + kelvin
	t15 := t * math.Sqrt(t)
	mu := 1.458e-6 * t15 / (t + 110.4)
	k = 2.64638e-3 * t15 / (t + 245.4*math.Pow(10, -12/t))
	return k, mu * 287.05 * t / 101325
}

// freePlate is the coefficient of free convection from a horizontal plate with
// characteristic length l (area/perimeter, m), excess dT (K):
// Nu = 0.54 Ra^¼ for the face turned up, half of that for the face turned down
// (Incropera ch. 9, from memory), with air properties at the film temperature.
func freePlate(l, dT, ambient float64, up bool) float64 {
	dT = math.Abs(dT)
	if dT == 0 {
		return 0
	}
	film := ambient + dT/2
	k, nu := airAt(film)
	ra := 9.81 / (film + kelvin) * dT * l * l * l * 0.70 / (nu * nu)
	n := 0.27
	if up {
		n = 0.54
	}
	return n * math.Sqrt(math.Sqrt(ra)) * k / l
}

// A lossTable holds the secant coefficient h with q = h·(T − T_amb) for free
// convection and radiation, tabulated per kelvin so that the inner loop is one
// interpolation.
type lossTable struct {
	from float64
	h    []float64
}

const (
	lossFrom = -60.0
	lossTo   = 1100.0
)

func newLossTable(l, ambient float64, up, free bool) lossTable {
	t := lossTable{from: lossFrom, h: make([]float64, int(lossTo-lossFrom)+2)}
	ta := ambient + kelvin
	for i := range t.h {
		c := lossFrom + float64(i)
		tk := c + kelvin
		t.h[i] = emissivity * stefan * (tk + ta) * (tk*tk + ta*ta)
		if free {
			t.h[i] += freePlate(l, c-ambient, ambient, up)
		}
	}
	return t
}

// at interpolates and clamps to the ends of the table.
func (t *lossTable) at(c float64) float64 {
	x := c - t.from
	if !(x > 0) {
		return t.h[0]
	}
	i := int(x)
	if i >= len(t.h)-1 {
		return t.h[len(t.h)-1]
	}
	return t.h[i] + (x-float64(i))*(t.h[i+1]-t.h[i])
}
