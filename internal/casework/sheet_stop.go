package casework

import (
	"fmt"
	"strings"

	"fettler/internal/plan"
)

// stopWhy says why to leave off: what stands in the way, and what the best mend would take.
func (s *sheet) stopWhy() string {
	var out []string
	if w := s.sealedWhy(); w != "" {
		out = append(out, w)
	}
	if w := s.bestMend(); w != "" {
		out = append(out, w)
	} else if len(out) == 0 {
		out = append(out, "Whatever else is done is expected to cost more than the working device is worth.")
	}
	if w := s.barredWhy(); w != "" {
		out = append(out, w)
	}
	return strings.Join(out, " ")
}

// sealedWhy says that what is likely wrong lies where only trained hands may go.
func (s *sheet) sealedWhy() string {
	if s.c.Settings.Trained {
		return ""
	}
	behind := false
	for _, x := range s.advice.Ranking {
		behind = behind || s.forTrained(x.Move)
	}
	at := guarded(s.k.m)
	for _, sealed := range at {
		behind = behind || sealed
	}
	if !behind {
		return ""
	}
	if top := s.likeliest(); len(top) > 0 && top[0].P >= warnCause {
		return fmt.Sprintf("Most likely it is %s (%s). What is left to look at or to mend is inside, and this device is only for trained hands to open: leave it shut.",
			s.k.m.Modes[top[0].Mode].Title, percent(top[0].P))
	}
	return "What is left to look at or to mend is inside, and this device is only for trained hands to open: leave it shut."
}

// forTrained says that a move is kept for trained hands.
func (s *sheet) forTrained(m plan.Move) bool {
	switch m.Kind {
	case plan.Check:
		return forHands(s.k.m.Checks[m.Index].Hazards)
	case plan.Repair:
		return forHands(s.k.m.Repairs[m.Index].Hazards)
	}
	return false
}

// bestMend sets the repair that would most likely cure it against what it would bring.
func (s *sheet) bestMend() string {
	var best *plan.Ranked
	for i := range s.advice.Ranking {
		x := &s.advice.Ranking[i]
		if x.Kind == plan.Repair && x.Blocked == "" && x.Cures >= warnPart && (best == nil || x.Cures > best.Cures) {
			best = x
		}
	}
	if best == nil {
		return ""
	}
	takes := minutesWords(best.Cost.Minutes + best.Cost.Access)
	if best.Cost.Money > 0 {
		takes += " and " + s.coins(best.Cost.Money)
	}
	set := s.c.Settings
	gain := "it is worth nothing more when it works"
	if set.Worth > set.Scrap {
		gain = "a working one brings " + s.coins(set.Worth-set.Scrap)
		if set.Scrap > 0 {
			gain += " more than this one as it is"
		}
	}
	own := ""
	if set.Rate > 0 {
		own = fmt.Sprintf(", your time counted at %s an hour", s.coins(set.Rate))
	}
	return fmt.Sprintf("The likeliest mend, “%s”, would cure it with a chance of %s and takes %s; %s%s. That does not pay.",
		s.k.m.Repairs[best.Index].Title, percent(best.Cures), takes, gain, own)
}

// barredWhy counts what the limits of this bench rule out.
func (s *sheet) barredWhy() string {
	live, others := 0, 0
	for _, x := range s.advice.Ranking {
		switch {
		case x.Blocked == "" || s.forTrained(x.Move):
		case s.c.Settings.shut() && s.liveInside(x.Move):
			live++
		default:
			others++
		}
	}
	switch n := live + others; {
	case n == 0:
		return ""
	case others == 0:
		return fmt.Sprintf("%s that %s the power on inside %s ruled out by this bench's limits.", plural(n, "move", "moves"), verb(n, "needs", "need"), verb(n, "is", "are"))
	default:
		return fmt.Sprintf("%s %s ruled out by this bench's limits and missing tools.", plural(n, "move", "moves"), verb(n, "is", "are"))
	}
}

func plural(n int, one, many string) string { return fmt.Sprintf("%d %s", n, verb(n, one, many)) }

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
