package casework

import (
	"context"
	"fmt"
	"math"
	"time"

	"fettler/internal/belief"
	"fettler/internal/soak"
)

// A SoakBoard is everything a face shows of the proof that a device is fixed. It
// depends on the clock, because a soak goes on while nobody writes anything down.
type SoakBoard struct {
	Case   string      `json:"case"`
	Title  string      `json:"title"`
	Seq    int         `json:"seq"`
	At     time.Time   `json:"at"`    // the moment all this is said of
	Ready  string      `json:"ready"` // why a soak would be too early, "" if it is not
	Closed bool        `json:"closed"`
	Usual  SoakPlanned `json:"usual"` // what a form begins with: the plan, or what is known of how it showed

	Still     float64     `json:"still"`     // chance that the fault is still there, before the soak
	StillFrom string      `json:"stillFrom"` // where that is from, in words
	Plan      *SoakPlan   `json:"plan"`      // nil if none is planned since the last repair
	Tally     *SoakTally  `json:"tally"`     // nil without a plan
	Curve     []SoakPoint `json:"curve"`
	Log       []Entry     `json:"log"`   // its events, oldest first
	Shows     []Field     `json:"shows"` // symptoms that may come back, those it came with first
	Tests     []TestPoint `json:"tests"` // the test list
}

// SoakPlan is what has to be seen, and how to get it.
type SoakPlan struct {
	Event   int        `json:"event"`
	History string     `json:"history"` // how it showed, in words
	Sure    float64    `json:"sure"`    // wanted chance that it is fixed
	Unit    string     `json:"unit"`    // "minutes" or "starts"
	Need    float64    `json:"need"`    // clean ones
	Already bool       `json:"already"` // sure enough without
	Before  float64    `json:"before"`  // chance that it is fixed now
	After   float64    `json:"after"`   // after a clean soak
	Shows   float64    `json:"shows"`   // chance that it shows in the soak if the fault is still there
	Steps   []SoakStep `json:"steps"`
	Minutes float64    `json:"minutes"` // the steps in all, off times included
}

// SoakStep is one thing to do.
type SoakStep struct {
	Words   string  `json:"words"`
	Minutes float64 `json:"minutes"`
	Counts  bool    `json:"counts"`
	Caution string  `json:"caution"`
}

// SoakTally is how far the soak has got.
type SoakTally struct {
	State   string   `json:"state"` // "not started", "running", "paused", "clean long enough", "recurred"
	On      bool     `json:"on"`
	Counted float64  `json:"counted"` // confirmed clean minutes or starts that count
	Pending float64  `json:"pending"` // more of them since somebody last looked
	Left    float64  `json:"left"`
	Fixed   float64  `json:"fixed"`   // chance that it is fixed by what is counted
	IfClean float64  `json:"ifClean"` // the same if what is pending was clean
	OnMin   float64  `json:"onMin"`   // time on in all
	RunMin  float64  `json:"runMin"`  // length of the present run
	Starts  int      `json:"starts"`
	Cold    int      `json:"cold"` // of these, cold ones
	Warm    int      `json:"warm"`
	Heat    float64  `json:"heat"` // 0 cold … 1 warmed through
	Odd     []string `json:"odd"`  // what in the events makes no sense
	Words   string   `json:"words"`
}

// SoakPoint is a point of the curve: so many clean minutes or starts, and the chance that it is fixed.
type SoakPoint struct {
	X     float64 `json:"x"`
	Fixed float64 `json:"fixed"`
}

// Soak returns the state of proof of a case.
func (b *Bench) Soak(ctx context.Context, caseID string) (*SoakBoard, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if caseID == BenchCase {
		return nil, fail(NotFound, "name a case", "the bench itself is no case")
	}
	v := &SoakBoard{Case: c.ID, Title: c.title(), Seq: c.Seq, At: b.now().UTC(), Closed: c.Closed != nil, Log: []Entry{}, Curve: []SoakPoint{}, Shows: c.mayRecur(), Tests: c.testList()}
	switch {
	case c.Pending:
		v.Ready = "a repair was done and nothing has been tried since: try the whole device first"
	case !c.Works && c.soakNow() == nil:
		v.Ready = "it does not work yet: a soak is for what seems to be repaired"
	}
	if v.Still, v.StillFrom, err = b.still(ctx, c); err != nil {
		return nil, err
	}
	v.Usual = c.usualSoak()
	k := c.soakNow()
	if k == nil {
		return v, nil
	}
	if k.plan.Still != nil {
		v.Still, v.StillFrom = *k.plan.Still, "as you said"
	}
	return v, v.fill(c, k)
}

// fill adds what the soak of the present epoch amounts to.
func (v *SoakBoard) fill(c *Case, k *soaking) error {
	q := k.plan.question(v.Still)
	p, err := soak.Make(q)
	if err != nil {
		return soakError(err)
	}
	t, err := soak.Follow(q, k.events, v.At)
	if err != nil {
		return soakError(err)
	}
	v.Plan = &SoakPlan{Event: k.event, History: k.plan.SoakHistory.Words(), Sure: p.Question.Confidence, Unit: string(p.Unit), Need: p.Need, Already: p.Already,
		Before: p.Before, After: p.After, Shows: p.Shows, Minutes: p.BenchMin, Steps: []SoakStep{}}
	for _, s := range p.Steps {
		v.Plan.Steps = append(v.Plan.Steps, SoakStep{Words: stepWords(s), Minutes: float64(s.Times) * (s.OnMin + s.OffMin), Counts: s.Counts, Caution: s.Caution})
	}
	v.Tally = &SoakTally{State: string(t.State), On: t.On, Counted: t.Counted, Pending: t.Pending, Left: t.Left, Fixed: t.Fixed, IfClean: t.IfClean,
		OnMin: t.OnMin, RunMin: t.RunMin, Starts: t.Starts, Cold: t.ColdOnes, Warm: t.WarmOnes, Heat: t.Heat, Odd: append([]string{}, t.Oddities...)}
	v.Tally.Words = tallyWords(p, t)
	for _, x := range p.Curve(80) {
		v.Curve = append(v.Curve, SoakPoint{x.X, x.Fixed})
	}
	for _, n := range append([]int{k.event}, k.log...) {
		v.Log = append(v.Log, c.Timeline[n-1])
	}
	return nil
}

func stepWords(s soak.Step) string {
	times := fmt.Sprintf("%d times", s.Times)
	if s.Times == 1 {
		times = "once"
	}
	switch s.Kind {
	case soak.Try:
		return "Put it together and try it: " + span(s.OnMin)
	case soak.WarmThru:
		return "Let it run for " + span(s.OnMin) + " to get there; what it does meanwhile does not count, unless the symptom shows"
	case soak.Run:
		return "Let it run for " + span(s.OnMin) + " more, looked at now and then"
	}
	how := "switch it off for " + span(s.OffMin) + ", switch it on and watch for " + span(s.OnMin)
	switch s.When {
	case soak.Cold:
		return "Cold start, " + times + ": " + how
	case soak.Warm:
		return "Warm start, " + times + ": " + how
	case soak.Late:
		return "Long run, " + times + ": " + how
	}
	return "Start, " + times + ": " + how
}

// amount is so many clean minutes or starts in words.
func amount(u soak.Unit, n float64) string {
	if u == soak.Minutes {
		return span(n)
	}
	if n == 1 {
		return "1 start"
	}
	return fmt.Sprintf("%.0f starts", n)
}

func tallyWords(p soak.Plan, t soak.Tally) string {
	switch {
	case t.State == soak.Failed:
		return "it came back after " + amount(t.Unit, t.Counted+t.Pending) + " clean: it was resting, not fixed"
	case p.Already:
		return "by what is known it is fixed with " + percent(p.Before) + ", more than you asked for: one good run will do"
	case t.State == soak.Proved:
		return amount(t.Unit, t.Counted) + " clean: fixed with " + percent(t.Fixed) + ", as sure as you wanted to be"
	case t.State == soak.NotStarted:
		return amount(t.Unit, t.Need) + " clean will do"
	}
	words := amount(t.Unit, t.Counted) + " of " + amount(t.Unit, t.Need) + " seen clean: fixed with " + percent(t.Fixed)
	if t.Pending > 0 {
		words += "; with " + amount(t.Unit, t.Pending) + " more since, if they were clean, " + percent(t.IfClean)
	}
	return words
}

// usualSoak is what a form begins with.
func (c *Case) usualSoak() SoakPlanned {
	n := len(c.proof.soaks)
	if n == 0 {
		return SoakPlanned{SoakHistory: c.shownSoFar(), Sure: 0.95}
	}
	last := c.proof.soaks[n-1]
	if c.soakNow() == nil && last.failed {
		at := last.events[len(last.events)-1].At
		if t, err := soak.Follow(last.plan.question(assumedStill), last.events, at); err == nil {
			last.plan.SoakHistory = historyOf(last.plan.soak().With(t))
		}
	}
	if c.soakNow() == nil {
		last.plan.Still = nil // that was before the repair
	}
	return last.plan
}

// shownSoFar guesses how it showed from how it was counted: "3 of 10" is of
// starts, anything else each time.
func (c *Case) shownSoFar() SoakHistory {
	for i := len(c.Evidence.Seen) - 1; i >= 0; i-- {
		if o := c.Evidence.Seen[i]; o.Of > 0 && o.Value > 0 && showsSign(&c.Model.Findings[o.Finding]) {
			return SoakHistory{Pattern: string(soak.OfStarts), Shown: o.Value, Of: o.Of}
		}
	}
	return SoakHistory{Pattern: string(soak.EachTime)}
}

// mayRecur lists the symptoms for a form, those it came with first.
func (c *Case) mayRecur() []Field {
	out := []Field{}
	if c.Model == nil {
		return out
	}
	showed := c.showed()
	for _, first := range []bool{true, false} {
		for i := range c.Model.Findings {
			f := &c.Model.Findings[i]
			if showsSign(f) && showed[i] == first {
				out = append(out, Field{Finding: f.ID, Title: f.Title, Ask: f.Ask, Kind: "sign", Comes: f.Comes})
			}
		}
	}
	return out
}

// still is the chance that a fault is there that would show what the device came
// with, and where the figure is from. What has come back in a soak is left out of
// it: that soak has been decided.
func (b *Bench) still(ctx context.Context, c *Case) (float64, string, error) {
	k := b.knowledge(c.Opened.Device)
	if k == nil || c.Model == nil {
		return assumedStill, "assumed, since there is no bench note to reckon with", nil
	}
	e, err := k.engine()
	if err != nil {
		return assumedStill, "assumed, since the note cannot be reckoned with", nil
	}
	ev := c.Evidence
	worked := c.Works
	if s := c.soakNow(); s != nil && s.failed {
		ev.Seen, worked = ev.Seen[:s.looks], true
	}
	bl, err := e.Posterior(ctx, ev)
	if err != nil {
		return 0, "", fmt.Errorf("case %s: %w", c.ID, err)
	}
	showed := c.showed()
	sound := e.World(nil)
	there, all, unknown := 0.0, 0.0, 0.0
	for _, x := range bl.Candidates {
		all += x.P
		switch {
		case x.Unknown && worked: // nothing is known of it but that it does not show now
			unknown += assumedStill * x.P
		case x.Unknown || len(x.Now) > 0 && showsMore(e, e.World(x.Now), sound, c, showed):
			there += x.P
		}
	}
	if !(all > 0) {
		return assumedStill, "assumed, since nothing is known yet", nil
	}
	if unknown > there {
		return math.Min(mostStill, (there+unknown)/all), "since most likely it was a fault the note does not know, which may as well be resting as gone", nil
	}
	p := math.Min(mostStill, (there+unknown)/all)
	if p >= assumedStill && len(c.Repairs) == 0 {
		return p, "since nothing was done that this note knows to cure it", nil
	}
	return p, "what this case makes one believe", nil
}

// showsMore says whether a world would show something of what the device came
// with more often than a sound device does.
func showsMore(e *belief.Engine, w, sound belief.World, c *Case, showed map[int]bool) bool {
	any := false
	for f := range showed {
		if !showsSign(&c.Model.Findings[f]) {
			continue
		}
		any = true
		is, was := e.Chances(w, f), e.Chances(sound, f)
		for i, o := range e.Outcomes(f) {
			if o.Value == 1 && is[i] > was[i]+0.01 {
				return true
			}
		}
	}
	return !any // nothing was seen from outside: any fault counts
}
