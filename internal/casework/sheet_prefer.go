package casework

import (
	"fmt"
	"slices"

	"fettler/internal/note"
	"fettler/internal/plan"
)

// A preferred move was put before the planner's first, which is Over.
type preferred struct {
	over plan.Move
	why  string // what speaks for it, as the end of "it comes to nearly the same and …"
}

// prefer puts a move that is nearly as good first where the house has a reason
// to. The advice itself is not altered.
func (s *sheet) prefer(a *plan.Advice) (*plan.Advice, *preferred) {
	shown, why := a.Careful(s.k.m, s.c.Settings.plan(), s.c.Pending)
	if why == plan.AsRanked {
		return shown, nil
	}
	return shown, &preferred{over: a.Best.Move, why: preferences[why]}
}

// preferences are what speaks for a move that the house puts first.
var preferences = map[plan.Preference]string{
	plan.HasCured:   "what was done is more likely than not to have cured it",
	plan.TryFirst:   "what was done is not known to help before it is tried",
	plan.FollowsAny: "it would come next whatever that shows",
	plan.SensesOnly: "it needs no power, no instrument and no opening",
	plan.OnTrail:    "it bears on what is suspected",
	plan.TellsFirst: "it tells whether that is needed at all",
}

// steady says that the move shown before a deeper look still comes to nearly the same, so
// that it need not change under whoever is about to make it.
func (s *sheet) steady(a *plan.Advice, shown plan.Move) bool {
	i := slices.IndexFunc(a.Ranking, func(x plan.Ranked) bool { return x.Move == shown })
	if i <= 0 || a.Ranking[i].Blocked != "" || a.Ranking[i].Behind > s.c.Settings.plan().Near() || s.c.Pending && a.Best.Kind == plan.Test {
		return false
	}
	next, idle := a.Ranking[i].Follows()
	return !idle || next != a.Best.Move
}

// minute is what a minute of own time counts as, at least a few hundredths.
func (s *sheet) minute() float64 { return s.c.Settings.plan().Minute() }

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
