package ledger

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"fettler/internal/note"
)

// A Sheet is what the ledger needs to know of a note, as it stood when a case
// was closed: what was to be expected. It travels with the records, so that the
// cases of another bench can be counted without having its notes.
type Sheet struct {
	Device string       `json:"device"`
	Modes  []SheetMode  `json:"modes"`
	Signs  []SheetSign  `json:"signs,omitempty"`
	Clears []SheetClear `json:"clears,omitempty"`
}

// SheetMode is a fault mode with the three names under which it is pooled:
// ID in this device, Block and Local in its block, Kind and Name in its kind of part.
type SheetMode struct {
	ID     string       `json:"id"`
	Block  string       `json:"block,omitempty"`
	Local  string       `json:"local,omitempty"`
	Kind   string       `json:"kind,omitempty"`
	Name   string       `json:"name,omitempty"`
	Odds   float64      `json:"odds"`
	Causes []SheetCause `json:"causes,omitempty"`
}

// SheetCause is a mode that brings the one it belongs to about.
type SheetCause struct {
	Mode   int     `json:"mode"`
	Chance float64 `json:"chance"`
}

// SheetSign is a sign with its leak and its triggers.
type SheetSign struct {
	ID       string         `json:"id"`
	Block    string         `json:"block,omitempty"`
	Local    string         `json:"local,omitempty"`
	Leak     float64        `json:"leak"`
	Triggers []SheetTrigger `json:"triggers,omitempty"`
}

// SheetTrigger is one cause in a sign's noisy-OR. Modes are those that make it
// active by themselves; a set of modes is taken to make it active if one of them does.
type SheetTrigger struct {
	Key    string  `json:"key"`
	Modes  []int   `json:"modes"`
	Chance float64 `json:"chance"`
}

// SheetClear is one mode that a repair clears.
type SheetClear struct {
	Repair  string  `json:"repair"`
	Local   string  `json:"local,omitempty"`
	Mode    int     `json:"mode"`
	Success float64 `json:"success"`
}

// SheetOf makes the sheet of a device. The model must be the one composed from
// the notes, not one the ledger has been applied to.
func SheetOf(m *note.Model) Sheet {
	s := Sheet{Device: m.ID}
	for _, x := range m.Modes {
		p := m.Parts[x.Part]
		u := m.Units[p.Unit]
		sm := SheetMode{ID: x.ID, Block: u.Block, Local: local(x.ID, u.ID), Kind: p.Kind, Name: x.Name, Odds: x.Odds}
		for _, c := range x.Causes {
			sm.Causes = append(sm.Causes, SheetCause{c.Mode, c.Chance})
		}
		s.Modes = append(s.Modes, sm)
	}
	states := alone(m)
	for i := range m.Findings {
		f := &m.Findings[i]
		if f.Kind != note.Sign {
			continue
		}
		u := unitOf(m, f.ID)
		sign := SheetSign{ID: f.ID, Block: u.Block, Local: local(f.ID, u.ID), Leak: f.Leak}
		for _, t := range f.Trigger {
			sign.Triggers = append(sign.Triggers, sheetTrigger(m, t, u.ID, states))
		}
		s.Signs = append(s.Signs, sign)
	}
	for _, r := range m.Repairs {
		for _, c := range r.Clears {
			s.Clears = append(s.Clears, SheetClear{r.ID, local(r.ID, m.Units[r.Unit].ID), c.Mode, c.Success})
		}
	}
	return s
}

// local is an ID without the name of its unit.
func local(id, unit string) string {
	if unit == "" {
		return id
	}
	return strings.TrimPrefix(id, unit+".")
}

// unitOf returns the unit whose name an ID begins with, the device's own if none.
func unitOf(m *note.Model, id string) note.Unit {
	var best note.Unit
	for _, u := range m.Units {
		if u.ID != "" && strings.HasPrefix(id, u.ID+".") && len(u.ID) > len(best.ID) {
			best = u
		}
	}
	return best
}

func sheetTrigger(m *note.Model, t note.Trigger, unit string, states [][]int) SheetTrigger {
	if t.Mode >= 0 {
		return SheetTrigger{Key: "mode " + local(m.Modes[t.Mode].ID, unit), Modes: []int{t.Mode}, Chance: t.Chance}
	}
	c := m.Conditions[t.Cond]
	out := SheetTrigger{Key: fmt.Sprintf("condition %s %x", local(c.ID, unit), t.States), Modes: []int{}, Chance: t.Chance}
	for i, s := range states {
		if t.States>>s[t.Cond]&1 != 0 {
			out.Modes = append(out.Modes, i)
		}
	}
	return out
}

// alone returns the state of every condition when a mode is the only fault.
func alone(m *note.Model) [][]int {
	out := make([][]int, len(m.Modes))
	for i, x := range m.Modes {
		s := make([]int, len(m.Conditions))
		for _, e := range x.Effects {
			s[e.Cond] = max(s[e.Cond], e.State)
		}
		for c, cond := range m.Conditions {
			for _, l := range cond.From {
				s[c] = max(s[c], l.Map[s[l.Cond]])
			}
		}
		out[i] = s
	}
	return out
}

// Key is the hash of the sheet's content, by which records refer to it.
func (s Sheet) Key() string {
	data, err := json.Marshal(s)
	if err != nil {
		return "" // only for figures that check refuses
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

func (s Sheet) check() error {
	c := &checker{where: fmt.Sprintf("sheet of %q", s.Device)}
	c.name("the device", s.Device, false)
	c.atMost("the fault modes", len(s.Modes), 1000)
	seen := make(map[string]bool, len(s.Modes))
	for i, m := range s.Modes {
		c.name("a fault mode", m.ID, false)
		c.in("the odds of "+m.ID, m.Odds, 0, 1e6)
		if seen[m.ID] {
			c.fail("the fault mode "+m.ID, "there twice", "it once")
		}
		seen[m.ID] = true
		for _, k := range m.Causes {
			c.in("a cause of "+m.ID, float64(k.Mode), 0, float64(i)-1)
			c.in("the chance of a cause of "+m.ID, k.Chance, 0, 1)
		}
	}
	last := float64(len(s.Modes)) - 1
	for _, f := range s.Signs {
		c.name("a sign", f.ID, false)
		c.in("the leak of "+f.ID, f.Leak, 0, 1)
		for _, t := range f.Triggers {
			c.name("a trigger of "+f.ID, t.Key, false)
			c.in("a chance of "+f.ID, t.Chance, 0, 1)
			for _, i := range t.Modes {
				c.in("a fault mode that shows "+f.ID, float64(i), 0, last)
			}
		}
	}
	for _, r := range s.Clears {
		c.name("a repair", r.Repair, false)
		c.in("the fault mode that "+r.Repair+" clears", float64(r.Mode), 0, last)
		c.in("the success of "+r.Repair, r.Success, 0, 1)
	}
	if c.err == nil && len(s.Modes) > 0 && !(s.broken() > 0) {
		c.fail("the odds of its fault modes", "0", "at least one above 0")
	}
	return c.err
}

// prior is the chance of the mode to come about by itself.
func (m SheetMode) prior() float64 { return m.Odds / (1 + m.Odds) }

// broken is the prior chance that the device has a fault of its own accord.
func (s Sheet) broken() float64 {
	sum := 0.0
	for _, m := range s.Modes {
		sum += math.Log1p(m.Odds)
	}
	return -math.Expm1(-sum)
}

// The names a thing is pooled under, finest first. A part outside every block is
// pooled under its device; a part of no stated kind under its name alone.
func (s *Sheet) modeKeys(i int) [3]string {
	m := &s.Modes[i]
	kind := m.Kind + "\x00" + m.Name // a device may change the kind of a part of its block
	return [3]string{s.Device + "\x00" + m.ID, s.scope(m.Block) + "\x00" + m.Local + "\x00" + kind, kind}
}

func (s *Sheet) scope(block string) string {
	if block == "" {
		return "device " + s.Device
	}
	return "block " + block
}

func (s *Sheet) triggerKeys(f *SheetSign, t *SheetTrigger) [2]string {
	return [2]string{s.Device + "\x00" + f.ID + "\x00" + t.Key, s.scope(f.Block) + "\x00" + f.Local + "\x00" + t.Key}
}

func (s *Sheet) clearKeys(c *SheetClear) [3]string {
	m := &s.Modes[c.Mode]
	return [3]string{
		s.Device + "\x00" + c.Repair + "\x00" + m.ID,
		s.scope(m.Block) + "\x00" + c.Local + "\x00" + m.Local,
		m.Kind + "\x00" + m.Name,
	}
}
