package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

// Verdict on a candidate or on one inequality, best first.
type Verdict int

// The verdicts; see the package comment.
const (
	Accepted Verdict = iota
	Unproven
	NearMiss
	Refused
)

// String gives the verdict in words.
func (v Verdict) String() string {
	return [...]string{"accepted", "not proven", "near miss", "refused"}[min(max(v, 0), Refused)]
}

// Check is the outcome of one inequality.
type Check struct {
	Inequality Inequality
	Verdict    Verdict
	Known      bool
	Value      float64 // the candidate's figure, when known
	Word       string  // or its word
	// Margin is how far the candidate is inside its limit, as a fraction of the
	// limit; negative when it fails. 0 when unknown or a word.
	Margin float64
	Words  string // the outcome as a sentence
}

// Judgement is the outcome for one candidate.
type Judgement struct {
	Candidate Candidate
	Verdict   Verdict
	Checks    []Check
	Risks     []string // of the near misses and of what is not proven
	Score     float64  // smaller is better among equal verdicts
	Short     int      // pieces missing, if there are too few
}

// Judge looks at one candidate. The requirement must have passed
// [Requirement.Check]; inequalities that have not are refused.
func (r Requirement) Judge(c Candidate) Judgement {
	j := Judgement{Candidate: c}
	if k, ok := r.kind(c.Kind); !ok {
		j.Checks = append(j.Checks, k)
		j.Verdict = Refused
	}
	for _, q := range r.Inequalities {
		ch := q.judge(c)
		j.Checks = append(j.Checks, ch)
		j.Verdict = max(j.Verdict, ch.Verdict)
		switch {
		case ch.Verdict == NearMiss && q.Risk != "":
			j.Risks = append(j.Risks, q.Risk)
		case ch.Verdict == Unproven:
			j.Risks = append(j.Risks, fmt.Sprintf("%s is not stated: %s", q.Param, reason(q.Why)))
		}
	}
	j.Short = max(0, max(1, r.Pieces)-c.Quantity)
	j.Score = r.score(j)
	return j
}

func (r Requirement) kind(k part.Kind) (Check, bool) {
	if len(r.Kinds) == 0 || slices.Contains(r.Kinds, k) {
		return Check{}, true
	}
	names := make([]string, len(r.Kinds))
	for i, x := range r.Kinds {
		names[i] = string(x)
	}
	w := fmt.Sprintf("it is a %s, wanted is a %s", kindName(k), orList(names))
	if r.LikeForLike {
		w += "; a safety part is replaced by the same kind only"
	}
	return Check{Verdict: Refused, Known: true, Word: string(k), Words: w}, false
}

func kindName(k part.Kind) string {
	if k == part.Unknown {
		return "part of unknown kind"
	}
	return string(k)
}

func (q Inequality) judge(c Candidate) Check {
	if q.check() != nil {
		return Check{Inequality: q, Verdict: Refused, Words: "the requirement itself is not sound: " + q.check().Error()}
	}
	if q.Op == OneOf {
		return q.judgeWord(c.Words[q.Param])
	}
	v, known := c.Figures[q.Param]
	if !known || math.IsNaN(v) || math.IsInf(v, 0) {
		return q.unknown()
	}
	ch := Check{Inequality: q, Known: true, Value: v, Margin: q.margin(v)}
	miss := q.miss(v)
	switch {
	case miss == 0:
		ch.Words = fmt.Sprintf("%s %s: %s%s", q.Param, q.Param.Show(v), q.holds(), q.spare(ch.Margin))
		return ch
	case !q.Safety && miss <= q.Slack:
		ch.Verdict = NearMiss
	default:
		ch.Verdict = Refused
	}
	ch.Words = fmt.Sprintf("%s %s: misses %s by %s; %s", q.Param, q.Param.Show(v), q.limit(v), percent(miss), reason(q.Why))
	return ch
}

func (q Inequality) judgeWord(w string) Check {
	if w == "" {
		return q.unknown()
	}
	ch := Check{Inequality: q, Known: true, Word: w}
	if slices.ContainsFunc(q.Words, func(x string) bool { return strings.EqualFold(x, w) }) {
		ch.Words = fmt.Sprintf("%s %s: as wanted", q.Param, w)
		return ch
	}
	ch.Verdict = Refused
	ch.Words = fmt.Sprintf("%s %s, wanted %s: %s", q.Param, w, orList(q.Words), reason(q.Why))
	return ch
}

func (q Inequality) unknown() Check {
	ch := Check{Inequality: q, Verdict: Unproven}
	switch {
	case q.Safety:
		ch.Verdict = Refused
		ch.Words = fmt.Sprintf("%s is not stated, and safety depends on it: %s", q.Param, reason(q.Why))
	case q.Optional:
		ch.Verdict = Accepted
		ch.Words = fmt.Sprintf("%s is not stated; it matters little here", q.Param)
	default:
		ch.Words = fmt.Sprintf("%s is not stated; look it up or measure it: %s", q.Param, q)
	}
	return ch
}

func (q Inequality) holds() string {
	switch q.Op {
	case AtLeast:
		return "at least " + q.Param.Show(q.Low)
	case AtMost:
		return "at most " + q.Param.Show(q.High)
	}
	return "within " + q.Param.Show(q.Low) + " to " + q.Param.Show(q.High)
}

func (q Inequality) limit(v float64) string {
	switch {
	case q.Op == AtLeast, q.Op == Within && v < q.Low:
		return "the least, " + q.Param.Show(q.Low) + ","
	}
	return "the most, " + q.Param.Show(q.High) + ","
}

// margin is the distance to the nearer limit as a fraction of that limit.
func (q Inequality) margin(v float64) float64 {
	lo := (v - q.Low) / scale(q.Low, v)
	hi := (q.High - v) / scale(q.High, v)
	switch q.Op {
	case AtLeast:
		return lo
	case AtMost:
		return hi
	}
	return min(lo, hi)
}

func (q Inequality) spare(m float64) string {
	if q.Op == Within || m < 0.005 {
		return ""
	}
	return ", " + percent(m) + " to spare"
}

func percent(f float64) string { return unit.FormatDigits(f, "%", 2) }

func reason(why string) string {
	if why == "" {
		return "the circuit needs it"
	}
	return why
}

func (r Requirement) score(j Judgement) float64 {
	s := 0.0
	if v, ok := j.Candidate.Figures[r.Main]; ok && r.Main != "" && v > 0 {
		s += math.Abs(math.Log(v / r.Wanted))
	} else if r.Main != "" {
		s += 0.7
	}
	for _, c := range j.Checks {
		switch {
		case c.Verdict == Unproven:
			s += 0.3
		case c.Verdict == NearMiss:
			s += c.Inequality.miss(c.Value) / c.Inequality.Slack
		case c.Known && c.Word == "":
			s += 0.1 * math.Max(0, math.Log(c.Inequality.excess(c.Value)/3))
		}
	}
	if j.Short > 0 {
		s += 0.2
	}
	return s
}
