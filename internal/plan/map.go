package plan

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/belief"
)

// A Map is the next moves laid out as a tree for drawing: what to do, how it can
// come out, what is then to be done.
type Map struct {
	Title string
	Spots []Spot // parents before children, siblings by falling chance
}

// A Spot is one move on the map, or an end.
type Spot struct {
	Parent int     // index of the spot before, -1 for the first
	Level  int     // 0 for the first
	P      float64 // chance of getting here
	When   string  // the result that leads here: "no", "12 V: low"
	Do     string  // what is done here: "Measure the 12 V rail"
	Note   string  // "3 min, then 22.40 EUR to go"
	Kind   Kind
	Works  bool // an end: it works
	Rest   bool // the less likely results of the spot before, drawn together
	Folded bool // goes on beyond the map
}

// Limits of a map: results of one move drawn apart, and the chance below which a spot is not drawn.
const (
	mostBranches = 4
	leastDrawn   = 0.01
)

// Map lays out the next levels of the policy, 0 meaning 3.
func (p *Planner) Map(ctx context.Context, b *belief.Belief, sit Situation, levels int) (*Map, error) {
	if levels <= 0 {
		levels = 3
	}
	if levels > 6 {
		return nil, fmt.Errorf("a map of %d levels cannot be read; ask for at most 6", levels)
	}
	r, err := p.Rehearse(ctx, b, sit, 0)
	if err != nil {
		return nil, err
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	m := &Map{Title: p.e.Model().Title}
	p.chart(m, r.Root, -1, 0, levels, "")
	return m, nil
}

// chart adds a step and what follows it.
func (p *Planner) chart(m *Map, s *Step, parent, level, levels int, when string) {
	at := len(m.Spots)
	m.Spots = append(m.Spots, Spot{Parent: parent, Level: level, P: s.P, When: when, Do: p.name(s.Move), Kind: s.Move.Kind,
		Note: p.note(s), Folded: s.Folded || level == levels-1 && len(s.Branches) > 0})
	if level == levels-1 {
		return
	}
	rest := Spot{Parent: at, Level: level + 1, When: "other results", Do: "…", Rest: true}
	for k, br := range s.Branches {
		p2 := s.P * br.Result.P
		switch {
		case k >= mostBranches || p2 < leastDrawn:
			rest.P += p2
		case br.Next == nil:
			m.Spots = append(m.Spots, Spot{Parent: at, Level: level + 1, P: p2, When: p.outcome(s.Move, br.Result), Do: "It works: close it", Kind: Stop, Works: true})
		default:
			p.chart(m, br.Next, at, level+1, levels, p.outcome(s.Move, br.Result))
		}
	}
	if rest.P > 1e-4 {
		m.Spots = append(m.Spots, rest)
	}
}

// note is the small print of a step.
func (p *Planner) note(s *Step) string {
	var parts []string
	if t := s.Cost.Minutes + s.Cost.Access; t > 0 {
		parts = append(parts, fmt.Sprintf("%.0f min", t))
	}
	if s.Cost.Money > 0 {
		parts = append(parts, fmt.Sprintf("%.2f %s", s.Cost.Money, p.e.Model().Currency))
	}
	if s.Cost.Days > 0 {
		parts = append(parts, fmt.Sprintf("%.0f days", s.Cost.Days))
	}
	return strings.Join(parts, ", ")
}

// name is what a move is called.
func (p *Planner) name(m Move) string {
	switch m.Kind {
	case Check:
		return p.e.Model().Checks[m.Index].Title
	case Repair:
		return p.e.Model().Repairs[m.Index].Title
	case Test:
		return "Try the whole"
	default:
		return "Stop here"
	}
}

// outcome puts a result of a move in words.
func (p *Planner) outcome(m Move, r Result) string {
	switch {
	case m.Kind == Test && r.Works:
		return "works"
	case m.Kind == Test:
		return "still fails"
	case m.Kind == Repair:
		return "done"
	}
	var shown, all []string
	for _, v := range r.Values {
		words, yes := p.valueWords(v)
		all = append(all, words)
		if yes {
			shown = append(shown, words)
		}
	}
	switch {
	case len(shown) > 0:
		return strings.Join(shown, "; ")
	case len(all) > 1:
		return "none of what was looked for"
	default:
		return strings.Join(all, "")
	}
}

// valueWords puts the outcome of a finding in words, and tells whether it is worth saying when there are several.
func (p *Planner) valueWords(v Value) (words string, telling bool) {
	m := p.e.Model()
	f := &m.Findings[v.Finding]
	o := p.e.Outcomes(v.Finding)[v.Outcome]
	switch {
	case len(f.Answers) > 0:
		return f.Answers[o.Value], true
	case o.State >= 0 && f.Cond < len(m.Conditions):
		return m.Conditions[f.Cond].Title + ": " + m.Conditions[f.Cond].States[o.State], true
	case o.Value == 1:
		return f.Title, true
	default:
		return "not: " + f.Title, false
	}
}
