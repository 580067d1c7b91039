package ledger

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"fettler/internal/note"
)

// Lessons are what the cases of a book teach. They are immutable and safe for
// concurrent use.
type Lessons struct {
	Cases    int     // cases that count
	Informed int     // of these, cases with a note and an idea of what it was
	Rounds   int     // rounds of the fit
	Residual float64 // largest change of a log factor in the last round

	settings          Settings
	leaf, block, kind map[string]known
	covariance        []*mat.Dense
	triggers, clears  *chances
}

// known is what is known of the log factor of one name.
type known struct {
	eta, variance float64
	group, place  int // of a leaf: which covariance, and where in it
	counts        [3]Count
}

func (b *Book) lessons(s Settings, f *fit, sp spreads, cases []*entry) *Lessons {
	l := &Lessons{Cases: len(cases), Rounds: f.steps, Residual: f.residual, settings: s, covariance: sp.covariance,
		leaf: map[string]known{}, block: map[string]known{}, kind: map[string]known{}}
	for _, c := range cases {
		if c.tells() {
			l.Informed++
		}
	}
	for name, k := range f.kinds {
		l.kind[name] = known{eta: f.u[k], variance: sp.ofU[k], counts: [3]Count{f.tally[0][k]}}
	}
	for name, i := range f.blocks {
		k := f.kind[i]
		l.block[name] = known{eta: f.u[k] + f.v[i], variance: sp.ofUV[i], counts: [3]Count{f.tally[0][k], f.tally[1][i]}}
	}
	for name, i := range f.leaves {
		g, p, bl := f.group[i], f.place[i], f.block[i]
		l.leaf[name] = known{f.eta(i), sp.covariance[g].At(p, p), g, p,
			[3]Count{f.tally[0][f.kind[bl]], f.tally[1][bl], f.tally[2][i]}}
	}
	l.triggers, l.clears = b.learnChances(s, f, cases)
	return l
}

// log returns what is known of the log factor of a mode. What has not been seen
// in this device is foretold from its block, that from its kind, and that from the note.
func (l *Lessons) log(s *Sheet, mode int) known {
	keys := s.modeKeys(mode)
	if k, ok := l.leaf[keys[0]]; ok {
		return k
	}
	spread := 1 / l.settings.Device
	k, ok := l.block[keys[1]]
	if !ok {
		spread += 1 / l.settings.Block
		if k, ok = l.kind[keys[2]]; !ok {
			spread += 1 / l.settings.Kind
		}
	}
	k.variance += spread
	k.group = -1
	return k
}

// Factors returns the factor of every fault mode of a sheet, relative to their
// mean, weighted by how often the note expects them: a mode's factor is its share
// of the faults over the share that the note gives it.
func (l *Lessons) Factors(s *Sheet) []Factor {
	logs := make([]known, len(s.Modes))
	q := make([]float64, len(s.Modes)) // share of the faults
	expected, sum := 0.0, 0.0
	for i, m := range s.Modes {
		logs[i] = l.log(s, i)
		q[i] = m.prior() * math.Exp(logs[i].eta)
		sum += q[i]
		expected += m.prior()
	}
	if !(sum > 0) {
		return make([]Factor, len(s.Modes))
	}
	for i := range q {
		q[i] /= sum
	}
	with := make([]float64, len(q)) // covariance of each with the log of the weighted mean
	all := 0.0
	for i := range logs {
		for j := range logs {
			with[i] += l.cov(logs, i, j) * q[j]
		}
		all += q[i] * with[i]
	}
	out := make([]Factor, len(q))
	for i, k := range logs {
		variance := max(1e-9, k.variance-2*with[i]+all)
		out[i] = logGamma(k.eta-math.Log(sum/expected), variance)
		out[i].Kind, out[i].Block, out[i].Here = k.counts[0], k.counts[1], k.counts[2]
	}
	return out
}

func (l *Lessons) cov(logs []known, i, j int) float64 {
	a, b := logs[i], logs[j]
	switch {
	case i == j:
		return a.variance
	case a.group < 0 || a.group != b.group:
		return 0
	}
	return l.covariance[a.group].At(a.place, b.place)
}

// ChangeKind is what a lesson changes in a note.
type ChangeKind string

const (
	OddsChange    ChangeKind = "odds of a fault"
	TriggerChange ChangeKind = "chance of a sign"
	ClearChange   ChangeKind = "success of a repair"
)

// A Change is one figure of a note that the cases move.
type Change struct {
	Kind   ChangeKind
	ID     string // of the fault mode, finding or repair
	Mode   string // ClearChange: the fault mode it clears
	Title  string
	From   float64
	To     float64
	Factor Factor // OddsChange
	Chance Chance // the others
}

// Words is the reason in short, such as "from 9 cases here: ×1.8".
func (c Change) Words() string {
	if c.Kind != OddsChange {
		return fmt.Sprintf("from %s here and %s elsewhere: %.0f %% instead of %.0f %%", looks(c.Chance.Looks), looks(c.Chance.Others), 100*c.To, 100*c.From)
	}
	n, where := c.Factor.Here.Cases, "here"
	switch {
	case n > 0:
	case c.Factor.Block.Cases > 0:
		n, where = c.Factor.Block.Cases, "with this block"
	default:
		n, where = c.Factor.Kind.Cases, "with such parts"
	}
	if n == 0 {
		return fmt.Sprintf("not seen in any case here: ×%.2g", c.Factor.Mean)
	}
	s := "s"
	if n == 1 {
		s = ""
	}
	return fmt.Sprintf("from %d case%s %s: ×%.2g", n, s, where, c.Factor.Mean)
}

// looks is so many of them, in whole ones once there are many.
func looks(n float64) string {
	if n >= 99.95 {
		return fmt.Sprintf("%.0f", n)
	}
	return fmt.Sprintf("%.3g", n)
}

// Apply returns a copy of the model with the odds, the chances of signs and the
// successes of repairs that the cases teach. All that is not learned is shared
// with m. The odds are scaled together so that Σ ln(1+odds) stays as it was; a
// mode's Basis says what moved it. m must be as composed from the notes.
func (l *Lessons) Apply(m *note.Model) *note.Model {
	out := *m
	out.Modes = slices.Clone(m.Modes)
	out.Findings = slices.Clone(m.Findings)
	out.Repairs = slices.Clone(m.Repairs)
	for i := range out.Findings {
		out.Findings[i].Trigger = slices.Clone(out.Findings[i].Trigger)
	}
	for i := range out.Repairs {
		out.Repairs[i].Clears = slices.Clone(out.Repairs[i].Clears)
	}
	l.visit(m, func(c Change, to *target) {
		switch c.Kind {
		case OddsChange:
			out.Modes[to.i].Odds = c.To
			if c.moved() {
				out.Modes[to.i].Basis += "; " + c.Words()
			}
		case TriggerChange:
			out.Findings[to.i].Trigger[to.j].Chance = c.To
		case ClearChange:
			out.Repairs[to.i].Clears[to.j].Success = c.To
		}
	})
	return &out
}

// Changes lists what Apply changes, without what moves by less than 1 % of itself.
func (l *Lessons) Changes(m *note.Model) []Change {
	var out []Change
	l.visit(m, func(c Change, _ *target) {
		if c.moved() {
			out = append(out, c)
		}
	})
	return out
}

func (c Change) moved() bool {
	if c.Kind == OddsChange {
		return math.Abs(math.Log(c.Factor.Mean)) >= 0.01
	}
	return math.Abs(c.To-c.From) >= 0.01*c.From
}

// target is where in the model a change belongs.
type target struct{ i, j int }
