package rework

import "fettler/internal/part"

// The surface-mount families. Common practice, no source, where nothing else is said.

var chip = middle{
	off: []Step{
		{ID: "flux-off", Title: "Flux", How: "A drop over both ends.", With: []string{"flux"}, Cautions: []Caution{fumes}},
		{ID: "heat", Title: "Heat both ends at once", How: "A blob of solder across a broad tip, two irons, or a small nozzle. A ceramic capacitor taken off is not used again: it may be cracked.", With: []string{"soldering iron", "hot air"}, Cautions: []Caution{hot, fumes}},
		{ID: "lift", Title: "Slide it off, then lift", How: "With the tip or tweezers, when both ends float. It may be glued: twist once, gently."},
	},
	on: []Step{
		{ID: "orient", Title: "The right way round", How: "Resistors and ceramic capacitors have none; a diode's bar is the cathode, a tantalum's bar is plus, an LED's mark differs from maker to maker: measure it."},
		{ID: "tack", Title: "Tack one end", How: "A little solder on one pad, flux, slide the chip in while it is molten; let go of it before the tweezers do."},
		{ID: "solder", Title: "Solder the other end, then the first again", How: "1 to 2 s, slow heat for ceramics. A fillet up the end cap, no ball.", With: []string{"soldering iron", "solder"}, Cautions: []Caution{hot, fumes}},
	},
}

var can = middle{
	off: []Step{
		{ID: "leak", Title: "Has it leaked?", How: "Wet, brown or furry round the foot: neutralise and wash first, or the pads will not take solder and the smoke is foul.", Cautions: []Caution{{"fumes", "Electrolyte on a hot tip gives off harmful vapour: gloves, extraction."}}},
		{ID: "flux-off", Title: "Flux both tabs", How: "They run under the plastic foot.", With: []string{"flux"}, Cautions: []Caution{fumes}},
		{ID: "heat", Title: "Both tabs with two irons, one after the other with low-melt, or a screened nozzle", How: "Lead-free reflow is the can's own limit: a short go from the side, at the tabs, the can behind tape.", With: []string{"soldering iron", "hot air"}, Cautions: []Caution{hot, venting, fumes}},
		{ID: "lift", Title: "Lift, do not twist", How: "Twisting a can off tears pads from old boards, whatever one sees done."},
	},
	on: []Step{
		{ID: "orient", Title: "The right way round", How: "Black segment on the can is minus; the bevelled side of the foot is usually plus. Against photo and print."},
		{ID: "tack", Title: "Tin one pad, slide the can in", How: "Press flat while it sets."},
		{ID: "solder", Title: "Solder the tabs at the edge of the foot", How: "A fine tip, 2 to 3 s a tab; iron only, no hot air on a new can.", With: []string{"soldering iron", "solder"}, Cautions: []Caution{hot, venting, fumes}},
	},
}

var gullWing = middle{
	off: []Step{
		{ID: "flux-off", Title: "Flux along all legs", How: "Plenty, gel holds best.", With: []string{"flux"}, Cautions: []Caution{fumes}},
		{ID: "heat", Title: "Heat all legs alike", How: "Nozzle in slow circles over the legs, not on the middle; time and temperature from the heat page. Or flood the rows with low-melt alloy and an iron.",
			With: []string{"hot air", "tweezers"}, Cautions: []Caution{hot, fumes, {"hot tools", "The air moves loose parts: hold the small neighbours down with tape."}}},
		{ID: "lift", Title: "Nudge, then lift", How: "Nudge it: when it floats back, everything is molten. Only then lift, level. One leg not molten takes its pad along."},
	},
	on: []Step{
		{ID: "orient", Title: "Pin 1 to pin 1", How: "Dot, notch or bevelled edge of the body as on the photo; the writing is no guide on every part."},
		{ID: "tack", Title: "Tack one leg at a corner, line up, tack the opposite one", How: "All legs on their pads on every side, seen through the magnifier, before the second tack.", With: []string{"magnifier"}},
		{ID: "solder", Title: "Draw a drop along each row", How: "Flux, a broad clean tip with a little solder, slowly along the toes. Bridges come off with flux and the bare tip, or braid.", With: []string{"soldering iron", "flux", "solder"}, Cautions: []Caution{hot, fumes}},
	},
}

var qfn = middle{
	off: []Step{
		{ID: "dry", Title: "To be used again? Dry it first", How: "A package that has lain in room air beyond its floor life may crack when the body passes 200 °C: bake it, or keep the body below.",
			Source: part.Source{Text: "J-STD-033", Mark: part.Memory}},
		{ID: "preheat", Title: "Preheat the board from below", How: "100 to 150 °C on the underside: the pad below sits on the plane and drains what comes from above.", With: []string{"preheater"}, Cautions: []Caution{{"hot surface", "The whole board is too hot to touch for minutes."}}},
		{ID: "flux-off", Title: "Flux round the edge", How: "It creeps under by itself once warm.", With: []string{"flux"}, Cautions: []Caution{fumes}},
		{ID: "heat", Title: "Hot air, nozzle as wide as the body", How: "Time and temperature from the heat page; the body's class temperature is the ceiling if it is to live.", With: []string{"hot air"}, Cautions: []Caution{hot, fumes},
			Source: part.Source{Text: "J-STD-020, classification temperature, quoted in data sheets", Mark: part.Read}},
		{ID: "lift", Title: "Nudge, then lift", How: "It must swim before it is lifted; the pad below lets go last."},
	},
	on: []Step{
		{ID: "tin", Title: "Tin the pads thinly, the middle one very thinly", How: "Too much under the middle and it floats with its edge pads in the air.", With: []string{"soldering iron", "solder", "flux"}, Cautions: []Caution{hot, fumes}},
		{ID: "orient", Title: "Pin 1 to pin 1", How: "Dot or bevelled corner as on the photo."},
		{ID: "tack", Title: "Place it in fresh flux", How: "Lined up on the print; flux holds it."},
		{ID: "solder", Title: "Preheat, hot air until it settles", How: "It drops and pulls itself straight: nudge, it must come back. 3 s more, then let it cool untouched. Touch up the edge with a fine tip.", With: []string{"hot air", "preheater"}, Cautions: []Caution{hot, fumes}},
	},
}

var shield = middle{
	off: []Step{
		{ID: "lid", Title: "Is there a lid?", How: "Many shields are a frame with a clipped lid: lift the lid and leave the frame."},
		{ID: "preheat", Title: "Preheat from below", How: "The frame is ground all round.", With: []string{"preheater"}, Cautions: []Caution{{"hot surface", "The whole board is too hot to touch for minutes."}}},
		{ID: "flux-off", Title: "Flux along the seam", How: "All round.", With: []string{"flux"}, Cautions: []Caution{fumes}},
		{ID: "heat", Title: "Wide nozzle round the seam", How: "Slow circles over the frame; what is inside gets as hot as the frame, and small parts float: do not knock the board.", With: []string{"hot air"}, Cautions: []Caution{hot, fumes}},
		{ID: "lift", Title: "Lift level with two tweezers", How: "If one corner holds, put it back and heat that corner."},
	},
	on: []Step{
		{ID: "orient", Title: "The right way round", How: "Cut-outs over tracks and test points as on the photo."},
		{ID: "tack", Title: "Tack two opposite corners", How: "Flat on its pads, nothing pinched below."},
		{ID: "solder", Title: "Solder at the pads it had", How: "Every pad: a shield half soldered radiates, or takes up.", With: []string{"soldering iron", "solder"}, Cautions: []Caution{hot, fumes}},
	},
}

var middles = map[string]middle{
	"two-pin": twoPin, "multi-pin": multiPin, "chip": chip, "can": can, "gull-wing": gullWing, "qfn": qfn, "connector": connector, "shield": shield,
}
