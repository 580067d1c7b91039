package notecraft

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"fettler/internal/note"
)

// A Power is what a device runs on.
type Power string

// The sorts of power.
const (
	Mains        Power = "mains"        // a mains lead goes into it
	Adapter      Power = "adapter"      // a separate mains adapter with a low-voltage plug
	Rechargeable Power = "rechargeable" // a built-in battery, charged through a socket
	Cells        Power = "cells"        // loose cells in a compartment
)

// Powers returns the sorts of power, the commonest first.
func Powers() []Power { return []Power{Mains, Adapter, Rechargeable, Cells} }

// Answers are what one can tell about a device before opening it. The zero
// value of all but Power is a sensible "no" or "not known".
type Answers struct {
	Title    string // what it is called; "something that runs on mains" and the like if empty
	Category string // product category of the open repair data standard; guessed if empty
	Names    []string

	Power    Power
	Motor    bool // something in it turns or moves
	Heater   bool // something in it gets hot on purpose
	Display  bool // it shows figures or a picture
	Sound    bool // it makes sound
	Light    bool // it gives light
	Air      bool // it moves air
	Water    bool // it moves water
	Computer bool // it has programmes, settings or buttons that a chip looks after

	Opening     string  // how it is opened, in words
	OpenMinutes float64 // how long that takes; 8 if 0
	Worth       float64 // of a working one, in EUR; not stated if 0
	MassKg      float64 // not stated if 0
}

const (
	defaultOpening = 8    // minutes, common practice
	mostOpening    = 600  // minutes
	mostMoney      = 1e6  // EUR
	mostMass       = 1000 // kg
	mostLetters    = 80   // of a text
	mostNames      = 20
)

// cleaned returns the answers made fit to write down, or an error that says
// which answer cannot be and what to say instead.
func (a Answers) cleaned() (Answers, error) {
	if !slices.Contains(Powers(), a.Power) {
		return a, fmt.Errorf("power %q is not known; say mains, adapter, rechargeable or cells", clip(string(a.Power)))
	}
	for _, x := range []struct {
		what string
		v    float64
		most float64
	}{{"the minutes it takes to open", a.OpenMinutes, mostOpening}, {"the worth", a.Worth, mostMoney}, {"the mass", a.MassKg, mostMass}} {
		if math.IsNaN(x.v) || x.v < 0 || x.v > x.most {
			return a, fmt.Errorf("%s is %g; say a figure from 0 to %g", x.what, x.v, x.most)
		}
	}
	if a.Category != "" && !slices.Contains(note.Categories(), a.Category) {
		return a, fmt.Errorf("there is no category %q; take one of the open repair data standard, or leave it out to have it guessed", clip(a.Category))
	}
	if !(a.Motor || a.Heater || a.Display || a.Sound || a.Light || a.Air || a.Water || a.Computer) {
		return a, fmt.Errorf("it does nothing yet: say what it has, such as a motor, a heater, a light, sound or a display")
	}
	a.Title, a.Opening = tidy(a.Title), tidy(a.Opening)
	var names []string
	for _, n := range a.Names {
		if n = tidy(n); n != "" && len(names) < mostNames && !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	a.Names = names
	if a.Title == "" {
		a.Title = a.called()
	}
	if a.Category == "" {
		a.Category = a.guess()
	}
	if a.OpenMinutes == 0 {
		a.OpenMinutes = defaultOpening
	}
	return a, nil
}

// called is a title for a device that was given none.
func (a Answers) called() string {
	what := "device"
	switch {
	case a.Heater && a.Air:
		what = "hot-air device"
	case a.Heater && a.Water:
		what = "hot-water device"
	case a.Heater:
		what = "heating device"
	case a.Water:
		what = "pump device"
	case a.Air:
		what = "fan device"
	case a.Motor:
		what = "motor device"
	case a.Sound:
		what = "sound device"
	case a.Light:
		what = "lamp"
	}
	from := map[Power]string{Mains: "on the mains", Adapter: "on an adapter", Rechargeable: "with a built-in battery", Cells: "on cells"}
	return "Unlisted " + what + " " + from[a.Power]
}

// guess is the category such devices mostly belong to; a judgement.
func (a Answers) guess() string {
	turns := a.Motor || a.Water
	switch {
	case a.Heater && a.Water:
		return "Small kitchen item"
	case a.Heater:
		return "Small home electrical"
	case a.Air && !a.Motor && a.Power == Mains:
		return "Fan"
	case a.Light && !turns && !a.Sound && !a.Display && !a.Air:
		return "Lamp"
	case a.Sound && !turns && !a.Air && a.Power == Mains:
		return "Hi-Fi integrated"
	case a.Sound && !turns && !a.Air && a.Power == Cells:
		return "Portable radio"
	case turns && a.Power == Cells, a.Motor && a.Sound:
		return "Toy"
	case a.Motor && a.Power == Mains:
		return "Small kitchen item"
	case a.Computer && a.Display && a.Power == Rechargeable && !turns:
		return "Handheld entertainment device"
	}
	return "Misc"
}

// tidy makes one line of at most mostLetters letters out of what somebody typed.
func tidy(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || !unicode.IsPrint(r) || r == utf8.RuneError {
			return ' '
		}
		return r
	}, s)
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > mostLetters {
		s = strings.TrimSpace(string(r[:mostLetters]))
	}
	return s
}

func clip(s string) string {
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}

// slug is the name of a device with the title: "own-" and its letters and digits.
func slug(title string) string {
	var b strings.Builder
	b.WriteString("own")
	gap := true
	for _, r := range strings.ToLower(title) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			if gap {
				b.WriteByte('-')
			}
			b.WriteRune(r)
			gap = false
			continue
		}
		gap = true
	}
	return b.String()
}
