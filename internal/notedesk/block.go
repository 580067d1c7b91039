package notedesk

import (
	"errors"
	"fmt"
	"slices"

	"fettler/internal/belief"
	"fettler/internal/failure"
	"fettler/internal/note"
	"fettler/internal/quantity"
)

// A Block is a block's note to read: what can fail, how that shows, how to
// check it, what the repair takes.
type Block struct {
	ID       string
	Title    string
	About    string
	Currency string
	Needs    []Port
	Gives    []Port
	Faults   []Fault // the most usual first
	Checks   []Step
	Repairs  []Step
}

// A Port is a condition of a block: a rail, a signal, a motion.
type Port struct {
	Title  string
	States []string // from good to worst
}

// A Fault of a block with its traces.
type Fault struct {
	ID     string
	Title  string
	Part   string
	Mark   string
	Value  string
	Share  float64 // of the block's faults
	Does   []string
	Shows  []Sign // what it changes most
	Brings []string
	Mends  []string // repairs that clear it
}

// A Sign is how a finding comes out when a fault is there and nothing else is wrong.
type Sign struct {
	Title  string
	Answer string // "" if it simply shows
	P      float64
	Check  string // the check that reveals it, "" if it shows from outside
}

// A Step is a check or a repair.
type Step struct {
	Title    string
	How      string
	With     []string
	Minutes  float64
	Access   string
	Live     bool
	Cautions []string
	Looks    []string // check: what it tells
	Clears   []string // repair: faults it removes
	Price    float64  // repair: of the parts
	Days     float64
	Buys     []string
}

// Blocks lists the blocks.
func (d *Desk) Blocks() []note.BlockInfo { return d.Library().Blocks() }

// Block puts a block into words.
func (d *Desk) Block(id string) (*Block, *note.Model, error) {
	m, err := d.Library().Block(id)
	if errors.Is(err, note.ErrNoBlock) {
		return nil, nil, &failure.Error{Code: failure.NotFound, Text: fmt.Sprintf("there is no block %q", failure.Clip(id)), Next: "look through the list of blocks", Err: err}
	}
	if err != nil {
		return nil, nil, &failure.Error{Code: failure.NoNote, Text: err.Error(), Next: "mend the note", Err: err}
	}
	b, err := BlockOf(m)
	return b, m, err
}

// BlockOf puts the model of a block by itself into words.
func BlockOf(m *note.Model) (*Block, error) {
	e, err := belief.New(m, belief.Options{Candidates: 1})
	if err != nil {
		return nil, fmt.Errorf("the block %s: %w", m.ID, err)
	}
	b := &Block{ID: m.ID, Title: m.Title, About: m.About, Currency: m.Currency}
	b.ports(m)
	sum := 0.0
	for i := range m.Modes {
		sum += m.Modes[i].Odds
	}
	for i := range m.Modes {
		b.Faults = append(b.Faults, faultOf(e, i, m.Modes[i].Odds/max(sum, 1e-300)))
	}
	slices.SortStableFunc(b.Faults, func(x, y Fault) int {
		switch {
		case x.Share > y.Share:
			return -1
		case x.Share < y.Share:
			return 1
		}
		return 0
	})
	for i := range m.Checks {
		k := &m.Checks[i]
		s := Step{Title: k.Title, How: k.How, With: k.With, Minutes: k.Minutes, Access: m.Access[k.Access].Title, Live: k.Live, Cautions: cautions(k.Hazards)}
		for _, f := range k.Findings {
			s.Looks = append(s.Looks, m.Findings[f].Title)
		}
		b.Checks = append(b.Checks, s)
	}
	for i := range m.Repairs {
		r := &m.Repairs[i]
		s := Step{Title: r.Title, How: r.How, With: r.With, Minutes: r.Minutes, Access: m.Access[r.Access].Title, Live: r.Live, Cautions: cautions(r.Hazards), Price: r.Price, Days: r.Days}
		for _, x := range r.Buys {
			s.Buys = append(s.Buys, x.What)
		}
		for _, c := range r.Clears {
			s.Clears = append(s.Clears, m.Modes[c.Mode].Title)
		}
		b.Repairs = append(b.Repairs, s)
	}
	return b, nil
}

// ports lists what others can be wired to; the state of a part is not one.
func (b *Block) ports(m *note.Model) {
	feeds := map[int]bool{}
	for i := range m.Conditions {
		for _, l := range m.Conditions[i].From {
			feeds[l.Cond] = true
		}
	}
	parts := map[int]bool{}
	for i := range m.Parts {
		parts[m.Parts[i].Cond] = true
	}
	for i := range m.Conditions {
		c := &m.Conditions[i]
		p := Port{c.Title, c.States}
		switch {
		case parts[i]:
		case len(c.From) == 0 && feeds[i] && !ownDoing(m, i):
			b.Needs = append(b.Needs, p)
		case !feeds[i]:
			b.Gives = append(b.Gives, p)
		}
	}
}

// ownDoing says that a fault of the block itself acts on the condition.
func ownDoing(m *note.Model, cond int) bool {
	return slices.ContainsFunc(m.Modes, func(x note.Mode) bool {
		return slices.ContainsFunc(x.Effects, func(e note.Effect) bool { return e.Cond == cond })
	})
}

const (
	tellingSign = 0.15 // a finding's chance must move by so much to be a trace of a fault
	mostSigns   = 6
)

func faultOf(e *belief.Engine, mode int, share float64) Fault {
	m := e.Model()
	x := &m.Modes[mode]
	p := &m.Parts[x.Part]
	f := Fault{ID: x.ID, Title: x.Title, Part: p.Title, Mark: p.Mark, Value: p.Value, Share: share}
	for _, d := range x.Effects {
		if c := &m.Conditions[d.Cond]; d.Cond != p.Cond {
			f.Does = append(f.Does, c.Title+" "+c.States[d.State])
		}
	}
	for i := range m.Modes {
		for _, c := range m.Modes[i].Causes {
			if c.Mode == mode {
				f.Brings = append(f.Brings, m.Modes[i].Title)
			}
		}
	}
	for _, r := range m.Repairs {
		if slices.ContainsFunc(r.Clears, func(c note.Clear) bool { return c.Mode == mode }) {
			f.Mends = append(f.Mends, r.Title)
		}
	}
	f.Shows = traces(e, mode)
	return f
}

// traces are the findings a fault changes most, compared with nothing wrong.
func traces(e *belief.Engine, mode int) []Sign {
	m := e.Model()
	with, sound := e.World([]int{mode}), e.World(nil)
	type trace struct {
		Sign
		by float64
	}
	var all []trace
	for i := range m.Findings {
		f := &m.Findings[i]
		ways, now, was := e.Outcomes(i), e.Chances(with, i), e.Chances(sound, i)
		best, by := -1, tellingSign
		for k := range now {
			if d := now[k] - was[k]; d > by && (f.Kind != note.Sign || ways[k].Value == 1) {
				best, by = k, d
			}
		}
		if best < 0 {
			continue
		}
		s := Sign{Title: f.Title, P: now[best]}
		switch f.Kind {
		case note.Pick:
			s.Answer = f.Answers[ways[best].Value]
		case note.Reading:
			s.Answer = span(f, ways[best].State)
		}
		if f.Check >= 0 {
			s.Check = m.Checks[f.Check].Title
		}
		all = append(all, trace{s, by})
	}
	slices.SortStableFunc(all, func(a, b trace) int {
		switch {
		case a.by > b.by:
			return -1
		case a.by < b.by:
			return 1
		}
		return 0
	})
	var out []Sign
	for _, t := range all[:min(len(all), mostSigns)] {
		out = append(out, t.Sign)
	}
	return out
}

// span is where nine of ten readings of a state lie.
func span(f *note.Finding, state int) string {
	if state < 0 || state >= len(f.Dist) {
		return ""
	}
	low, high := quantity.Format(f.Dist[state].Low, f.Measure, 3), quantity.Format(f.Dist[state].High, f.Measure, 3)
	switch d := f.Dist[state]; {
	case d.Over:
		return "over " + low
	case d.Under:
		return "under " + high
	}
	return low + " to " + high
}

func cautions(hazards []note.Hazard) []string { return note.Cautions(hazards) }
