package notecraft

import (
	"fmt"
	"math"
	"strings"

	"fettler/internal/note"
)

func round(x float64, digits int) float64 {
	k := math.Pow(10, float64(digits))
	return math.Round(x*k) / k
}

// percent writes a chance for people: whole per cents, but never a flat 0 or 100.
func percent(p float64) string {
	switch {
	case p <= 0:
		return "0 %"
	case p < 0.005:
		return "under 1 %"
	case p > 0.995 && p < 1:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// mostRaised is how many suspects of a symptom are told, and leastRaised the
// chance below which they are not.
const (
	mostRaised  = 6
	leastRaised = 0.02
)

// Words tells how a trial came out.
func (r TrialResult) Words(m *note.Model) string {
	name := r.Trial.Title
	if name == "" {
		name = "a trial"
	}
	place := r.Trial.Where.String() + name + ": "
	switch {
	case r.Passed && r.Place == 1:
		return fmt.Sprintf("%sas expected, %s with %s", place, m.Modes[r.First[0].Mode].Title, percent(r.Chance))
	case r.Passed:
		return fmt.Sprintf("%sas expected, at place %d with %s", place, r.Place, percent(r.Chance))
	case r.Place == 0:
		return place + "the suspect it expects is not in the note"
	}
	var first []string
	for _, s := range r.First[:min(3, len(r.First))] {
		first = append(first, fmt.Sprintf("%s (%s)", m.Modes[s.Mode].Title, percent(s.Posterior)))
	}
	return fmt.Sprintf("%sexpected among the first %d, came at place %d with %s, after %s", place, max(1, r.Trial.Within), r.Place, percent(r.Chance), strings.Join(first, ", "))
}

// Words tells what a rehearsal has shown.
func (r *Report) Words(m *note.Model) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("%s: following the advice cures %s of its faults, by how often they happen; %s are named as the first suspect on the way.",
		m.Title, percent(r.Ended[Cured]), percent(r.Named))
	line("It takes %s %.2f, %.0f minutes and %.1f moves on average.", m.Currency, r.Money, r.Minutes, r.Moves)
	r.failures(m, line)
	for _, t := range r.Twins {
		var names []string
		for _, i := range t.Modes {
			names = append(names, m.Modes[i].Title)
		}
		end := "and no one repair clears them all"
		if len(t.Shared) > 0 {
			end = "but " + strings.ToLower(m.Repairs[t.Shared[0]].Title) + " clears them all"
		}
		line("Nothing tells these apart: %s; they want different repairs, %s.", strings.Join(names, "; "), end)
	}
	for _, f := range r.Unraised {
		line("No fault raises the symptom: %s.", m.Findings[f].Title)
	}
	for _, i := range r.Silent {
		line("Shows in no symptom: %s.", m.Modes[i].Title)
	}
	for _, c := range r.Idle {
		if math.IsInf(c.Behind, 1) {
			line("Never of use: %s.", m.Checks[c.Check].Title)
		} else {
			line("Never worth it: %s; at its best %s %.2f behind.", m.Checks[c.Check].Title, m.Currency, c.Behind)
		}
	}
	for _, i := range r.IdleRepairs {
		line("Never advised: %s.", m.Repairs[i].Title)
	}
	return b.String()
}

// failures lists the runs that did not end well.
func (r *Report) failures(m *note.Model, line func(string, ...any)) {
	text := map[End]string{
		Hidden:  "passes the test of the whole and is still there",
		Stopped: "is given up",
		Lost:    "comes to no end",
	}
	for i := range r.Runs {
		x := &r.Runs[i]
		if t := text[x.End]; t != "" {
			line("Not found: %s %s after %s, %s %.2f and %.0f minutes.", m.Modes[x.Mode].Title, t, plural(len(x.Moves), "move"), m.Currency, x.Money, x.Minutes)
		}
	}
}

// Words tells what changed, a line each.
func (c *Changes) Words() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	for _, x := range []struct {
		what string
		Items
	}{{"fault", c.Modes}, {"finding", c.Findings}, {"check", c.Checks}, {"repair", c.Repairs}} {
		for _, id := range x.Added {
			line("New %s: %s.", x.what, id)
		}
		for _, id := range x.Removed {
			line("Gone: the %s %s.", x.what, id)
		}
		for _, r := range x.Renamed {
			line("The %s %s is now called %s.", x.what, r.Old, r.New)
		}
	}
	for _, p := range c.Priors {
		line("Before anything is seen, %s goes from %s to %s.", p.Mode, percent(p.Old), percent(p.New))
	}
	for _, s := range c.Symptoms {
		for _, x := range s.Suspects {
			line("%s: %s", s.Symptom, x.words())
		}
	}
	if b.Len() == 0 {
		return "Nothing one would notice at the bench.\n"
	}
	return b.String()
}

func (x Shift) words() string {
	switch {
	case x.OldPlace == 0:
		return fmt.Sprintf("%s comes in at place %d with %s.", x.Mode, x.NewPlace, percent(x.New))
	case x.NewPlace == 0:
		return fmt.Sprintf("%s, place %d with %s, is gone.", x.Mode, x.OldPlace, percent(x.Old))
	case x.OldPlace == x.NewPlace:
		return fmt.Sprintf("%s stays at place %d, from %s to %s.", x.Mode, x.OldPlace, percent(x.Old), percent(x.New))
	}
	return fmt.Sprintf("%s goes from place %d with %s to place %d with %s.", x.Mode, x.OldPlace, percent(x.Old), x.NewPlace, percent(x.New))
}
