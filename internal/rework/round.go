package rework

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// A Round says how a kind of part shows which way round it sits.
type Round struct {
	Sort string // "electrolytic", "tantalum", "diode", "IC", "transistor", "connector", "cell"
	Mark string // what to look for: "the stripe (minus)"
	Why  string // what happens the wrong way round
}

// rounds, by what the notes call kinds of part. Common practice, no source.
var rounds = []struct {
	Round
	kinds []string
}{
	{Round{"electrolytic", "the stripe (minus)", "backwards it heats up, vents or bursts"}, []string{"electrolytic capacitor"}},
	{Round{"tantalum", "the bar (plus, the other way than on an electrolytic)", "backwards it shorts and burns"}, []string{"tantalum capacitor"}},
	{Round{"diode", "the ring or bar (cathode)", "backwards it shorts or blocks the rail"}, []string{"diode", "rectifier diode", "output rectifier", "small diode", "zener", "zener diode", "bridge rectifier", "LED", "LED strip"}},
	{Round{"IC", "the notch or dot (pin 1)", "backwards it is dead at once, and may take the rail with it"}, []string{"linear IC", "controller IC", "logic IC", "amplifier IC", "motor driver IC",
		"charging IC", "microcontroller", "processor", "memory", "switching regulator", "opto-isolator", "battery protection", "radio module"}},
	{Round{"transistor", "the flat or tab", "backwards its pins are swapped"}, []string{"MOSFET", "bipolar transistor", "power transistor", "triac", "voltage regulator", "hall sensor", "infrared receiver"}},
	{Round{"connector", "the key or pin 1", "backwards it puts the supply on the wrong pins"}, []string{"connector", "flat cable", "flex cable", "signal cable"}},
	{Round{"cell", "plus", "backwards it feeds the board with the wrong sign"}, []string{"battery cell", "button cell", "NiMH pack", "Li-ion pack"}},
}

// WayRound says how a kind of part, named as in a bench note, shows its polarity or
// pin 1; false for kinds that may sit either way.
func WayRound(kind string) (Round, bool) {
	for _, r := range rounds {
		if slices.ContainsFunc(r.kinds, func(k string) bool { return strings.EqualFold(k, strings.TrimSpace(kind)) }) {
			return r.Round, true
		}
	}
	return Round{}, false
}

// WayRoundOf is [WayRound] for a kind that a note of one's own may call anything: if
// it is none of the usual, what else is said of the part (its value, what is bought
// for it) is searched for the words electrolytic, tantalum, diode, rectifier and LED.
func WayRoundOf(kind string, said ...string) (Round, bool) {
	if r, ok := WayRound(kind); ok {
		return r, true
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(kind+" "+strings.Join(said, " ")), func(r rune) bool { return !unicode.IsLetter(r) }) {
		switch strings.TrimSuffix(w, "s") {
		case "electrolytic":
			return SortOf("electrolytic")
		case "tantalum":
			return SortOf("tantalum")
		case "diode", "rectifier", "led", "zener":
			return SortOf("diode")
		}
	}
	return Round{}, false
}

// Keyed says that a part of a sort fits one way only where it is plugged or clipped
// in: a pack, a module. Soldered, it does not. Common practice, no source.
func Keyed(sort string, with []string) bool {
	if sort != "IC" && sort != "cell" {
		return false
	}
	return !slices.Contains(with, "soldering iron") && !slices.Contains(with, "hot air")
}

// Sorts lists the sorts of polarised parts with their marks, for a form.
func Sorts() []Round {
	out := make([]Round, len(rounds))
	for i, r := range rounds {
		out[i] = r.Round
	}
	return out
}

// SortOf finds a sort by its name.
func SortOf(name string) (Round, bool) {
	for _, r := range rounds {
		if r.Sort == name {
			return r.Round, true
		}
	}
	return Round{}, false
}

// A Direction is where a mark points, as seen on the side of the board it is on.
type Direction string

var directions = []Direction{"up", "up right", "right", "down right", "down", "down left", "left", "up left"}

// Directions returns the eight directions, clockwise from up.
func Directions() []Direction { return slices.Clone(directions) }

// Known says whether d is one of [Directions].
func (d Direction) Known() bool { return slices.Contains(directions, d) }

// Mirrored is the direction seen through the board from its other side, turned
// over like a page: left and right change places.
func (d Direction) Mirrored() Direction {
	return Direction(strings.NewReplacer("left", "right", "right", "left").Replace(string(d)))
}

// Turned is the direction on a picture turned clockwise by so many degrees, a multiple of
// 45; an unknown one stays.
func (d Direction) Turned(degrees int) Direction {
	i := slices.Index(directions, d)
	if i < 0 {
		return d
	}
	return directions[((i+degrees/45)%8+8)%8]
}

// Angle is the direction in degrees clockwise from up, 0 for an unknown one.
func (d Direction) Angle() float64 {
	return 45 * float64(max(slices.Index(directions, d), 0))
}

// mostOfARange bounds what "D1…D400" is taken apart into.
const mostOfARange = 64

// Designators takes apart what notes write: "C1, C2", "Q7 and Q8", "D1…D4", "D1-D4".
// Text that names no parts comes back as one.
func Designators(mark string) []string {
	var out []string
	for _, f := range strings.FieldsFunc(strings.NewReplacer(" and ", ",", "/", ",", ";", ",").Replace(mark), func(r rune) bool { return r == ',' }) {
		f = strings.TrimSpace(f)
		if f != "" {
			out = append(out, spread(f)...)
		}
	}
	return out
}

// spread is the parts of a range, or the word itself.
func spread(f string) []string {
	for _, by := range []string{"…", "...", "..", "–", "-"} {
		a, b, ok := strings.Cut(f, by)
		if !ok {
			continue
		}
		pa, na, oka := numbered(strings.TrimSpace(a))
		pb, nb, okb := numbered(strings.TrimSpace(b))
		if !oka || !okb || (pb != "" && pb != pa) || nb < na || nb-na >= mostOfARange {
			return []string{f}
		}
		var out []string
		for n := na; n <= nb; n++ {
			out = append(out, fmt.Sprintf("%s%d", pa, n))
		}
		return out
	}
	return []string{f}
}

// numbered takes "D12" apart.
func numbered(s string) (letters string, n int, ok bool) {
	i := strings.IndexFunc(s, unicode.IsDigit)
	if i < 0 || len(s)-i > 5 {
		return "", 0, false
	}
	n, err := strconv.Atoi(s[i:])
	return s[:i], n, err == nil
}
