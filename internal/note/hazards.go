package note

// A HazardKind is a way to get hurt at the bench, with its usual caution.
type HazardKind struct {
	Name    string
	Caution string
}

// HazardKinds returns every kind of hazard a note can name. The cautions are
// reminders at the step where they matter, not training: local rules and the
// limits of one's licence come first.
func HazardKinds() []HazardKind { return append([]HazardKind(nil), hazardKinds...) }

// Caution returns what to tell whoever is about to do something with this
// hazard: the note's own words if it has any, then the kind's usual caution.
func (h Hazard) Caution() string {
	usual := ""
	for _, k := range hazardKinds {
		if k.Name == h.Kind {
			usual = k.Caution
		}
	}
	if h.Text == "" || usual == "" {
		return h.Text + usual
	}
	return h.Text + " " + usual
}

// StaysShut tells hazards of a device that is not to be opened: it makes microwaves.
func StaysShut(hs []Hazard) bool {
	for _, h := range hs {
		if h.Kind == "microwave" {
			return true
		}
	}
	return false
}

// CautionShut is Caution for a device that stays shut: nothing on how to discharge or
// measure what is inside, since nobody is to be there.
func (h Hazard) CautionShut() string {
	if h.Kind != "stored charge" && h.Kind != "high voltage" {
		return h.Caution()
	}
	const shut = "Leave it closed: nothing inside is to be discharged or measured here."
	if h.Text == "" {
		return shut
	}
	return h.Text + " " + shut
}

// Cautions are what to tell about hazards that belong together, each as Caution or, where
// the device stays shut, as CautionShut.
func Cautions(hs []Hazard) []string {
	shut := StaysShut(hs)
	var out []string
	for _, h := range hs {
		if shut {
			out = append(out, h.CautionShut())
		} else {
			out = append(out, h.Caution())
		}
	}
	return out
}

// Common practice of the trade; no single source.
var hazardKinds = []HazardKind{
	{"mains", "Pull the plug before you open it; a switch is not enough. Live work only if local rules and your training allow it: " +
		"residual-current device, insulated probes, one hand, somebody within call."},
	{"stored charge", "Pull the plug, wait, then discharge through a resistor with insulated leads, never with a screwdriver. " +
		"Measure that it is below 5 V, and measure again before you touch."},
	{"high voltage", "Keep hands and tools out while it is powered. Use a meter and leads rated well above the voltage stated, clipped on with the power off; above 1000 V leave metering alone. " +
		"Discharge and measure before touching. Leave it to someone trained if you are not."},
	{"microwave", "Do not open the cabinet and never run it open or with the door interlock bridged. " +
		"The capacitor can kill with the plug out. Inside is for licensed service only."},
	{"lithium", "Do not pierce, bend, heat or short the cell. If it is swollen, hot or smells sweet, stop: put it outdoors on stone or in sand and " +
		"take it to a collection point. Charge only with the matching charger, never unattended."},
	{"hot surface", "Let it cool before you touch it; it may stay hot for half an hour."},
	{"hot tools", "Iron and hot air burn and set fire: use the stand, clear the bench, wear eye protection, air the room, switch off when you leave."},
	{"laser", "Do not look into the lens or its reflection, and do not run it with the cover off; the beam may be invisible."},
	{"fumes", "Air the room or use an extractor; do not breathe flux, solvent or smoke from a burnt part. Mind the limits on the label."},
	{"sharp", "Blades and sheet edges cut: wear gloves, cut away from yourself, unplug or take the battery out before you reach in."},
	{"water", "Keep water and mains apart: unplug, empty and dry it before opening, and test it on a residual-current device."},
	{"moving parts", "Unplug or take the battery out before you reach in; tie back hair and sleeves. It may start by itself."},
	{"glass", "Glass may splinter: wear eye protection and gloves, collect every piece."},
}

func hazardNames() []string {
	out := make([]string, len(hazardKinds))
	for i, k := range hazardKinds {
		out[i] = k.Name
	}
	return out
}
