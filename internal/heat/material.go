package heat

// A Material is one row of the table of thermal properties.
type Material struct {
	Name         string
	Conductivity float64 // W/(m·K); for laminates in plane
	Through      float64 // W/(m·K) through the plane; equals Conductivity if isotropic
	Density      float64 // kg/m³
	SpecificHeat float64 // J/(kg·K)
	Mark         Mark    // of the weakest of the values
	Source       string
}

const (
	matFR4 = iota
	matCopper
	matMould
	matSAC
	matSnPb
	matAluminium
	matPolyamide
	matSteel
	matCeramic
)

var materials = [...]Material{
	matFR4: {"FR-4 laminate", 0.9, 0.3, 1850, 1100, FromMemory,
		"conductivities between the published pairs 0.81/0.29 (material page) and 1.059/0.343 (Sarvar, Poole, Witting 1990); specific heat from memory"},
	matCopper: {"copper foil", 391, 391, 8960, 385, Verified,
		"measured foil, open-access study of laminates; density from memory"},
	matMould:     {"epoxy moulding compound", 0.75, 0.75, 1900, 880, FromMemory, "middle of 0.6–0.9 W/(m·K)"},
	matSAC:       {"solder, tin-silver-copper", 58, 58, 7370, 230, FromMemory, "conductivity and density from a supplier; specific heat from memory"},
	matSnPb:      {"solder, tin-lead", 50, 50, 8400, 170, FromMemory, ""},
	matAluminium: {"aluminium", 237, 237, 2700, 900, FromMemory, ""},
	matPolyamide: {"polyamide, glass filled", 0.25, 0.25, 1400, 1500, FromMemory, ""},
	matSteel:     {"steel or metal lid", 40, 40, 7850, 470, FromMemory, ""},
	matCeramic:   {"ceramic (alumina, titanate)", 10, 10, 4500, 700, FromMemory, ""},
}

// Thermal limits of standard laminate (from memory): glass transition and
// decomposition, °C. The glass transition is "over 120 °C" in the one source read.
const (
	defaultTg = 130.0
	defaultTd = 310.0
)
