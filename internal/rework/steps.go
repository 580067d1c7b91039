package rework

import "fettler/internal/part"

// A Step is one thing to do, in its place in the order.
type Step struct {
	ID       string // unique within the family; journals keep it
	Title    string
	How      string
	Cautions []Caution
	With     []string // what it takes
	Source   part.Source
}

// A Caution is what can hurt at a step. Kind is one of the bench notes' kinds of hazard.
type Caution struct{ Kind, Text string }

// practice marks what the trade does without a single source.
var practice = part.Source{Mark: part.Practice}

// Steps returns the ordered steps for a family, nil if there is no such family.
func Steps(family string) []Step {
	middle, ok := middles[family]
	if !ok {
		return nil
	}
	var out []Step
	for _, s := range [][]Step{begin, middle.off, clean, middle.on, end} {
		out = append(out, s...)
	}
	for i := range out {
		if out[i].Source.Mark == "" {
			out[i].Source = practice
		}
	}
	return out
}

// StepByID finds a step of a family.
func StepByID(family, id string) (Step, bool) {
	for _, s := range Steps(family) {
		if s.ID == id {
			return s, true
		}
	}
	return Step{}, false
}

// A middle is what differs between the families: taking off, and putting on.
type middle struct{ off, on []Step }

var (
	hot     = Caution{"hot tools", "Tip and air burn and set fire. Stand, glasses, a bench with nothing on it that burns."}
	fumes   = Caution{"fumes", "Flux smoke irritates lungs and eyes: extract it at the board or air the room, head out of the plume."}
	spatter = Caution{"hot tools", "Solder spits when a lead springs free or a pad is wiped: wear glasses."}
	venting = Caution{"hot surface", "A heated electrolytic vents hot, caustic vapour without warning: never over it, never with the nozzle on the can."}
)

var begin = []Step{
	{ID: "photograph", Title: "Photograph first", How: "Both sides, whole board and close, sharp enough to read the designators; the plugs too, before any is pulled.", With: []string{"camera"}},
	{ID: "safe", Title: "Make it safe", How: "Plug out and in sight, batteries out. Empty the large capacitors through a resistor, measure below 5 V, wait a minute, measure again.",
		With: []string{"multimeter", "discharge resistor"}, Cautions: []Caution{
			{"stored charge", "Reservoirs of mains equipment hold enough to kill after the plug is out. Measure, do not trust a bleeder."},
			{"lithium", "Cells out of the device before any heat."}}},
	{ID: "loose", Title: "Write down what comes off", How: "Each screw with its hole, each cable with its socket, where it is kept: so that none is left over.", With: []string{"trays"}},
	{ID: "mark", Title: "Mark which way round", How: "Polarity or pin 1, on the photo and on paper, of the part and of every polarised neighbour that has to move."},
	{ID: "shelter", Title: "Shelter the neighbours", How: "Polyimide tape or a metal screen over plastics, cans and what the heat page names; board in a holder, underside free."},
}

var clean = []Step{
	{ID: "braid", Title: "Take up the old solder", How: "Fresh flux, braid, a broad tip on the braid; lift braid and tip together while it is molten, never drag dry.", With: []string{"braid", "flux", "soldering iron"}, Cautions: []Caution{hot, fumes}},
	{ID: "pads", Title: "Clean and look at the pads", How: "Isopropyl alcohol and a brush, then a magnifier: every pad flat, bright and stuck down. A lifted pad is glued or bridged with wire now, not later.",
		With: []string{"isopropyl alcohol", "magnifier"}, Cautions: []Caution{{"fumes", "Alcohol burns: tools off and cooled before it comes out, and let it dry."}}},
}

var end = []Step{
	{ID: "bridges", Title: "Look for bridges and dull joints", How: "Magnifier and slanting light, all pins; then the meter between neighbouring pins and from supply to ground.", With: []string{"magnifier", "multimeter"}},
	{ID: "round", Title: "Which way round, once more", How: "Compare with the photo from before: the same mark in the same direction on every polarised part."},
	{ID: "wash", Title: "Wash with isopropyl alcohol", How: "Brush, fresh alcohol, lint-free cloth; under the body too. Keep it out of potentiometers, relays, loudspeakers and displays. Dry until nothing smells.",
		With: []string{"isopropyl alcohol"}, Cautions: []Caution{{"fumes", "Alcohol vapour catches fire: no iron, no hot air, no power until it has dried. Air the room."}}},
	{ID: "refit", Title: "Every connector back in, loudspeakers included, before power", How: "Against the list and the photo. A supply without its sense lead may not survive being tried, and a loud noise or silence may be only a plug left out. If an output stage was mended, a load resistor takes the loudspeaker's plug for the first minute."},
}
