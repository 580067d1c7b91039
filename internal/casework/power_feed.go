package casework

import (
	"fettler/internal/note"
	"fettler/internal/rework"
)

// feedBlocks are the blocks that tell how a device is fed; what comes first decides,
// since a heater or motor at the mains outweighs the small supply beside it.
var feedBlocks = []struct {
	feed   rework.Feed
	blocks []string
}{
	{rework.Heater, []string{"heating-element-plain", "heater-thermostat-thermal-fuse"}},
	{rework.Motor, []string{"universal-motor-brushes", "induction-motor-run-capacitor", "shaded-pole-motor", "compressor-cooling"}},
	{rework.PFC, []string{"pfc-stage"}},
	{rework.Switched, []string{"flyback-supply", "switched-supply-open-frame", "atx-supply", "standby-supply", "led-lamp-driver"}},
	{rework.Linear, []string{"linear-supply", "small-linear-supply", "transformer-low-voltage-lighting"}},
	{rework.Ballast, []string{"fluorescent-ballast"}},
	{rework.Heater, []string{"lamp-holder-and-switch"}},
}

// feedKinds are the parts that tell it where a note has them by itself.
var feedKinds = map[string]rework.Feed{
	"heating element": rework.Heater, "induction motor": rework.Motor, "shaded-pole motor": rework.Motor, "compressor": rework.Motor,
}

// feedOf is how a device is fed by its note, "" if that does not tell.
func feedOf(m *note.Model) rework.Feed {
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
		return rework.Direct
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
