package ledger

import (
	"math"

	"fettler/internal/note"
)

// visit calls f for every figure of a model that can be learned, moved or not.
func (l *Lessons) visit(m *note.Model, f func(Change, *target)) {
	s := SheetOf(m)
	l.visitOdds(m, &s, f)
	sign := 0
	for i := range m.Findings {
		if m.Findings[i].Kind != note.Sign {
			continue
		}
		for j := range m.Findings[i].Trigger {
			t := &s.Signs[sign].Triggers[j]
			keys := s.triggerKeys(&s.Signs[sign], t)
			l.visitChance(l.triggers.at(keys[:], t.Chance), t.Chance,
				Change{Kind: TriggerChange, ID: m.Findings[i].ID, Title: m.Findings[i].Title}, target{i, j}, f)
		}
		sign++
	}
	n := 0
	for i := range m.Repairs {
		for j := range m.Repairs[i].Clears {
			c := &s.Clears[n]
			n++
			keys := s.clearKeys(c)
			l.visitChance(l.clears.at(keys[:], c.Success), c.Success,
				Change{Kind: ClearChange, ID: m.Repairs[i].ID, Mode: m.Modes[c.Mode].ID, Title: m.Repairs[i].Title}, target{i, j}, f)
		}
	}
}

func (l *Lessons) visitChance(c Chance, from float64, ch Change, to target, f func(Change, *target)) {
	if c.Looks == 0 && c.Others == 0 {
		return
	}
	ch.From, ch.To, ch.Chance = from, min(max(c.Mean, leastChance), 1-leastChance), c
	f(ch, &to)
}

func (l *Lessons) visitOdds(m *note.Model, s *Sheet, f func(Change, *target)) {
	factors := l.Factors(s)
	odds := make([]float64, len(m.Modes))
	sum, moved := 0.0, false
	for i := range m.Modes {
		odds[i] = m.Modes[i].Odds * factors[i].Mean
		sum += math.Log1p(m.Modes[i].Odds)
		moved = moved || factors[i].Mean != 1
	}
	k := 1.0
	if moved {
		k = scaleTo(odds, sum)
	}
	for i := range m.Modes {
		f(Change{Kind: OddsChange, ID: m.Modes[i].ID, Title: m.Modes[i].Title,
			From: m.Modes[i].Odds, To: odds[i] * k, Factor: factors[i]}, &target{i: i})
	}
}

// scaleTo finds k with Σ ln(1 + k·w) = sum by Newton's method from below.
func scaleTo(w []float64, sum float64) float64 {
	total := 0.0
	for _, x := range w {
		total += x
	}
	if !(total > 0) || !(sum > 0) {
		return 1
	}
	k := sum / total // from below: ln(1+x) ≤ x
	for range 100 {
		miss, slope := sum, 0.0
		for _, x := range w {
			miss -= math.Log1p(k * x)
			slope += x / (1 + k*x)
		}
		step := miss / slope // the sum is concave in k: the steps do not pass the root
		k += step
		if math.Abs(step) <= 1e-14*k {
			break
		}
	}
	return k
}
