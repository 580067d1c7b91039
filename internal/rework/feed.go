package rework

import "fettler/internal/note"

// feedBlocks are the blocks that tell how a device is fed; what comes first decides,
// since a heater or motor at the mains outweighs the small supply beside it.
var feedBlocks = []struct {
	feed   Feed
	blocks []string
}{
	{Heater, []string{"heating-element-plain", "heater-thermostat-thermal-fuse"}},
	{Motor, []string{"universal-motor-brushes", "induction-motor-run-capacitor", "shaded-pole-motor", "compressor-cooling"}},
	{PFC, []string{"pfc-stage"}},
	{Switched, []string{"flyback-supply", "switched-supply-open-frame", "atx-supply", "standby-supply", "led-lamp-driver"}},
	{Linear, []string{"linear-supply", "small-linear-supply", "transformer-low-voltage-lighting"}},
	{Ballast, []string{"fluorescent-ballast"}},
	{Heater, []string{"lamp-holder-and-switch"}},
}

// feedKinds are the parts that tell it where a note has them by itself.
var feedKinds = map[string]Feed{
	"heating element": Heater, "induction motor": Motor, "shaded-pole motor": Motor, "compressor": Motor,
}

// FeedOf is how a device is fed by its note, "" if that does not tell.
func FeedOf(m *note.Model) Feed {
	has := map[string]bool{}
	for _, u := range m.Units {
		has[u.Block] = true
	}
	mains := has["mains-inlet"] || has["power-lead-flexing"]
	low := has["dc-barrel-inlet"] || has["usb-power-inlet"] || has["battery-compartment"] || has["li-ion-pack-protection"] || has["nimh-pack"]
	for _, h := range m.Hazards {
		switch {
		case h.Kind == "microwave":
			return ""
		case h.Kind == "mains" && !low:
			mains = true
		}
	}
	if !mains {
		return Direct
	}
	for _, f := range feedBlocks {
		for _, b := range f.blocks {
			if has[b] {
				return f.feed
			}
		}
	}
	for _, p := range m.Parts {
		if f, ok := feedKinds[p.Kind]; ok {
			return f
		}
	}
	return ""
}
