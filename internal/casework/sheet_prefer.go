package casework

import (
	"fmt"
	"slices"

	"fettler/internal/note"
	"fettler/internal/plan"
)

// The planner's figures are good to a few minutes of work. Among moves that come
// to nearly the same the house takes the one a careful repairer would take: the
// trial after a repair that has most likely done it, and what follows a look anyway
// instead of the look.
const (
	nearMinutes = 5    // own time that is nearly nothing
	nearWorth   = 0.02 // and the share of the device's worth that is,
	sameNext    = 0.98 // chance of going on with one and the same move that makes a look idle
	likelyWorks = 0.5  // chance that a repair has done it from which trying comes first
)

// near is how much dearer a move may be and still be nearly as good.
func (c *Case) near() float64 {
	return max(nearMinutes*c.Settings.Rate/60, nearWorth*c.Settings.Worth)
}

// A preferred move was put before the planner's first, which is Over.
type preferred struct {
	over plan.Move
	why  string // what speaks for it, as the end of "it comes to nearly the same and …"
}

// prefer puts a move that is nearly as good first where the house has a reason
// to. The advice itself is not altered.
func (s *sheet) prefer(a *plan.Advice) (*plan.Advice, *preferred) {
	if a == nil || len(a.Ranking) == 0 {
		return a, nil
	}
	at, why := 0, ""
	for tried := map[int]bool{}; !tried[at]; {
		tried[at] = true
		if next, reason := s.rather(a, at); next >= 0 {
			at, why = next, reason
		}
	}
	if at == 0 {
		return a, nil
	}
	return first(a, a.Ranking[at].Move), &preferred{over: a.Best.Move, why: why}
}

// first is advice with move m at its head; how far the others are behind is told from there.
func first(a *plan.Advice, m plan.Move) *plan.Advice {
	out := *a
	out.Ranking = slices.Clone(a.Ranking)
	at := slices.IndexFunc(out.Ranking, func(x plan.Ranked) bool { return x.Move == m })
	if at <= 0 {
		return &out
	}
	head := out.Ranking[at]
	out.Ranking = slices.Insert(slices.Delete(out.Ranking, at, at+1), 0, head)
	for i := range out.Ranking {
		if out.Ranking[i].Blocked == "" {
			out.Ranking[i].Behind = max(0, out.Ranking[i].Behind-head.Behind)
		}
	}
	out.Best = out.Ranking[0]
	return &out
}

// steady says that the move shown before a deeper look still comes to the same, so
// that it need not change under whoever is about to make it: a minute of own time.
func (s *sheet) steady(a *plan.Advice, shown plan.Move) bool {
	i := slices.IndexFunc(a.Ranking, func(x plan.Ranked) bool { return x.Move == shown })
	if i <= 0 || a.Ranking[i].Blocked != "" || a.Ranking[i].Behind > s.minute() || s.c.Pending && a.Best.Kind == plan.Test {
		return false
	}
	next, idle := follows(a.Ranking[i])
	return !idle || next != a.Best.Move
}

// minute is what a minute of own time counts as, at least a few hundredths.
func (s *sheet) minute() float64 { return max(s.c.Settings.Rate/60, 0.05) }

// rather finds the move to make instead of the one at index at, -1 if there is none.
func (s *sheet) rather(a *plan.Advice, at int) (int, string) {
	is := a.Ranking[at]
	can := func(i int) bool {
		x := a.Ranking[i]
		return i != at && x.Blocked == "" && x.Behind <= s.c.near()
	}
	if is.Kind == plan.Stop || is.Blocked != "" {
		return -1, ""
	}
	for i, x := range a.Ranking {
		switch {
		case x.Kind != plan.Test || !s.c.Pending || i == at || x.Blocked != "":
		case works(x) >= likelyWorks && can(i):
			return i, "what was done is more likely than not to have cured it"
		case x.Behind-is.Behind <= s.minute():
			return i, "what was done is not known to help before it is tried"
		}
	}
	if next, ok := follows(is); ok {
		i := slices.IndexFunc(a.Ranking, func(x plan.Ranked) bool { return x.Move == next })
		// where neither opens or closes anything, the look cannot be worth its time
		if i >= 0 && i != at && (can(i) || a.Ranking[i].Blocked == "" && a.Ranking[i].Cost.Access == is.Cost.Access) {
			return i, "it would come next whatever that shows"
		}
	}
	return -1, ""
}

// follows is the move that a look, or a trial, is followed by however it comes out.
func follows(x plan.Ranked) (plan.Move, bool) {
	if x.Kind != plan.Check && x.Kind != plan.Test || len(x.Results) == 0 {
		return plan.Move{}, false
	}
	for m, p := range shares(x) {
		if p >= sameNext && m != x.Move && m.Kind != plan.Stop {
			return m, true
		}
	}
	return plan.Move{}, false
}

// shares is how likely each move is to follow, where it does not work yet.
func shares(x plan.Ranked) map[plan.Move]float64 {
	out := map[plan.Move]float64{}
	for _, r := range x.Results {
		if !r.Works {
			out[r.Next] += r.P
		}
	}
	return out
}

// works is the chance that a trial goes well.
func works(x plan.Ranked) float64 {
	p := 0.0
	for _, r := range x.Results {
		if r.Works {
			p += r.P
		}
	}
	return p
}

// liveInside says that a move is made with the power on and the device open.
func (s *sheet) liveInside(m plan.Move) bool {
	switch m.Kind {
	case plan.Check:
		x := &s.k.m.Checks[m.Index]
		return x.Live && x.Access > 0
	case plan.Repair:
		x := &s.k.m.Repairs[m.Index]
		return x.Live && x.Access > 0
	}
	return false
}

// preferredWhy says why the move shown comes before the planner's first.
func (s *sheet) preferredWhy() string {
	if s.rathered == nil {
		return ""
	}
	return fmt.Sprintf("“%s” would come to nearly the same; this goes first because %s.", s.moveTitle(s.rathered.over), s.rathered.why)
}

// Limits are what the bench leaves alone, as they bear on the advice.
type Limits struct {
	Live    string `json:"live"`    // about work with the power on and the device open: "allowed", "never" or "not said"
	Barred  int    `json:"barred"`  // moves that this rules out
	Trained bool   `json:"trained"` // hands trained on devices that only such hands may open
	Sealed  bool   `json:"sealed"`  // this device is one of them
}

// What Limits.Live says.
const (
	LiveAllowed = "allowed"
	LiveNever   = "never"
	LiveNotSaid = "not said"
)

func (s *sheet) limits() Limits {
	set := s.c.Settings
	out := Limits{Live: LiveNotSaid, Trained: set.Trained}
	switch {
	case set.NoLive:
		out.Live = LiveNever
	case set.LiveSaid:
		out.Live = LiveAllowed
	}
	if s.k == nil {
		return out
	}
	out.Sealed = slices.Contains(guarded(s.k.m), true)
	for i, x := range s.k.m.Checks {
		if s.liveInside(plan.Move{Kind: plan.Check, Index: i}) || !set.Trained && forHands(x.Hazards) {
			out.Barred++
		}
	}
	return out
}

// trainedHands marks what only hands trained on such a device may do. It is put on
// steps when a note is read for a bench, and not shown as a hazard.
const trainedHands = "trained hands"

func forHands(hs []note.Hazard) bool {
	return slices.ContainsFunc(hs, func(h note.Hazard) bool { return h.Kind == trainedHands })
}
