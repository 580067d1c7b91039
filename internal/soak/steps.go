package soak

import "math"

// StepKind is what a step of a soak is.
type StepKind string

const (
	Try      StepKind = "try"     // one run of the whole device, nothing to be counted
	WarmThru StepKind = "warm up" // run until warmed through
	Run      StepKind = "run"     // run and watch
	Cycle    StepKind = "cycle"   // switch off, wait, switch on and watch, Times times
	watching          = "Stay within reach and sight. Do not leave a device alone that has just been repaired and is on the mains, heats, or holds a lithium battery; unplug it when you go."
	cooling           = "Unplugged does not mean harmless: capacitors and hot parts keep their charge and heat for a while."
)

// A Step is one thing to do. Times is 1 but for a Cycle, which is OffMin off and
// then OnMin on, Times times.
type Step struct {
	Kind    StepKind
	Times   int
	OffMin  float64
	OnMin   float64
	When    When // state of the device at the start of a Cycle, and in which a Run counts
	Counts  bool // what is seen here counts
	Caution string
}

// steps lays out what yields the needed minutes or starts.
func steps(q Question, need float64) []Step {
	h, s := q.History, q.Settings
	if need == 0 {
		return []Step{{Kind: Try, Times: 1, OnMin: s.HoldMin, Caution: watching}}
	}
	if h.inStarts() {
		return cycles(q, need)
	}
	run := Step{Kind: Run, Times: 1, OnMin: need, When: h.When, Counts: true, Caution: watching}
	switch h.When {
	case Cold:
		n := roundUp(need / s.WarmUpMin)
		return []Step{{Kind: Cycle, Times: times(n), OffMin: s.CoolDownMin, OnMin: need / n, When: Cold, Counts: true, Caution: watching + " " + cooling}}
	case Warm:
		return []Step{{Kind: WarmThru, Times: 1, OnMin: s.WarmUpMin, Caution: watching}, run}
	case Late:
		return []Step{{Kind: WarmThru, Times: 1, OnMin: h.AfterMin, Caution: watching}, run}
	}
	return []Step{run}
}

// cycles lays out starts. Where the condition does not matter as far as known,
// one of them is made cold and the others warm, so that both are seen.
func cycles(q Question, need float64) []Step {
	h, s := q.History, q.Settings
	cold := Step{Kind: Cycle, Times: times(need), OffMin: s.CoolDownMin, OnMin: s.HoldMin, When: Cold, Counts: true, Caution: watching + " " + cooling}
	warm := Step{Kind: Cycle, Times: times(need), OffMin: s.OffMin, OnMin: s.HoldMin, When: Warm, Counts: true, Caution: watching}
	switch h.When {
	case Cold:
		return []Step{cold}
	case Warm:
		return []Step{{Kind: WarmThru, Times: 1, OnMin: s.WarmUpMin, Caution: watching}, warmKept(warm, s)}
	case Late:
		cold.OnMin, cold.When = h.AfterMin+s.HoldMin, Late
		return []Step{cold}
	}
	cold.Times = 1
	if need == 1 {
		return []Step{cold}
	}
	cold.OnMin = max(s.HoldMin, s.WarmUpMin) // so that the others are warm
	warm.Times = times(need - 1)
	warm = warmKept(warm, s)
	return []Step{cold, warm}
}

// warmKept stretches the on time of warm cycles so that the device gains at least
// the heat it loses while off.
func warmKept(c Step, s Settings) Step {
	c.OnMin = max(c.OnMin, c.OffMin*s.WarmUpMin/s.CoolDownMin)
	return c
}

func times(n float64) int { return int(min(n, math.MaxInt32)) }

// roundUp is the next whole number, forgiving a rounding error above one.
func roundUp(x float64) float64 { return max(1, math.Ceil(x*(1-1e-12))) }
