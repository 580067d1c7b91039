package records

import (
	"fmt"
	"slices"
)

// Weights of the evidence, in records. They were chosen by ten-fold
// cross-validation of the log loss over the hand labels and are flat around
// these values: doubling or halving any of them changes the loss by under 1 %.
const (
	unstatedWeight = 0.5 // a hand label whose text states no symptom apart from the cause
	countWeight    = 0.2 // a text classed by pattern, against a hand label
	countCap       = 200 // no category speaks with more pattern counts than this
	precisionPrior = 20  // records for which a class's pattern correction is held at 1
	groupStrength  = 12  // records' worth of the group's mix in each category
	wholeStrength  = 30  // records' worth of the whole mix in each group
	flatPrior      = 0.5 // of each class in the whole mix, so that none is impossible
)

// A Label is the class of cause that a person read in one record.
type Label struct {
	Category, Class string
	SymptomStated   bool // the text also says what the owner noticed
}

// A Count is the number of texts that a pattern put in a class.
type Count struct {
	Category, Class string
	N               float64
}

// A FitRow is one line of the shares table.
type FitRow struct {
	Category, Class string
	Millionths      int     // share; they sum to 1,000,000 over a category
	N               float64 // effective records of this class in this category
}

// Fit combines hand labels with pattern counts into the mix of classes of each
// category in groups. Hand labels are right but few, pattern counts many but
// biased. With h and r the two counts of class k in category c,
//
//	f_k  = (Σ_c h_ck + P) / (Σ_c H_c r_ck/R_c + P)       correction of pattern k
//	e_ck = h_ck + w min(Q_c, cap) q_ck/Q_c,  q_ck = r_ck f_k   effective count
//	o_k  = (Σ_c e_ck + ½) / (Σ_ck e_ck + ½ K)            mix of the whole
//	g_gk = (Σ_{c∈g} e_ck + B o_k) / (Σ_{c∈g,k} e_ck + B)     mix of group g
//	s_ck = (e_ck + A g_gk) / (Σ_k e_ck + A)                 share
//
// where capitals H, R, Q are sums over k: a Dirichlet posterior mean at each of
// three levels. f_k holds what a pattern over- or under-counts, as seen in the
// hand labels of the same categories. Shares are dimensionless and are rounded
// to millionths by largest remainder, so each category sums to exactly one.
// Cost is linear in the evidence.
//
// A class or category that is not known, one that is in two groups, and a count
// that is negative or not finite are errors that name the culprit.
//
// References: A. Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 3 and 5,
// for the Dirichlet posterior mean and for hierarchical shrinkage.
func Fit(labels []Label, counts []Count, groups [][]string) ([]FitRow, error) {
	t, err := newTally(labels, counts, groups)
	if err != nil {
		return nil, err
	}
	effective := t.effective(t.correction())
	whole := mix(total(effective), flat(), float64(len(classes))*flatPrior)
	shares := make([][]float64, len(t.categories))
	at := 0
	for _, members := range groups {
		group := mix(total(effective[at:at+len(members)]), whole, wholeStrength)
		for range members {
			shares[at] = mix(effective[at], group, groupStrength)
			at++
		}
	}
	return rows(t.categories, shares, effective), nil
}

// tally holds both kinds of evidence as categories × classes.
type tally struct {
	categories   []string
	hand, counts [][]float64
}

func newTally(labels []Label, counts []Count, groups [][]string) (*tally, error) {
	t := &tally{categories: slices.Concat(groups...)}
	index := map[string]int{}
	for i, c := range t.categories {
		if _, twice := index[c]; twice {
			return nil, fmt.Errorf("category %q is in two groups: leave it in one", c)
		}
		index[c] = i
		t.hand = append(t.hand, make([]float64, len(classes)))
		t.counts = append(t.counts, make([]float64, len(classes)))
	}
	add := func(to [][]float64, category, class string, n float64) error {
		c, ok := index[category]
		if !ok {
			return fmt.Errorf("category %q is in no group: add it to one or correct its name", category)
		}
		k := slices.Index(classes, class)
		if k < 0 {
			return fmt.Errorf("category %q: class %q is not one of the %d cause classes", category, class, len(classes))
		}
		if !(n >= 0 && n <= 1e9) {
			return fmt.Errorf("category %q, class %q: count %v is not between 0 and 1e9", category, class, n)
		}
		to[c][k] += n
		return nil
	}
	for _, l := range labels {
		weight := 1.0
		if !l.SymptomStated {
			weight = unstatedWeight
		}
		if err := add(t.hand, l.Category, l.Class, weight); err != nil {
			return nil, fmt.Errorf("hand label: %w", err)
		}
	}
	for _, n := range counts {
		if err := add(t.counts, n.Category, n.Class, n.N); err != nil {
			return nil, fmt.Errorf("pattern count: %w", err)
		}
	}
	return t, nil
}

// correction is f of [Fit].
func (t *tally) correction() []float64 {
	seen := total(t.hand)
	expected := make([]float64, len(classes))
	for c := range t.categories {
		h, r := sum(t.hand[c]), sum(t.counts[c])
		if r == 0 {
			continue
		}
		for k := range classes {
			expected[k] += h * t.counts[c][k] / r
		}
	}
	f := make([]float64, len(classes))
	for k := range f {
		f[k] = (seen[k] + precisionPrior) / (expected[k] + precisionPrior)
	}
	return f
}

// effective is e of [Fit].
func (t *tally) effective(f []float64) [][]float64 {
	e := make([][]float64, len(t.categories))
	for c := range e {
		q := make([]float64, len(classes))
		for k := range q {
			q[k] = t.counts[c][k] * f[k]
		}
		scale := 0.0
		if s := sum(q); s > 0 {
			scale = countWeight * min(s, countCap) / s
		}
		e[c] = make([]float64, len(classes))
		for k := range q {
			e[c][k] = t.hand[c][k] + scale*q[k]
		}
	}
	return e
}
