package soak

import "math"

// Method is how certainty is reckoned.
type Method string

const (
	// ByBelief goes from the chance that the fault is still there to the chance that it is fixed.
	ByBelief Method = ""
	// Test leaves the prior chance out: a device still faulty would pass with chance 1−C at most.
	Test Method = "test"
)

// Settings are the figures of the bench; zero stands for the default.
type Settings struct {
	WarmUpMin   float64 // from cold to warmed through; 20 (judged)
	CoolDownMin float64 // from warm to cold; 60 (judged)
	HoldMin     float64 // how long a start must run to count; 5, and for Late at least half of AfterMin (judged)
	OffMin      float64 // off time of a warm restart; 1 (judged)
	Method      Method
}

// A Question is what a soak is to answer.
type Question struct {
	History    History
	Still      float64 // chance that the fault is still there before the soak
	Confidence float64 // wanted chance that it is fixed; 0 for 0.95
	Settings   Settings
}

// Unit is what is counted.
type Unit string

const (
	Minutes Unit = "minutes"
	Starts  Unit = "starts"
)

// A Plan is what has to be seen, and the steps to see it.
type Plan struct {
	Question Question // with its defaults filled in
	Unit     Unit
	Need     float64 // clean minutes or starts, in the condition of the history
	Already  bool    // sure enough without a soak: Steps is then one try of the device
	Before   float64 // chance that it is fixed before the soak (for Test: 0)
	After    float64 // the same after a clean soak (for Test: the confidence reached)
	Shows    float64 // chance that the symptom shows during the soak if the fault is still there
	Steps    []Step
	BenchMin float64 // what the steps take in all, off times included
}

// Make plans a soak. The cost is a few microseconds.
func Make(q Question) (Plan, error) {
	q, err := q.filled()
	if err != nil {
		return Plan{}, err
	}
	p := Plan{Question: q, Unit: Minutes, Before: q.fixed(0)}
	if q.History.inStarts() {
		p.Unit = Starts
	}
	p.Need = q.History.needs(q.target())
	p.Already = p.Need == 0
	p.After = q.fixed(p.Need)
	p.Shows = -math.Expm1(q.History.stays(p.Need))
	p.Steps = steps(q, p.Need)
	for _, s := range p.Steps {
		p.BenchMin += float64(s.Times) * (s.OnMin + s.OffMin)
	}
	return p, nil
}

// filled checks a question and fills in its defaults.
func (q Question) filled() (Question, error) {
	s := &q.Settings
	err := first(
		q.History.check(),
		optional("the confidence", q.Confidence, 0.5, 0.9999, ""),
		optional("the time to warm up", s.WarmUpMin, 0.1, 1440, "minutes"),
		optional("the time to cool down", s.CoolDownMin, 0.1, 2880, "minutes"),
		optional("the time a start must run", s.HoldMin, 1.0/60, 1440, "minutes"),
		optional("the off time of a restart", s.OffMin, 1.0/60, 60, "minutes"),
	)
	if err != nil {
		return q, err
	}
	if !(q.Still >= 0 && q.Still <= 0.9999) {
		return q, bad("the chance that the fault is still there", q.Still,
			"0 to 0.9999; if it is certain, repair first")
	}
	if s.Method != ByBelief && s.Method != Test {
		return q, &FieldError{"the method", "\"" + string(s.Method) + "\"", "\"test\", or nothing for by belief"}
	}
	fill := func(v *float64, def float64) {
		if *v == 0 {
			*v = def
		}
	}
	fill(&q.Confidence, 0.95)
	fill(&s.WarmUpMin, 20)
	fill(&s.CoolDownMin, 60)
	fill(&s.OffMin, 1)
	hold := 5.0
	if q.History.When == Late {
		hold = max(hold, q.History.AfterMin/2)
	}
	fill(&s.HoldMin, hold)
	if s.OffMin > s.CoolDownMin/4 {
		return q, bad("the off time of a restart", s.OffMin, "at most a quarter of the time to cool down, or it is no longer warm")
	}
	return q, nil
}

// target is ln s*, what the chance of staying clean by luck may be at most.
func (q Question) target() float64 {
	if q.Settings.Method == Test {
		return math.Log1p(-q.Confidence)
	}
	if q.Still == 0 {
		return 0
	}
	return min(0, math.Log1p(-q.Confidence)-math.Log(q.Confidence)+math.Log1p(-q.Still)-math.Log(q.Still))
}

// fixed is the chance that it is fixed after x clean minutes or starts; for Test
// the confidence, the chance that a device still faulty would have shown it.
func (q Question) fixed(x float64) float64 {
	lnS := q.History.stays(x)
	if q.Settings.Method == Test {
		return -math.Expm1(lnS)
	}
	return (1 - q.Still) / (q.Still*math.Exp(lnS) + 1 - q.Still)
}

// A Point is a point of the curve of belief.
type Point struct {
	X     float64 // clean minutes or starts
	Fixed float64 // chance that it is fixed
}

// Curve returns the chance that it is fixed over the clean minutes or starts,
// from 0 to half as many again as are needed, in n steps (for starts, at whole numbers only).
func (p Plan) Curve(n int) []Point {
	n = min(max(n, 1), 10_000)
	end := 1.5 * p.Need
	if p.Unit == Starts {
		end = math.Ceil(end)
		n = int(min(float64(n), end))
	}
	if !(end > 0) {
		return []Point{{0, p.Before}}
	}
	out := make([]Point, 0, n+1)
	for i := range n + 1 {
		x := end * float64(i) / float64(n)
		if p.Unit == Starts {
			x = math.Round(x)
		}
		out = append(out, Point{x, p.Question.fixed(x)})
	}
	return out
}
