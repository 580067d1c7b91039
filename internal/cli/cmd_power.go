package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/quantity"
)

// powerCmd says how to give a device its first power after work on it.
type powerCmd struct {
	Args   []string `arg:"" optional:""`
	Watts  float64  `name:"watts"`
	Feed   string   `name:"feed"`
	Volts  float64  `name:"volts"`
	Micro  float64  `name:"micro"`
	Charge float64  `name:"charge"`
}

// powerShown is the way to first power.
type powerShown struct {
	casework.FirstPower
}

const feedWords = "transformer, switched, pfc, low-voltage, heater, motor or tube"

// feeds are the ways a device may be fed, by the words typed for them.
func feeds() map[string]string {
	words := []string{"transformer", "switched", "pfc", "low-voltage", "heater", "motor", "tube"}
	out := map[string]string{}
	for i, f := range casework.PowerFeeds() {
		if i < len(words) {
			out[words[i]] = f
		}
	}
	return out
}

func (c *powerCmd) run(ctx context.Context, s *session) (answer, error) {
	name, err := onlyCase(c.Args, "power-up [CASE] --watts N")
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, true)
	if err != nil {
		return nil, err
	}
	ask, err := s.opened.PowerAskOf(ctx, id)
	if err != nil {
		return nil, err
	}
	if c.Feed != "" {
		known := feeds()
		f, ok := known[strings.ToLower(c.Feed)]
		if !ok && !slices.Contains(casework.PowerFeeds(), c.Feed) {
			return nil, &usageError{text: fmt.Sprintf("%q is no way of feeding a device", c.Feed), next: "say " + feedWords}
		}
		if !ok {
			f = c.Feed
		}
		if f != ask.Feed {
			ask.Volts = 0
		}
		ask.Feed = f
	}
	if c.Volts > 0 {
		ask.Volts = c.Volts
	}
	if ask.Volts == 0 && ask.Feed == feeds()["low-voltage"] {
		return nil, &usageError{text: "it is not said which voltage feeds it", next: "take it from the type plate or the adapter: --volts 12"}
	}
	if c.Micro > 0 {
		ask.Farad = c.Micro * 1e-6
	}
	if c.Charge > 0 {
		ask.Charge = c.Charge
	}
	if c.Watts == 0 && ask.Feed != "" {
		return nil, &usageError{text: "it is not said how much power the device takes", next: "take it from the type plate: --watts 60"}
	}
	ask.Watts = c.Watts
	if ask.Feed == "" {
		closed, err := s.opened.PowerUp(ctx, id, ask)
		if err == nil && closed.Refused != "" {
			return &powerShown{*closed}, nil
		}
		return nil, &usageError{text: "the note does not tell how this device is fed", next: "say --feed " + feedWords}
	}
	got, err := s.opened.PowerUp(ctx, id, ask)
	if err != nil {
		return nil, err
	}
	return &powerShown{*got}, nil
}

func (a *powerShown) no() bool { return a.Refused != "" }

func (a *powerShown) text(p *page) {
	p.head("First power")
	for _, w := range []string{a.Turned, a.Leftover} {
		if w != "" {
			p.para("  warning: ", w)
		}
	}
	if a.Refused != "" {
		p.para("  ", a.Refused)
		return
	}
	p.para("  ", fmt.Sprintf("%s, %s W at %s V: its own current is %s A", a.Ask.Feed, quantity.Plain(a.Ask.Watts, 4), quantity.Plain(a.Ask.Volts, 3), quantity.Plain(a.Amps, 2)))
	for i, l := range a.Lamps {
		lead := "  series lamp: "
		if i > 0 {
			lead = "  or then:     "
		}
		p.para(lead, fmt.Sprintf("%.0f W; %.0f Ω cold, %.0f Ω bright; with a dead short behind it %s A flow", l.Watts, l.Cold, l.Hot, quantity.Plain(l.Short, 2)))
	}
	if a.Limit > 0 {
		p.para("  supply: ", fmt.Sprintf("limit at %s A to begin with; if the voltage comes up, raise it step by step to %s A", quantity.Plain(a.Limit, 2), quantity.Plain(a.Raise, 2)))
	}
	for _, l := range a.Looks {
		p.para("  "+l.Seen+": ", l.Means)
	}
	for _, part := range []struct {
		title, lead string
		list        []string
	}{{"Not this way", "  ! ", a.Not}, {"Where to stand", "  ! ", a.Stand}, {"What to measure first", "  - ", a.Measure}} {
		p.gap()
		p.head("%s", part.title)
		for _, t := range part.list {
			p.para(part.lead, t)
		}
	}
	p.gap()
	p.head("Before touching")
	a.empty(p)
	p.para("  ", a.Trust)
}

func (a *powerShown) empty(p *page) {
	e := a.Empty
	if e == nil {
		p.para("  ", "no charge is known of. Measure across every large capacitor all the same, and again a minute later")
		return
	}
	p.para("  ", fmt.Sprintf("%s J are stored", quantity.Plain(e.Joules, 2)))
	if e.Ohms > 0 {
		p.para("  ", fmt.Sprintf("through %s Ω of %s W; safe to touch after %s s", quantity.Plain(e.Ohms, 3), quantity.Plain(e.Watts, 3), quantity.Plain(e.Seconds, 2)))
	}
	for _, t := range e.Steps {
		p.para("  - ", t)
	}
}
