package casework

import (
	"context"
	"slices"
)

// An Ending is what closing a case would say, before it is closed.
type Ending struct {
	Because []Chance `json:"because"` // which fault it was, likeliest first
	Unknown float64  `json:"unknown"`
	Sharper []Sharp  `json:"sharper"` // tests of parts taken out that would tell it better
	Kg      float64  `json:"kg"`      // of the device by its note; 0 if it does not say
	Saved   Saved    `json:"saved"`   // if it ends fixed
}

// Saved is what a repaired device is worth less what it took.
type Saved struct {
	Worth   float64 `json:"worth"` // of the working device, or of the parts kept
	Spent   float64 `json:"spent"` // money
	Net     float64 `json:"net"`   // worth less spent
	Minutes float64 `json:"minutes"`
	Time    float64 `json:"time"` // the minutes at the rate in force, not part of net
}

// A Sharp is a test of a part that a repair took out.
type Sharp struct {
	Check  Ref    `json:"check"`
	Before int    `json:"before"` // event of the repair
	Repair string `json:"repair"` // its title
	Mode   Chance `json:"mode"`   // the fault it would tell most of
}

// A test of a part taken out is worth offering from here on: the chance of the
// fault times that of its opposite times how much the test tells of it.
const (
	sharpLeast = 0.02
	sharpMost  = 5
)

// Ending reckons what closing a case would say now.
func (b *Bench) Ending(ctx context.Context, caseID string) (*Ending, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	v := &Ending{Because: []Chance{}, Sharper: []Sharp{}, Saved: c.saved(Fixed)}
	var p ClosedCase
	if err := (scene{b, c}).attribute(ctx, &p); err != nil || c.Model == nil {
		return v, err
	}
	v.Unknown, v.Kg = p.Unknown, c.Model.MassKg
	chance := map[string]Chance{}
	for _, x := range p.Because {
		ch := Chance{Mode: x.Mode, Title: c.Model.Modes[c.names.modes[x.Mode]].Title, Now: x.P, Before: x.P}
		v.Because, chance[x.Mode] = append(v.Because, ch), ch
	}
	v.Sharper = b.sharper(c, chance)
	return v, nil
}

// sharper lists tests of parts taken out that would tell which fault it was.
func (b *Bench) sharper(c *Case, chance map[string]Chance) []Sharp {
	k := b.knowledge(c.Opened.Device)
	if k == nil {
		return []Sharp{}
	}
	type worth struct {
		Sharp
		much float64
	}
	tells := k.tells()
	var all []worth
	for n, act := range c.Evidence.Acts {
		if act.Repair < 0 {
			continue
		}
		r := &c.Model.Repairs[act.Repair]
		best := map[int]worth{}
		for _, x := range r.Clears {
			ch := chance[c.Model.Modes[x.Mode].ID]
			for _, t := range tells[x.Mode] {
				much := ch.Now * (1 - ch.Now) * t.much
				if much < sharpLeast || much <= best[t.check].much || c.Model.Checks[t.check].Live || c.checkedIn(t.check, n) {
					continue
				}
				best[t.check] = worth{Sharp{Ref{c.Model.Checks[t.check].ID, c.Model.Checks[t.check].Title}, c.Acts[n], r.Title, ch}, much}
			}
		}
		for _, w := range best {
			all = append(all, w)
		}
	}
	slices.SortFunc(all, func(a, b worth) int {
		if d := cmpDown(a.much, b.much); d != 0 {
			return d
		}
		if d := a.Before - b.Before; d != 0 {
			return d
		}
		if a.Check.ID < b.Check.ID {
			return -1
		}
		return 1
	})
	out := []Sharp{}
	for _, w := range all[:min(len(all), sharpMost)] {
		out = append(out, w.Sharp)
	}
	return out
}

// checkedIn says whether all a check tells has been looked at in an epoch.
func (c *Case) checkedIn(check, epoch int) bool {
	for _, f := range c.Model.Checks[check].Findings {
		if !slices.ContainsFunc(c.standing(), func(i int) bool { return c.Evidence.Seen[i].Finding == f && c.Evidence.Seen[i].Epoch == epoch }) {
			return false
		}
	}
	return true
}

// saved is what an end is worth.
func (c *Case) saved(v Verdict) Saved {
	s := Saved{Spent: c.Money, Minutes: c.Minutes, Time: c.Minutes / 60 * c.Settings.Rate}
	switch v {
	case Fixed:
		s.Worth = c.Settings.Worth
	case KeptForParts:
		s.Worth = c.Settings.Scrap
	}
	s.Net = s.Worth - s.Spent
	return s
}
