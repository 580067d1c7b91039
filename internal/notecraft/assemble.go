package notecraft

import (
	"fmt"
	"strconv"
	"strings"
)

// A Draft is a note that Assemble has written.
type Draft struct {
	ID   string // of the device; starts with "own-", as no shipped note's does
	File string // a name for the file
	Text []byte // the note
}

// Assemble writes a note for a device that is not in the library, out of the
// library's blocks and what the answers say. The note is a beginning: its
// burdens and rates are the blocks' own, its symptoms are what such devices
// have in common. It reads without problems on top of the shipped library.
func Assemble(a Answers) (Draft, error) {
	a, err := a.cleaned()
	if err != nil {
		return Draft{}, fmt.Errorf("assembling a note: %w", err)
	}
	d := &draft{a: a, shows: map[string][]string{}}
	d.feed()
	d.rule()
	for _, x := range []struct {
		has bool
		add func()
	}{{a.Air, d.air}, {a.Heater, d.heater}, {a.Motor, d.motor}, {a.Water, d.water}, {a.Display, d.display}, {a.Sound, d.sound}, {a.Light, d.light}} {
		if x.has {
			x.add()
		}
	}
	id := slug(a.Title)
	return Draft{ID: id, File: id + ".yaml", Text: []byte(d.text(id))}, nil
}

// A draft is a note being written.
type draft struct {
	a Answers

	source string // condition of the raw power: "inlet.mains"
	rail   string // the same, fit for electronics: "supply.rail"
	power  string // what a load's power comes from, behind the switch
	order  string // what switches a plain load on
	turn   string // what switches a motor or pump on
	hot    string // what switches the heater on
	stuck  string // the heater's switch staying on, "" if there is none

	blocks, inside, parts, checks, repairs []string
	shows                                  map[string][]string // causes by symptom
}

func (d *draft) mains() bool { return d.a.Power == Mains }

// block uses a library block; lines are further keys.
func (d *draft) block(name, use string, lines ...string) {
	d.blocks = append(d.blocks, name+":", "  use: "+use)
	for _, l := range lines {
		if l != "" {
			d.blocks = append(d.blocks, "  "+l)
		}
	}
}

// piece adds a fragment of a note, its lines indented as in the fragment.
func piece(to *[]string, text string) {
	*to = append(*to, strings.Split(strings.Trim(text, "\n"), "\n")...)
}

// cause says what shows in a symptom: "heater.heat is absent: nearly always".
func (d *draft) cause(symptom string, causes ...string) {
	d.shows[symptom] = append(d.shows[symptom], causes...)
}

// dry takes the cautions about mains out of checks or repairs of a block that
// is fed with low voltage here.
func (d *draft) dry(sort string, names ...string) string {
	if d.mains() {
		return ""
	}
	for i, n := range names {
		names[i] = n + ": {hazards: []}"
	}
	return "change: {" + sort + ": {" + strings.Join(names, ", ") + "}}"
}

// text puts the note together.
func (d *draft) text(id string) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("device: %s", id)
	line("title: %s", quoted(d.a.Title))
	line("about: Begun from a few answers. Blocks and rates are those of the library; make them fit what is in it.")
	line("category: %s", quoted(d.a.Category))
	if len(d.a.Names) > 0 {
		names := make([]string, len(d.a.Names))
		for i, n := range d.a.Names {
			names[i] = quoted(n)
		}
		line("names: [%s]", strings.Join(names, ", "))
	}
	if d.a.MassKg > 0 {
		line("mass: %s kg", figure(d.a.MassKg))
	}
	if d.a.Worth > 0 {
		line("worth: %s EUR", figure(d.a.Worth))
	}
	if h := d.hazards(); len(h) > 0 {
		line("hazards: [%s]", strings.Join(h, ", "))
	}
	open := figure(d.a.OpenMinutes)
	line("access:")
	how := ""
	if d.a.Opening != "" {
		how = ", how: " + quoted(d.a.Opening)
	}
	line("  open: {title: opened, takes: %s min, back: %s min%s}", open, open, how)
	line("  out: {title: board or part out, behind: open, takes: %s min, back: %s min, how: Photograph every plug first.}", open, open)
	d.section(&b, "blocks", d.blocks)
	d.section(&b, "inside", d.inside)
	d.section(&b, "parts", d.parts)
	d.section(&b, "symptoms", d.symptoms())
	d.section(&b, "checks", d.checks)
	d.section(&b, "repairs", d.repairs)
	return b.String()
}

func (d *draft) section(b *strings.Builder, name string, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString(name + ":\n")
	for _, l := range lines {
		b.WriteString("  " + l + "\n")
	}
}

func (d *draft) hazards() []string {
	var out []string
	for _, x := range []struct {
		there bool
		kind  string
	}{{d.mains(), "mains"}, {d.a.Power == Rechargeable, "lithium"}, {d.a.Heater, "hot surface"},
		{d.a.Water, "water"}, {d.a.Motor || d.a.Air, "moving parts"}} {
		if x.there {
			out = append(out, x.kind)
		}
	}
	return out
}

// quoted writes a text so that whatever is in it stays text.
func quoted(s string) string { return "'" + strings.ReplaceAll(s, "'", "''") + "'" }

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
