package fit

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"math"
	"slices"

	"fettler/internal/part"
)

// Shelf is an indexed set of candidates. It is immutable and may be searched
// from several goroutines.
type Shelf struct {
	lines   []Candidate
	columns map[Param][]float64 // NaN = not known
	words   map[Param][]string
	kinds   []part.Kind
}

// NewShelf indexes the candidates. It refuses figures that are not numbers and
// parameters it does not know, with a sentence naming the line.
func NewShelf(lines []Candidate) (*Shelf, error) {
	s := &Shelf{lines: slices.Clone(lines), columns: map[Param][]float64{}, words: map[Param][]string{}, kinds: make([]part.Kind, len(lines))}
	for i, c := range lines {
		s.kinds[i] = c.Kind
		for p, v := range c.Figures {
			if _, ok := figures[p]; !ok {
				return nil, fmt.Errorf("line %d, %s: %q is not a figure known here", i+1, c.Name, p)
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, fmt.Errorf("line %d, %s: %s is not a number; leave it out if it is not known", i+1, c.Name, p)
			}
			s.column(p)[i] = v
		}
		for p, w := range c.Words {
			if !words[p] {
				return nil, fmt.Errorf("line %d, %s: %q is not a word known here", i+1, c.Name, p)
			}
			if s.words[p] == nil {
				s.words[p] = make([]string, len(lines))
			}
			s.words[p][i] = w
		}
	}
	return s, nil
}

func (s *Shelf) column(p Param) []float64 {
	col := s.columns[p]
	if col == nil {
		col = make([]float64, len(s.lines))
		for i := range col {
			col[i] = math.NaN()
		}
		s.columns[p] = col
	}
	return col
}

// Len is the number of lines.
func (s *Shelf) Len() int { return len(s.lines) }

// Options of a search. The zero value returns the best 20 that are not refused.
type Options struct {
	Limit       int  // most judgements returned; 0 = 20
	ShowRefused bool // also return refused ones, the closest first
	InStock     bool // leave out lines with too few pieces
}

// Result of a search: the best judgements and how many lines met each verdict.
type Result struct {
	Judgements []Judgement
	Accepted   int
	Unproven   int
	NearMiss   int
	Refused    int
	Cautions   []string
}

// Search judges every line and explains the best. It stops with ctx's error when
// the context ends.
func (s *Shelf) Search(ctx context.Context, r Requirement, opt Options) (Result, error) {
	if err := r.Check(); err != nil {
		return Result{}, err
	}
	verdicts, misses, err := s.sieve(ctx, r, opt.ShowRefused)
	if err != nil {
		return Result{}, err
	}
	res := Result{Cautions: r.Cautions}
	count := [...]*int{&res.Accepted, &res.Unproven, &res.NearMiss, &res.Refused}
	var picked []hit
	for i, v := range verdicts {
		if opt.InStock && s.lines[i].Quantity < max(1, r.Pieces) {
			continue
		}
		*count[v]++
		if v != Refused || opt.ShowRefused {
			picked = append(picked, hit{i, v, s.quick(r, i, v, misses[i])})
		}
	}
	slices.SortFunc(picked, func(a, b hit) int {
		return cmp.Or(cmp.Compare(a.verdict, b.verdict), cmp.Compare(a.score, b.score), cmp.Compare(a.line, b.line))
	})
	limit := opt.Limit
	if limit <= 0 {
		limit = 20
	}
	for _, h := range picked[:min(limit, len(picked))] {
		res.Judgements = append(res.Judgements, r.Judge(s.lines[h.line]))
	}
	return res, nil
}

type hit struct {
	line    int
	verdict Verdict
	score   float64
}

// sieve finds the verdict of every line, one inequality at a time, and the sum
// of misses and penalties on the way. Unless all are wanted, a refused line is not
// looked at again.
func (s *Shelf) sieve(ctx context.Context, r Requirement, all bool) ([]Verdict, []float64, error) {
	verdicts := make([]Verdict, len(s.lines))
	score := make([]float64, len(s.lines))
	if len(r.Kinds) > 0 {
		for i, k := range s.kinds {
			if !slices.Contains(r.Kinds, k) {
				verdicts[i], score[i] = Refused, 10
			}
		}
	}
	for _, q := range r.Inequalities {
		if err := ctx.Err(); err != nil {
			return nil, nil, fmt.Errorf("the search was broken off: %w", err)
		}
		if q.Op == OneOf {
			s.sieveWord(q, verdicts, score, all)
		} else {
			s.sieveFigure(q, verdicts, score, all)
		}
	}
	return verdicts, score, nil
}

func (s *Shelf) sieveFigure(q Inequality, verdicts []Verdict, score []float64, all bool) {
	col := s.columns[q.Param]
	lo, hi := q.plainly()
	for i, v := range verdicts {
		if v == Refused && !all {
			continue
		}
		if col != nil && col[i] >= lo && col[i] <= hi {
			continue // holds, and is not rated many times over
		}
		if col == nil || math.IsNaN(col[i]) {
			verdicts[i] = max(verdicts[i], q.unknown0())
			if q.unknown0() == Unproven {
				score[i] += 0.3
			}
			continue
		}
		miss := q.miss(col[i])
		switch {
		case miss == 0:
			if e := q.excess(col[i]); e > 3 {
				score[i] += 0.1 * math.Log(e/3)
			}
		case !q.Safety && miss <= q.Slack:
			verdicts[i] = max(verdicts[i], NearMiss)
			score[i] += miss / q.Slack
		default:
			verdicts[i] = Refused
			score[i] += 1 + math.Min(miss, 10)
		}
	}
}

// plainly is the span of values that hold and cost nothing in the score.
func (q Inequality) plainly() (lo, hi float64) {
	switch q.Op {
	case AtLeast:
		if q.Low > 0 {
			return q.Low, 3 * q.Low
		}
		return q.Low, math.Inf(1)
	case AtMost:
		return math.Inf(-1), q.High
	}
	return q.Low, q.High
}

func (s *Shelf) sieveWord(q Inequality, verdicts []Verdict, score []float64, all bool) {
	col := s.words[q.Param]
	fits := map[string]bool{}
	for i, v := range verdicts {
		if v == Refused && !all {
			continue
		}
		if col == nil || col[i] == "" {
			verdicts[i] = max(verdicts[i], q.unknown0())
			if q.unknown0() == Unproven {
				score[i] += 0.3
			}
			continue
		}
		ok, seen := fits[col[i]]
		if !seen {
			ok = q.judgeWord(col[i]).Verdict == Accepted
			fits[col[i]] = ok
		}
		if !ok {
			verdicts[i] = Refused
			score[i]++
		}
	}
}

// unknown0 is the verdict of unknown, without its words.
func (q Inequality) unknown0() Verdict {
	switch {
	case q.Safety:
		return Refused
	case q.Optional:
		return Accepted
	}
	return Unproven
}

// quick is the score of [Requirement.Judge], from the columns.
func (s *Shelf) quick(r Requirement, i int, v Verdict, sum float64) float64 {
	if col := s.columns[r.Main]; r.Main != "" {
		if col != nil && col[i] > 0 {
			sum += math.Abs(math.Log(col[i] / r.Wanted))
		} else {
			sum += 0.7
		}
	}
	if s.lines[i].Quantity < max(1, r.Pieces) {
		sum += 0.2
	}
	return sum
}

// Params lists the parameters the shelf states anywhere, in alphabetical order.
func (s *Shelf) Params() []Param {
	ps := slices.Collect(maps.Keys(s.columns))
	for p := range s.words {
		ps = append(ps, p)
	}
	slices.Sort(ps)
	return ps
}
