package casework

import (
	"fmt"
	"math"
	"strings"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/quantity"
)

// nearBreak is how many times the present figure a break-even may be, and still
// be said to have decided.
const nearBreak = 4

// pays says the break-even that decided for move m, "" if there is none.
func (s *sheet) pays(m plan.Move, b *plan.Break) string {
	if b == nil || b.At > nearBreak*b.Now || b.Now > nearBreak*b.At {
		return ""
	}
	if b.What == plan.DeviceWorth {
		return s.goes(b)
	}
	if m.Kind == plan.Repair && b.Rival.Kind == plan.Check && !s.bearsOn(b.Rival.Index, m.Index) {
		return ""
	}
	side, other := "under", "above"
	if b.Over {
		side, other = "over", "below"
	}
	at, now := s.amount(b, b.At), s.amount(b, b.Now)
	what := "takes"
	if b.What == plan.RepairPrice {
		what = "costs"
	}
	if m.Kind == plan.Repair {
		first := "Doing it untested pays"
		if b.Rival.Kind == plan.Repair {
			first = "It comes first"
		}
		return fmt.Sprintf("%s while it %s %s %s (%s here); %s that, “%s” comes first.", first, what, side, at, now, other, s.moveTitle(b.Rival))
	}
	first := "Testing first pays"
	if m.Kind == plan.Test {
		first = "Trying it first pays"
	}
	return fmt.Sprintf("%s while “%s” %s %s %s (%s here); %s that, do it untested.", first, s.moveTitle(b.Rival), what, side, at, now, other)
}

// bearsOn says that a check tells something of what a repair clears.
func (s *sheet) bearsOn(check, repair int) bool {
	for _, c := range s.k.m.Repairs[repair].Clears {
		for _, t := range s.k.tells()[c.Mode] {
			if t.check == check {
				return true
			}
		}
	}
	return false
}

// amount is a figure of a break-even with its unit.
func (s *sheet) amount(b *plan.Break, v float64) string {
	if b.What == plan.RepairMinutes {
		return fmt.Sprintf("%s min", rounded(v))
	}
	return s.coins(v)
}

// coins is a reckoned amount of money as one says it: tens to the unit, less to a tenth.
func (s *sheet) coins(v float64) string { return Coins(v, s.c.Settings.Currency) }

// Coins is a reckoned amount of money as one says it: "19 EUR", "8.70 EUR", "under 0.10 EUR".
func Coins(v float64, currency string) string {
	switch a := math.Abs(v); {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "no figure"
	case a == 0:
		return "0 " + currency
	case a < 0.05:
		if v < 0 {
			return "under 0.10 " + currency + " less"
		}
		return "under 0.10 " + currency
	case a >= 9.95:
		v = math.Round(v)
	default:
		v = math.Round(v*10) / 10
	}
	return strings.Replace(quantity.Format(v, currency, 6), ".00 ", " ", 1)
}

func rounded(v float64) string {
	if v < 10 {
		return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
	}
	return fmt.Sprintf("%.0f", v)
}

// goes says from which worth of the working device on going on pays.
func (s *sheet) goes(b *plan.Break) string {
	if b == nil {
		return ""
	}
	if b.Over {
		return fmt.Sprintf("Going on pays if it is worth more than %s when it works (reckoned with %s).", s.coins(b.At), s.coins(b.Now))
	}
	return fmt.Sprintf("Going on pays if it is worth less than %s when it works (reckoned with %s).", s.coins(b.At), s.coins(b.Now))
}

// together says why further repairs go with the next one before the whole is tried.
func (s *sheet) together(c *Card) {
	b := s.advice.Batch
	if b == nil || c.Kind != "repair" || len(b.Repairs) < 2 || s.k.m.Repairs[b.Repairs[0]].ID != c.ID {
		return
	}
	for _, r := range b.Repairs[1:] {
		c.Further = append(c.Further, Ref{s.k.m.Repairs[r].ID, s.k.m.Repairs[r].Title})
	}
	all, others := "do both", "the other takes"
	if len(b.Repairs) > 2 {
		all, others = fmt.Sprintf("do all %d", len(b.Repairs)), "the others take"
	}
	extra := minutesWords(b.Extra.Minutes + b.Extra.Access)
	if b.Extra.Money > 0 {
		extra += " and " + s.coins(b.Extra.Money)
	}
	c.Batch = fmt.Sprintf("While it is open, %s: %s %s now, another round trip %s, and that would be needed with a chance of %s.",
		all, others, extra, minutesWords(b.Round.Minutes+b.Round.Access), percent(b.Fails))
}

// told is an outcome of a finding as an answer one could write down.
func (s *sheet) told(v plan.Value) Told {
	x := &s.k.m.Findings[v.Finding]
	out := Told{Finding: x.ID, Words: s.outcomeWords(v)}
	switch x.Kind {
	case note.Sign:
		out.Text = [2]string{"yes", "no"}[min(v.Outcome, 1)]
	case note.Pick:
		out.Text = x.Answers[v.Outcome]
	default:
		o := s.e.Outcomes(v.Finding)[v.Outcome]
		out.State = s.k.m.Conditions[x.Cond].States[o.State]
		out.Text = s.usual(v.Finding, v.Outcome, o)
	}
	return out
}

// usual is a reading that speaks for an outcome, "" if none is found.
func (s *sheet) usual(f, outcome int, o belief.Outcome) string {
	x := &s.k.m.Findings[f]
	d := x.Dist[o.State]
	tries := []float64{(d.Low + d.High) / 2, d.Low, d.High}
	if d.Log && d.Low > 0 && d.High > 0 {
		tries[0] = math.Sqrt(d.Low * d.High)
	}
	if d.Over {
		tries = []float64{1.5 * d.Low, d.Low, math.Inf(1)}
	} else if d.Under {
		tries = []float64{d.High / 2, d.High, 0}
	}
	for _, v := range tries {
		text := overload
		if !math.IsInf(v, 0) {
			text = quantity.Format(v, x.Measure, 3)
		}
		if o, err := (Value{Finding: x.ID, Reading: text}).observe(s.k.m, f, 0); err == nil && s.e.Closest(f, o.Number) == outcome {
			return text
		}
	}
	return ""
}

// brief says a result of a move by what there is: what was looked for in vain is left out.
func (s *sheet) brief(values []plan.Value, all string) string {
	if len(values) < 2 {
		return all
	}
	return strings.TrimSuffix(strings.TrimSuffix(all, "; the others: no"), "; the other: no")
}
