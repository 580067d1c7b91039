package rework

// The through-hole families, and connectors. Common practice, no source.

var lowMelt = Step{ID: "low-melt", Title: "Or with low-melt alloy", How: "Where the joint will not let go: flood all pins with low-melt alloy, keep it liquid, lift. Take up every trace before new solder: left in the joint it melts again at work.",
	With: []string{"low-melt alloy", "flux"}, Cautions: []Caution{fumes}}

var twoPin = middle{
	off: []Step{
		{ID: "flux-off", Title: "Flux and a little fresh solder", How: "On both joints: old dull solder takes up heat badly.", With: []string{"flux", "solder"}, Cautions: []Caution{fumes}},
		{ID: "heat", Title: "Heat one joint, tilt, then the other", How: "Rock the part out a millimetre at a time, pin by pin. Pull only while the solder is molten; 3 s a go, then let the pad cool.",
			With: []string{"soldering iron"}, Cautions: []Caution{hot, spatter, venting}},
		lowMelt,
		{ID: "lift", Title: "Lift it out", How: "By hand pressure only. If it holds, it is not molten or a lead is clinched: straighten the lead first."},
	},
	on: []Step{
		{ID: "holes", Title: "Free the holes", How: "Pump from one side with heat from the other, or a wooden toothpick while it is molten. No drill: it takes the plating with it.", With: []string{"desoldering pump"}, Cautions: []Caution{spatter}},
		{ID: "orient", Title: "The right way round", How: "Against the photo and the print on the board, which may be wrong: stripe of an electrolytic is minus, bar of a tantalum is plus, ring of a diode is the cathode."},
		{ID: "tack", Title: "Seat it and tack one pin", How: "Body as high as the old one stood, no bent lead under strain; then look once more."},
		{ID: "solder", Title: "Solder", How: "Second pin, then the first again: tip on pad and lead, solder on the joint, 1 to 3 s, a hollow cone. Cut the leads after, not through the joint.",
			With: []string{"soldering iron", "solder"}, Cautions: []Caution{hot, fumes, {"sharp", "Cut leads fly: hold them, or cover them."}}},
	},
}

var multiPin = middle{
	off: []Step{
		{ID: "fixings", Title: "Undo what else holds it", How: "Screw, clip, heatsink, glue. Keep insulator, bush and washer together: they keep the tab off the heatsink."},
		{ID: "flux-off", Title: "Flux and fresh solder on every pin", How: "So that all melt alike.", With: []string{"flux", "solder"}, Cautions: []Caution{fumes}},
		{ID: "sacrifice", Title: "Known dead: cut it off", How: "Cut each leg at the body and take the legs out one by one: the kindest way for the board. Only if the part is not wanted any more.", Cautions: []Caution{{"sharp", "Cut legs fly: glasses."}}},
		{ID: "heat", Title: "Else empty the pins one by one", How: "Pump or braid from the solder side; wiggle each pin until it is loose in its hole. Ground pins last, with the large tip or preheating.",
			With: []string{"soldering iron", "desoldering pump", "braid"}, Cautions: []Caution{hot, spatter, fumes}},
		lowMelt,
		{ID: "lift", Title: "Lift it straight up", How: "Only when every pin is loose. One that holds tears its barrel out."},
	},
	on: []Step{
		{ID: "holes", Title: "Free the holes", How: "All of them, tried with a lead of the new part.", With: []string{"desoldering pump"}, Cautions: []Caution{spatter}},
		{ID: "heatsink", Title: "Insulator and paste first", How: "Fasten it to its heatsink before soldering, so that the legs are not under strain. Then measure tab to heatsink: no contact if there was an insulator.", With: []string{"multimeter"}},
		{ID: "orient", Title: "The right way round", How: "Notch, dot or tab as on the photo; pin 1 on its square pad."},
		{ID: "tack", Title: "Tack two opposite corners", How: "Flat on the board, all pins through; look again, since now it still comes out easily."},
		{ID: "solder", Title: "Solder the rest, jumping about", How: "Not one neighbour after the other: the body stays cooler. Ground pins with more time, not with more temperature.", With: []string{"soldering iron", "solder"}, Cautions: []Caution{hot, fumes}},
	},
}

var connector = middle{
	off: []Step{
		{ID: "shell", Title: "Find shell and ground pins", How: "They take most of the heat. Preheat from below if there is a plane; a mate plugged in keeps soft plastic in shape.", With: []string{"preheater"}},
		{ID: "flux-off", Title: "Flux and fresh solder", How: "On pins and lugs.", With: []string{"flux", "solder"}, Cautions: []Caution{fumes}},
		{ID: "heat", Title: "Low-melt alloy on all pins, or heat from below", How: "Plastic softens well below the solder's melting point: not with the nozzle on the body. Ask the heat page what it would see.",
			With: []string{"low-melt alloy", "soldering iron"}, Cautions: []Caution{hot, fumes, {"fumes", "Overheated plastic gives off harmful gas: stop if it smokes."}}},
		{ID: "lift", Title: "Lift straight, no levering", How: "Levering on the edge lifts pads and breaks barrels."},
	},
	on: []Step{
		{ID: "holes", Title: "Free the holes", How: "The lugs' too.", With: []string{"desoldering pump"}, Cautions: []Caution{spatter}},
		{ID: "orient", Title: "The right way round", How: "Key, pin 1 and opening as on the photo; try the plug before soldering."},
		{ID: "tack", Title: "Tack one lug, press it flat, tack the other", How: "The lugs take the pull of the cable, the pins do not."},
		{ID: "solder", Title: "Pins first, then the lugs with plenty of solder", How: "Short goes with pauses. Fine pins: flux and a drop drawn along.", With: []string{"soldering iron", "solder", "flux"}, Cautions: []Caution{hot, fumes}},
		{ID: "mate", Title: "Try the plug", How: "Goes in straight, holds, and nothing moves on the board."},
	},
}
