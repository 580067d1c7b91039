package ledger

import (
	"maps"
	"slices"
	"strings"
	"time"
)

// Carbon is a factor from kilograms of device kept in use to kilograms of CO₂
// equivalent not emitted, with the publication it comes from. There is none
// built in: factors depend on the product and on what would have replaced it.
type Carbon struct {
	KgPerKg float64
	Source  string
}

// Savings are what the cases brought. Money is per currency.
type Savings struct {
	Cases, Fixed int
	Hours        float64 // spent on all cases
	Kg           float64 // kept from landfill
	CO2Kg        float64 // Kg times the factor; 0 without one
	CO2Source    string
	Money        []Money
	Series       []Saved // running totals, one point a month in which a case was closed
}

// Money is what the cases in one currency brought and cost.
type Money struct {
	Currency string
	Worth    float64 // of what was fixed
	Scrap    float64 // of what was kept or sold for parts
	Spent    float64
	Net      float64 // Worth + Scrap − Spent
}

// Saved is a point of the running totals at the end of a month.
type Saved struct {
	Month time.Time // its first day, UTC
	Fixed int
	Hours float64
	Kg    float64
	Net   map[string]float64 // per currency
}

// Savings adds up the cases that count. A carbon factor needs its source, and a
// source its factor.
func (b *Book) Savings(carbon Carbon) (Savings, error) {
	c := &checker{}
	c.in("the CO₂ factor", carbon.KgPerKg, 0, 1e4)
	carbon.Source = strings.TrimSpace(carbon.Source)
	if carbon.KgPerKg > 0 && carbon.Source == "" {
		c.fail("the source of the CO₂ factor", "missing", "the publication it comes from, or no factor")
	}
	if carbon.KgPerKg == 0 && carbon.Source != "" {
		c.fail("the CO₂ factor", "missing", "the factor that the source states, in kg per kg")
	}
	if c.err != nil {
		return Savings{}, c.err
	}
	out := Savings{CO2Source: carbon.Source}
	by := map[string]*Money{}
	for _, r := range b.byTime() {
		out.add(r, by)
	}
	out.CO2Kg = out.Kg * carbon.KgPerKg
	for _, cur := range sortedKeys(by) {
		out.Money = append(out.Money, *by[cur])
	}
	return out, nil
}

func (s *Savings) add(r Record, by map[string]*Money) {
	m := by[r.Cost.Currency]
	if m == nil {
		m = &Money{Currency: r.Cost.Currency}
		by[r.Cost.Currency] = m
	}
	s.Cases++
	s.Hours += r.Cost.Minutes / 60
	m.Spent += r.Cost.Money
	if r.Fixed {
		s.Fixed++
		s.Kg += r.Gain.Kg
		m.Worth += r.Gain.Worth
	} else {
		m.Scrap += r.Gain.Scrap
	}
	m.Net = m.Worth + m.Scrap - m.Spent
	month := time.Date(r.Closed.Year(), r.Closed.Month(), 1, 0, 0, 0, 0, time.UTC)
	if n := len(s.Series); n == 0 || !s.Series[n-1].Month.Equal(month) {
		s.Series = append(s.Series, Saved{Month: month})
	}
	last := &s.Series[len(s.Series)-1]
	last.Fixed, last.Hours, last.Kg = s.Fixed, s.Hours, s.Kg
	last.Net = make(map[string]float64, len(by))
	for cur, m := range by {
		last.Net[cur] = m.Net
	}
}

// byTime returns the records that count in the order of their closing.
func (b *Book) byTime() []Record {
	out := b.Counting()
	slices.SortStableFunc(out, func(x, y Record) int { return x.Closed.Compare(y.Closed) })
	return out
}

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
