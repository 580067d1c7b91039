package heat

// A Result is what one run shows. Times count from the moment the tool is applied
// (after the preheater's soak); −1 means never.
type Result struct {
	Alloy     Alloy
	Molten    float64 // s until every joint that must melt was liquid throughout; −1: not within the time
	Applied   float64 // s the tool was applied
	Coldest   float64 // °C, the highest that the coldest solder got
	Plateau   float64 // °C the coldest joint tends to, if it did not melt; else 0
	Joints    []JointResult
	Case, Die Peak
	// ClassTemp is J-STD-020's T_c for the body; NearClass the time within 5 K of it.
	ClassTemp, NearClass float64
	ClassMark            Mark
	Neighbours           []NeighbourResult
	Board                BoardResult
	Tip                  float64 // °C, lowest temperature of the iron's tip; 0 without an iron
	Jet                  *Jet    // nil without hot air
	Energy               Energy
	Trace                []Sample
	History              History
	Notes                []string // where a figure stands on weak ground
	Steps, Nodes         int      // of the computation
}

// A JointResult is one solder joint.
type JointResult struct {
	Name     string
	Required bool    // must melt with this tool
	Molten   float64 // s, −1: never
	Peak     float64 // °C, mean over the pad
	RampUp   float64 // K/s over one second
}

// A Peak is the highest temperature of a body and its steepest rise and fall over
// one second, K/s.
type Peak struct {
	Temp, At         float64 // °C, s
	RampUp, RampDown float64 // of the upper half as a whole for the case: a face follows the air in a moment
}

// A NeighbourResult is what a neighbour saw.
type NeighbourResult struct {
	Name, Kind string
	X, Y       float64 // mm, where it was put
	Peak       float64 // °C of the face turned to the tool
	Bulk       float64 // °C of the whole body
	At         float64 // s of the peak
	Limit      float64 // °C
	Shielded   bool
}

// Over says whether the limit was passed.
func (n NeighbourResult) Over() bool { return n.Peak > n.Limit }

// A BoardResult is what the laminate saw.
type BoardResult struct {
	Peak     float64 // °C anywhere
	OverTg   float64 // mm² of either face that passed the glass transition
	SecondTg float64 // s during which some part was above it
	OverTd   bool    // anywhere but under the tip of an iron
	Tg, Td   float64
}

// Energy is the balance of a run in joules: Jet + Preheat + Iron = Stored + Loss.
// Jet counts what hot air gives net, including where it cools.
type Energy struct {
	Jet, Preheat, Iron, Loss float64
	Stored                   float64 // sensible and latent, recomputed from the temperatures
	Residual                 float64 // imbalance over the heat turned over
	Offered                  float64 // what the hot air carried above room temperature; 0 without
}

// A Sample is one moment of the curves.
type Sample struct {
	Time             float64 // s
	Coldest, Hottest float64 // °C: coldest solder and hottest joint of those that must melt
	Case, Die        float64
	Neighbours       []float64 // faces, in the order of the job
}
