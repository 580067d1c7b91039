package soak

const (
	coldAt = 1e-6 // heat at which a start is a cold one
	warmAt = 0.75 // heat from which a start is a warm one (judged)
)

// pass lets minutes go by with the device as it is.
func (f *fold) pass(min float64) {
	s := f.q.Settings
	if !f.On {
		f.Tally.Heat = max(0, f.Tally.Heat-min/s.CoolDownMin)
		return
	}
	before := f.RunMin
	toWarm := max(0, (1-f.Tally.Heat)*s.WarmUpMin) // minutes until warmed through
	f.OnMin += min
	f.RunMin += min
	f.Tally.Heat += min / s.WarmUpMin
	if f.Tally.Heat > 1-1e-9 {
		f.Tally.Heat = 1
	}
	if f.Unit == Starts {
		if !f.credited && f.fits() && f.RunMin >= f.startLength()-1e-9 {
			f.credited = true
			f.Pending++
		}
		return
	}
	switch f.q.History.When {
	case Anytime:
		f.Pending += min
	case Warm:
		f.Pending += max(0, min-toWarm)
	case Cold:
		if f.from == HeatCold {
			f.Pending += between(before, f.RunMin, 0, s.WarmUpMin)
		}
	case Late:
		f.Pending += max(0, f.RunMin-max(before, f.q.History.AfterMin))
	}
}

// between is how much of a … b lies in lo … hi.
func between(a, b, lo, hi float64) float64 { return max(0, min(b, hi)-max(a, lo)) }

// fits says whether the present run began in the condition that counts.
func (f *fold) fits() bool {
	switch f.q.History.When {
	case Cold:
		return f.from == HeatCold
	case Warm:
		return f.from == HeatWarm
	}
	return true
}

// startLength is how long a run must be to count as a start.
func (f *fold) startLength() float64 {
	l := f.q.Settings.HoldMin
	if f.q.History.When == Late {
		l += f.q.History.AfterMin
	}
	return l
}
