package fit

import (
	"fmt"
	"math"
	"slices"

	"fettler/internal/part"
)

// Op is the relation an inequality asks for.
type Op int

// The relations.
const (
	AtLeast Op = iota // value ≥ Low
	AtMost            // value ≤ High
	Within            // Low ≤ value ≤ High
	OneOf             // word is one of Words
)

// Inequality is one condition on a part, with its reason.
type Inequality struct {
	Param Param
	Op    Op
	Low   float64
	High  float64
	Words []string
	Why   string // why the circuit needs it
	Risk  string // what happens when it is missed a little
	// Slack is how far, as a fraction of the limit, a candidate may miss and still be
	// offered as a near miss. 0 = no near miss.
	Slack float64
	// Safety says that people or fire depend on it: no near miss, and unknown is
	// refused.
	Safety bool
	// Optional says that a candidate not stating it is accepted all the same.
	Optional bool
}

// Requirement is what a part must satisfy to do instead of the old one.
type Requirement struct {
	Title        string
	Kinds        []part.Kind // kinds that may do; empty = any
	Main         Param       // the parameter to be close in; "" = none
	Wanted       float64     // its value in the old part; 0 = none
	Pieces       int         // how many are needed; 0 = 1
	Inequalities []Inequality
	Cautions     []string // said with every answer
	LikeForLike  bool     // safety part: same kind and class only
}

// Candidate is a part at hand or on offer.
type Candidate struct {
	Name     string
	Kind     part.Kind
	Figures  map[Param]float64 // SI; a parameter not in it is not known
	Words    map[Param]string
	Quantity int
	Place    string // drawer, box, or shop
	Source   string // where the figures come from: marking, data sheet, measured
}

// Check reports what is wrong with the requirement itself, as a sentence.
func (r Requirement) Check() error {
	for _, q := range r.Inequalities {
		if err := q.check(); err != nil {
			return fmt.Errorf("requirement %q: %w", r.Title, err)
		}
	}
	if _, ok := figures[r.Main]; r.Main != "" && (!ok || !(r.Wanted > 0) || math.IsInf(r.Wanted, 0)) {
		return fmt.Errorf("requirement %q: the main parameter %q needs a positive figure wanted", r.Title, r.Main)
	}
	return nil
}

func (q Inequality) check() error {
	bad := func(vs ...float64) bool {
		return slices.ContainsFunc(vs, func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) })
	}
	_, figure := figures[q.Param]
	switch {
	case bad(q.Low, q.High, q.Slack) || q.Slack < 0:
		return fmt.Errorf("the limits of %q must be finite figures", q.Param)
	case q.Op == OneOf && !words[q.Param]:
		return fmt.Errorf("%q is not a word that can be compared; use AtLeast, AtMost or Within for figures", q.Param)
	case q.Op == OneOf && len(q.Words) == 0:
		return fmt.Errorf("%q lists no word that would do", q.Param)
	case q.Op != OneOf && !figure:
		return fmt.Errorf("%q is not a figure known here; use OneOf for words", q.Param)
	case q.Op == Within && q.Low > q.High:
		return fmt.Errorf("%q runs from %g to %g, which nothing satisfies", q.Param, q.Low, q.High)
	case q.Op < AtLeast || q.Op > OneOf:
		return fmt.Errorf("the relation of %q is not known", q.Param)
	}
	return nil
}

// String gives "rated voltage DC at least 25 V".
func (q Inequality) String() string {
	switch q.Op {
	case AtLeast:
		return fmt.Sprintf("%s at least %s", q.Param, q.Param.Show(q.Low))
	case AtMost:
		return fmt.Sprintf("%s at most %s", q.Param, q.Param.Show(q.High))
	case Within:
		return fmt.Sprintf("%s from %s to %s", q.Param, q.Param.Show(q.Low), q.Param.Show(q.High))
	}
	return fmt.Sprintf("%s %s", q.Param, orList(q.Words))
}

func orList(w []string) string {
	s := ""
	for i, x := range w {
		switch {
		case i == 0:
		case i == len(w)-1:
			s += " or "
		default:
			s += ", "
		}
		s += x
	}
	return s
}

// miss is by how much a value fails, as a fraction of the limit; 0 = it holds.
func (q Inequality) miss(v float64) float64 {
	below := func(limit float64) float64 {
		if v >= limit-1e-9*math.Abs(limit) {
			return 0
		}
		return (limit - v) / scale(limit, v)
	}
	above := func(limit float64) float64 {
		if v <= limit+1e-9*math.Abs(limit) {
			return 0
		}
		return (v - limit) / scale(limit, v)
	}
	switch q.Op {
	case AtLeast:
		return below(q.Low)
	case AtMost:
		return above(q.High)
	}
	return max(below(q.Low), above(q.High))
}

// excess is how many times over a rating exceeds the need; 1 when it does not apply.
func (q Inequality) excess(v float64) float64 {
	switch {
	case q.Op == AtLeast && q.Low > 0 && v > q.Low && q.Param != TempMax && q.Param != Endurance:
		return v / q.Low
	}
	return 1
}

func scale(limit, v float64) float64 {
	if limit == 0 {
		return math.Max(math.Abs(v), math.SmallestNonzeroFloat64)
	}
	return math.Abs(limit)
}
