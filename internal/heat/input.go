package heat

// A Job is everything [Simulate] needs to know. Lengths are in mm, the origin is
// the lower left corner of the board, the part sits on top.
type Job struct {
	Board      Board
	Part       Part
	Neighbours []Neighbour
	Tool       Tool
	Alloy      string  // a name from [Alloys]; empty: [DefaultAlloy]
	Ambient    float64 // °C, −20 to 60; 0: 20
}

// A Board is the laminate with its copper.
type Board struct {
	Width, Height float64 // mm, 5 to 600
	Thickness     float64 // mm, 0.2 to 6
	Layers        int     // copper layers, 1 to 32
	// CopperShare is the share of the area that copper covers on the layers that
	// are not a plane, 0.02 to 1. Tracks do not join up: the sheet conducts as its
	// share squared (an assumption), and heat is stored as its share.
	CopperShare     float64
	CopperThickness float64 // µm, 9 to 420; 0: 35
	PlaneUnder      bool    // the layer next below the part is a plane
	PlaneShare      float64 // of the plane, 0.02 to 1; 0: 0.9
	Tg              float64 // °C, glass transition, 60 to 300; 0: 130
	Td              float64 // °C, decomposition, 150 to 500; 0: 310
}

// A Part is what is to be removed or reflowed. [PartFor] makes the common ones.
type Part struct {
	Name                  string
	X, Y                  float64 // mm, centre
	Length, Width, Height float64 // mm, body along x, y, z
	Mass                  float64 // g, body; 0: from the volume at 1.9 g/cm³
	Gap                   float64 // mm of air under the body, 0.01 to 20; 0: 0.1
	Pads                  []Pad
}

// A Pad is one joint, placed relative to the centre of the part.
type Pad struct {
	Name          string
	X, Y          float64 // mm, centre
	Width, Height float64 // mm along x and y
	Solder        float64 // mm³; 0: area × 0.1 mm, and the hole for a pin
	Lead          float64 // W/K from the die to the joint; 0: 0.003
	Vias          int     // plated holes of 0.3 mm in or at the pad, down to every plane
	Through       bool    // a pin in a plated hole
}

// A Neighbour is something near the part that minds heat.
type Neighbour struct {
	Name string
	Kind string // a name from [NeighbourKinds]
	// X, Y is the centre in mm. If Distance is above zero it counts instead: the gap
	// between the two bodies, and the neighbour is put on the side that has room.
	X, Y                  float64
	Distance              float64
	Length, Width, Height float64 // mm; all 0: typical for the kind
	Limit                 float64 // °C; 0: that of the kind
	Shielded              bool    // taped or screened: a quarter of the hot-air coefficient
}

// A Tool is what heats: hot air, an iron, or both, and perhaps a preheater.
type Tool struct {
	HotAir  *HotAir
	Iron    *Iron
	Preheat *Preheat
}

// HotAir is a round nozzle blowing down on the part.
type HotAir struct {
	SetTemp  float64 // °C at the nozzle, 60 to 550; displays often read higher than the air is
	Nozzle   float64 // mm, 1 to 60
	Distance float64 // mm from the board, 1 to 150
	Flow     float64 // l/min of air at 20 °C, 1 to 500
	Orbit    float64 // mm, radius in which the nozzle is moved around the part; 0: held still
}

// Iron is a wetted tip on one or more joints.
type Iron struct {
	TipTemp  float64 // °C, 100 to 500
	Contact  float64 // W/K from the tip to all joints touched together, 0.001 to 10
	Power    float64 // W, 5 to 500
	Capacity float64 // J/K of tip and heater, 0.1 to 50; 0: 1.5
	Pads     []int   // indices of the joints touched at once; empty: the first one
}

// Preheat warms the underside with air or a plate.
type Preheat struct {
	Temp          float64 // °C of the air, 40 to 400
	H             float64 // W/(m²·K), 3 to 200; 0: 35
	Soak          float64 // s before the tool is applied, 0 to 1800
	Width, Height float64 // mm of the heated area around the part; 0: the whole board
}

// Factors scale what the user cannot know; the zero value changes nothing.
type Factors struct {
	H        float64 // hot-air and preheat coefficient, 0.1 to 10
	Copper   float64 // copper share, 0.1 to 10 (the product is kept within 0.02 to 1)
	Contact  float64 // leads, gap and tip contact, 0.1 to 10
	Distance float64 // nozzle distance, 0.1 to 10
}

// Settings steer the computation; the zero value is the default throughout.
type Settings struct {
	Cell    float64 // mm of grid spacing at the part, 0.1 to 10; 0: 1
	Uniform bool    // the same spacing all over; else cells grow away from the part
	Nodes   int     // through the thickness, 2 to 64; 0: 3
	Step    float64 // s, 0.001 to 5; 0: 0.25, and 0.05 with an iron
	MaxTime float64 // s the tool is applied at most, 0.1 to 3600; 0: 120
	Hold    float64 // s the tool stays after the last joint has melted, 0.01 to 600; 0: 3
	// Full applies the tool for MaxTime even if every joint has melted earlier, or if it
	// is clear that they will not melt in time.
	Full    bool
	Cool    float64 // s to follow after the tool is gone, 0.01 to 600; 0: 15
	Workers int     // goroutines, 1 to 64; 0: GOMAXPROCS, at most 8
	Frames  float64 // s between frames of the history, 0.05 to 600; 0: 2; below 0: none
	// FrameCell is the spacing of the frames, mm, rounded to a multiple of the cell;
	// 0: 2.
	FrameCell float64
	Vary      Factors
	// Explicit uses the simple forward scheme with as many substeps as stability
	// asks for: the yardstick for the implicit one, many times slower.
	Explicit bool
}
