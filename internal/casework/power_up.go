package casework

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/part/discharge"
	"fettler/internal/rework"
)

// A PowerAsk is what is known of a device about to get its first power. Zero fields
// take what the note says, or the usual.
type PowerAsk struct {
	Feed   string  `json:"feed"`  // one of PowerFeeds
	Watts  float64 `json:"watts"` // on its type plate
	Volts  float64 `json:"volts"` // mains, or of its adapter
	Farad  float64 `json:"farad"` // its largest capacitor
	Charge float64 `json:"charge"`
}

// PowerFeeds returns the ways a device may be fed.
func PowerFeeds() []string {
	var out []string
	for _, f := range rework.Feeds() {
		out = append(out, string(f))
	}
	return out
}

// A FirstPower is how to give a device its first power after work on it.
type FirstPower struct {
	Ask      PowerAsk   `json:"ask"`
	Amps     float64    `json:"amps"`  // the device's own current
	Lamps    []LampRow  `json:"lamps"` // first choice, then the next
	Looks    []LampLook `json:"looks"`
	Limit    float64    `json:"limit"` // A, first limit of a bench supply; 0 none
	Raise    float64    `json:"raise"` // A
	Measure  []string   `json:"measure"`
	Stand    []string   `json:"stand"`
	Not      []string   `json:"not"`
	Empty    *Emptying  `json:"empty"`    // discharge before touching; nil if nothing is known to be charged
	Leftover string     `json:"leftover"` // what is still out of the device
	Turned   string     `json:"turned"`   // what sits otherwise than it did
	Refused  string     `json:"refused"`  // why no procedure is given
	Trust    string     `json:"trust"`
}

// A LampRow is a series lamp.
type LampRow struct {
	Watts float64 `json:"watts"`
	Hot   float64 `json:"hot"`   // Ω bright
	Cold  float64 `json:"cold"`  // Ω cold
	Short float64 `json:"short"` // A with a dead short behind it
}

// A LampLook is what the lamp does and what that means.
type LampLook struct {
	Seen  string `json:"seen"`
	Means string `json:"means"`
}

// Emptying is how to discharge before touching.
type Emptying struct {
	Joules  float64  `json:"joules"`
	Ohms    float64  `json:"ohms"` // 0: no procedure is given
	Watts   float64  `json:"watts"`
	Seconds float64  `json:"seconds"`
	Steps   []string `json:"steps"`
	Limits  []string `json:"limits"` // thresholds passed, with sources
}

// PowerAskOf is what the note of a case says about power: how the device is fed, "" if
// the note does not tell, and its largest stored charge.
func (b *Bench) PowerAskOf(ctx context.Context, caseID string) (PowerAsk, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return PowerAsk{}, err
	}
	if c.Model == nil {
		return PowerAsk{Volts: 230}, nil
	}
	a := PowerAsk{Volts: 230, Feed: string(rework.FeedOf(c.Model))}
	if c.closed() != "" {
		return a, nil
	}
	for _, h := range c.Model.Hazards {
		if h.Joules > 0 && h.Volts > 0 && 2*h.Joules >= a.Farad*a.Charge*a.Charge {
			a.Farad, a.Charge = 2*h.Joules/(h.Volts*h.Volts), h.Volts
		}
	}
	if a.Feed == string(rework.Direct) {
		a.Volts = 12
	}
	return a, nil
}

// PowerUp says how to give a case's device its first power.
func (b *Bench) PowerUp(ctx context.Context, caseID string, a PowerAsk) (*FirstPower, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	out := &FirstPower{Ask: a, Lamps: []LampRow{}, Looks: []LampLook{}, Leftover: (&View{Out: c.rework.out}).Leftover(),
		Turned: (&View{Turned: c.turned()}).Backwards(), Trust: "common practice, no source; lamp figures by Ohm's law from its rating"}
	if out.Refused = c.closed(); out.Refused != "" {
		return out, nil
	}
	if a.Feed == "" {
		return nil, fail(BadInput, "say which it is: it decides whether a series lamp tells anything", "the note does not tell how this device is fed")
	}
	p, err := rework.FirstPower(rework.Device{Feed: rework.Feed(a.Feed), Watts: a.Watts, Volts: a.Volts, Shut: c.Settings.NoLive})
	if err != nil {
		return nil, &Error{Code: BadInput, Text: err.Error(), Next: "look at the type plate", Err: err}
	}
	out.Ask.Volts, out.Amps, out.Limit, out.Raise = p.Volts, p.Amps, p.Limit, p.Raise
	out.Measure, out.Stand, out.Not = p.Measure, p.Stand, p.Not
	if reads := !rework.Feed(a.Feed).ClosedUp(); reads && !c.Settings.NoLive && !c.Settings.LiveSaid {
		out.Stand = append([]string{"These readings are taken inside with the power on, and nobody has said yet whether this bench works that way (settings, live work). Until then: cover on, and go by the lamp or the supply's current alone."}, out.Stand...)
	}
	if c.Model != nil {
		for _, h := range c.Model.Hazards {
			if h.Kind == "high voltage" {
				out.Not = append(out.Not, strings.TrimSpace("High voltage inside: hands and tools out while it is powered, probes clipped on with the power off. "+fullStop(h.Text)))
			}
		}
	}
	for _, l := range p.Lamps {
		out.Lamps = append(out.Lamps, LampRow{l.Watts, l.Hot, l.Cold, l.Short})
	}
	for _, l := range p.Looks {
		out.Looks = append(out.Looks, LampLook{l.Seen, l.Means})
	}
	if a.Farad > 0 || a.Charge > 0 {
		if out.Empty, err = emptying(a.Farad, a.Charge); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// closed says why a device is not to be opened nor powered here, "" if it may be: what
// makes microwaves never, what a note keeps for trained hands by the bench's setting.
func (c *Case) closed() string {
	switch {
	case c.Model == nil:
		return ""
	case c.hasHazard("microwave"):
		return "this device stays closed: neither first power nor discharge is described for one that makes microwaves"
	case !c.Settings.Trained && keptShut(c.Model.Hazards):
		return "this device stays closed: its note keeps it for trained hands (settings, if yours are)"
	}
	return ""
}

func (c *Case) hasHazard(kind string) bool {
	if c.Model == nil {
		return false
	}
	return slices.ContainsFunc(c.Model.Hazards, func(h note.Hazard) bool { return h.Kind == kind })
}

// emptying plans the discharge of the largest capacitor.
func emptying(farad, volts float64) (*Emptying, error) {
	p, err := discharge.Make(discharge.Charge{Farad: farad, Volts: volts})
	if err != nil {
		var known *Error
		if errors.As(err, &known) {
			return nil, err
		}
		return nil, &Error{Code: BadInput, Text: err.Error(), Next: "give the capacitance and the voltage of the largest capacitor, or leave both empty", Err: err}
	}
	e := &Emptying{Joules: p.Joules, Ohms: p.Ohms, Watts: p.RatedWatts, Seconds: p.Seconds, Steps: p.Steps, Limits: []string{}}
	for _, l := range p.Limits {
		if l.Over {
			e.Limits = append(e.Limits, fmt.Sprint(l))
		}
	}
	return e, nil
}
