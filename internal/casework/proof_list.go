package casework

import (
	"slices"

	"fettler/internal/note"
)

// A TestPoint is one point of the test list: what to try before the device goes
// back, and what came of it.
type TestPoint struct {
	ID       string    `json:"id"`
	Title    string    `json:"title"`
	How      string    `json:"how"`
	Cautions []Caution `json:"cautions"`
	Licensed bool      `json:"licensed"` // for whom local rules allow it
	Result   string    `json:"result"`   // "good", "bad", "not here" or ""
	Words    string    `json:"words"`
	Event    int       `json:"event"` // that said so
}

// A point is a TestPoint and what devices it is for.
type point struct {
	id, title, how string
	hurts          []string // kinds of hazard
	licensed       bool
	needs          string   // a hazard the device must have; empty for any
	of             []string // categories; empty for any
}

var (
	soundy  = []string{"Hi-Fi integrated", "Hi-Fi separates", "Headphones", "Handheld entertainment device", "Portable radio", "Musical instrument", "TV and gaming-related accessories"}
	picture = []string{"Flat screen", "Projector", "TV and gaming-related accessories", "Games console", "Laptop", "Tablet", "Mobile", "Desktop computer", "Digital compact camera", "DSLR/video camera"}
	sockets = []string{"Laptop", "Tablet", "Mobile", "Desktop computer", "PC accessory", "Games console", "Printer/scanner", "Digital compact camera", "DSLR/video camera", "Battery/charger/adapter"}
	heats   = []string{"Kettle", "Toaster", "Coffee maker", "Iron", "Hair dryer", "Hair & beauty item", "Small kitchen item", "Large home electrical"}
	turns   = []string{"Fan", "Vacuum", "Food processor", "Power tool", "Hair dryer", "Sewing machine", "Paper shredder", "Small kitchen item", "Large home electrical", "Aircon/dehumidifier", "Toy"}
	lights  = []string{"Lamp", "Decorative or safety lights", "Projector"}
)

// Common practice of a bench; no single source. The two electrical tests name no
// limit on purpose: it depends on the class of the device, its lead and the country.
var points = []point{
	{id: "whole", title: "Put together, nothing left over", how: "Every screw, cable and insulating sheet is back; nothing rattles when you turn it over."},
	{id: "lead", title: "Lead, plug and strain relief", how: "Unplugged: bend the lead along its length and pull gently at both ends. No cut, no bare wire, no play.", needs: "mains"},
	{id: "earth", title: "Earth continuity", how: "Only if it has an earth contact. With the tester local rules ask for, from the plug's earth pin to every metal part one can touch, moving the lead. The limit is in your local rules for testing after repair.", needs: "mains", hurts: []string{"mains"}, licensed: true},
	{id: "insulation", title: "Insulation", how: "With an insulation tester, live and neutral joined against earth or against metal one can touch, switch on. Take surge arresters and sensitive electronics into account; the limit and the test voltage are in your local rules for testing after repair.", needs: "mains", hurts: []string{"mains", "stored charge"}, licensed: true},
	{id: "residual", title: "On a residual-current device", how: "The first run after the repair is on an outlet with a residual-current device, with everything closed.", needs: "mains"},
	{id: "inputs", title: "Each input", how: "Play something into each input in turn, quietly first: both sides there, no hum, no crackle when the plug is moved.", of: soundy},
	{id: "outputs", title: "Each output", how: "Listen at each output in turn, line and headphones, at low level first.", of: soundy},
	{id: "speakers", title: "Each loudspeaker", how: "One driver at a time, quiet to moderate: no rasp, none silent. Nothing at the output with the volume at zero. Mind your ears and the cone: start low.", of: soundy},
	{id: "controls", title: "Each knob, switch and key", how: "All of them through their whole travel, twice: nothing sticks, crackles or does two things."},
	{id: "sockets", title: "Each socket", how: "Plug something known to be good into each: it is seen, it charges, it does not fall out.", of: sockets},
	{id: "picture", title: "Picture", how: "Full white, full black and a moving picture: no line, no spot, even light.", of: picture},
	{id: "heat", title: "Heat, and switching off by itself", how: "Let it heat up and watch that the thermostat ends it; a second time at once. Stay with it.", of: heats, hurts: []string{"hot surface"}},
	{id: "turns", title: "Moves, at each speed", how: "Every speed, empty and then under a light load: no smell, no sparks beyond a faint glow, no new noise.", of: turns, hurts: []string{"moving parts"}},
	{id: "interlocks", title: "Guards and interlocks", how: "It must not start with the guard, lid or door open, and must stop when one opens it. Never bridge an interlock to try it.", of: append(slices.Clone(turns), heats...), hurts: []string{"moving parts"}},
	{id: "light", title: "Light, each step", how: "Each lamp and each step of brightness for some minutes: no flicker, nothing gets hotter than it should.", of: lights, hurts: []string{"hot surface"}},
	{id: "water", title: "Water stays where it belongs", how: "Fill it, run it once over a dry cloth or paper, look underneath.", needs: "water", hurts: []string{"water"}},
	{id: "microwave", title: "Leakage of radiation", how: "Not with the means of a bench like this: leave it, and the door's interlocks, to licensed service.", needs: "microwave", hurts: []string{"microwave"}, licensed: true},
	{id: "battery", title: "Charging and running on its battery", how: "Charge it with its own charger in sight: the cell stays cool and flat. Then run it on the battery.", needs: "lithium", hurts: []string{"lithium"}},
	{id: "standby", title: "Off means off", how: "Switched off, after ten minutes: cool to the touch, no hum, standby light as it should be."},
}

func pointTitle(id string) string {
	for _, p := range points {
		if p.id == id {
			return p.title
		}
	}
	return id
}

// testList is what there is to try on this device, with what came of it. Without
// a note every hazard is taken to be there.
func (c *Case) testList() []TestPoint {
	has := map[string]bool{}
	category := c.Opened.Category
	if c.Model != nil {
		category = c.Model.Category
		for _, h := range c.Model.Hazards {
			has[h.Kind] = true
		}
		for i := range c.Model.Checks {
			for _, h := range c.Model.Checks[i].Hazards {
				has[h.Kind] = true
			}
		}
	}
	out := []TestPoint{}
	for _, p := range points {
		if p.needs != "" && c.Model != nil && !has[p.needs] || len(p.of) > 0 && !slices.Contains(p.of, category) {
			continue
		}
		t := TestPoint{ID: p.id, Title: p.title, How: p.how, Licensed: p.licensed, Cautions: []Caution{}}
		for _, k := range p.hurts {
			hurt := note.Hazard{Kind: k}
			say := hurt.Caution()
			if c.Model != nil && keptShut(c.Model.Hazards) {
				say = hurt.CautionShut()
			}
			t.Cautions = append(t.Cautions, Caution{Kind: k, Text: say})
		}
		if d, ok := c.proof.points[p.id]; ok {
			t.Result, t.Words, t.Event = d.done.Result, d.done.Words, d.event
		}
		out = append(out, t)
	}
	return out
}
