package notecraft

import (
	"fmt"
	"strings"
)

// A complaint is a symptom an assembled note can have; it does if something shows in it.
type complaint struct {
	name, title, ask, says, leak string
	comes                        bool
}

// complaints are in the order in which one asks.
var complaints = [...]complaint{
	{name: "dead", title: "does nothing at all", ask: "No light, no sound, no movement, nothing at all?", leak: "1 %",
		says: "dead, not working, does not turn on, wont turn on, no power, stopped working, nothing happens, no sign of life, not switching on"},
	{name: "no-heat", title: "does not get warm", ask: "Does it stay quite cold?", says: "no heat, not heating, stays cold, does not heat, not getting hot, cold"},
	{name: "not-hot", title: "does not get hot enough", ask: "Does it get warm, but not as it used to?", says: "not hot enough, only warm, lukewarm, heats slowly"},
	{name: "too-hot", title: "gets too hot", ask: "Does it get hotter than it should, or not switch off?", says: "too hot, overheats, burns, very hot, does not switch off when hot"},
	{name: "no-air", title: "moves no air", ask: "Is it on, but no air comes?", says: "no air, fan not turning, does not blow, fan stopped, not blowing"},
	{name: "still", title: "what should turn stands still", ask: "Is it on, but what should move does not?", says: "does not turn, not spinning, motor not working, wont move, stuck, motor dead"},
	{name: "slow", title: "turns slowly or stalls", ask: "Does it turn, but slowly or without force?", says: "slow, weak, stalls, no power in it, struggles, lost power"},
	{name: "noisy", title: "grinds, squeals or rattles", ask: "Is it louder or does it sound different than before?", says: "noisy, grinding, squeals, rattles, screeching, loud noise"},
	{name: "runs-on", title: "does not stop", ask: "Does it go on when it should stop, or start by itself?", says: "wont turn off, runs on, starts by itself, does not stop, stays on"},
	{name: "no-water", title: "moves no water", ask: "Is it on, but no water comes?", says: "no water, does not pump, not pumping, pump dead"},
	{name: "little-water", title: "moves little water", says: "little water, weak flow, pumps slowly, trickles"},
	{name: "leaks", title: "leaks", says: "leaks, leaking, water underneath, drips, puddle"},
	{name: "silent", title: "no sound", ask: "Is it on, but quite silent?", says: "no sound, silent, no audio, speaker not working"},
	{name: "bad-sound", title: "sounds bad", ask: "Is the sound distorted, humming or faint?", says: "distorted, crackles, hums, buzzes, faint sound, sounds bad"},
	{name: "sound-breaks", title: "sound comes and goes", says: "sound cuts out, sound comes and goes, works when tapped", comes: true},
	{name: "dark", title: "no light", ask: "Is it on, but its light stays dark?", says: "no light, light not working, stays dark, does not light up, lamp dead"},
	{name: "flickers", title: "light flickers", says: "flickers, flickering, blinks, light comes and goes", comes: true},
	{name: "weak", title: "weak in everything it does", says: "weak, works badly, low power, weak with new batteries"},
	{name: "hangs", title: "hangs, resets or does what nobody asked for", says: "hangs, freezes, resets, restarts, does strange things, error code", comes: true},
	{name: "cuts-out", title: "cuts out and comes back", ask: "Does it go off and on again, or when moved?", says: "cuts out, intermittent, comes and goes, goes off, loose connection, works sometimes", comes: true},
	{name: "trips", title: "trips the breaker", says: "trips the electrics, trips the breaker, blows the fuse, trips rcd"},
	{name: "burnt-smell", title: "smells burnt", says: "burning smell, smells burnt, smoke, smoked", leak: "1 %"},
}

// symptoms writes those symptoms in which something shows.
func (d *draft) symptoms() []string {
	var out []string
	for _, c := range complaints {
		shows := d.shows[c.name]
		if len(shows) == 0 {
			continue
		}
		out = append(out, c.name+":", "  title: "+c.title)
		if c.ask != "" {
			out = append(out, "  ask: "+quoted(c.ask))
		}
		out = append(out, fmt.Sprintf("  says: [%s]", c.says))
		if c.comes {
			out = append(out, "  comes: true")
		}
		out = append(out, "  shows:")
		for _, s := range shows {
			out = append(out, "    "+s)
		}
		if c.leak != "" {
			out = append(out, "  leak: "+c.leak)
		}
	}
	return out
}

// Outline says in a line what the assembled device is made of, for a preview.
func (a Answers) Outline() string {
	var has []string
	for _, x := range []struct {
		there bool
		word  string
	}{{a.Motor, "a motor with gears"}, {a.Heater, "a heater"}, {a.Air, "a fan"}, {a.Water, "a pump"}, {a.Display, "a display"},
		{a.Sound, "a loudspeaker"}, {a.Light, "a light"}, {a.Computer, "electronics with keys"}} {
		if x.there {
			has = append(has, x.word)
		}
	}
	if len(has) == 0 {
		return "nothing yet"
	}
	return strings.Join(has, ", ") + "; runs on " + string(a.Power)
}
