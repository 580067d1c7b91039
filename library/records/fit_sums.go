package records

import (
	"cmp"
	"math"
	"slices"
)

// mix is the posterior mean of a Dirichlet whose prior has mean towards and
// weighs strength records: (n_k + strength·towards_k) / (Σn + strength).
func mix(n, towards []float64, strength float64) []float64 {
	all := sum(n) + strength
	out := make([]float64, len(n))
	for k := range n {
		out[k] = (n[k] + strength*towards[k]) / all
	}
	return out
}

// flat is the mix in which every class is equally likely.
func flat() []float64 {
	out := make([]float64, len(classes))
	for k := range out {
		out[k] = 1 / float64(len(classes))
	}
	return out
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

// total sums rows of classes into one.
func total(rows [][]float64) []float64 {
	out := make([]float64, len(classes))
	for _, row := range rows {
		for k, v := range row {
			out[k] += v
		}
	}
	return out
}

// rows lays the shares out by category name and, within it, largest first.
func rows(categories []string, shares, effective [][]float64) []FitRow {
	var out []FitRow
	for c, category := range categories {
		for k, m := range millionths(shares[c]) {
			n := math.Round(effective[c][k]*100) / 100
			out = append(out, FitRow{Category: category, Class: classes[k], Millionths: m, N: n})
		}
	}
	slices.SortStableFunc(out, func(a, b FitRow) int {
		return cmp.Or(cmp.Compare(a.Category, b.Category), cmp.Compare(b.Millionths, a.Millionths))
	})
	return out
}

// millionths rounds shares that sum to one to whole millionths that sum to
// 1,000,000: each is cut, and what is missing goes one by one to the largest
// remainders (the method of Hamilton in apportionment).
func millionths(shares []float64) []int {
	const whole = 1_000_000
	out := make([]int, len(shares))
	rest := make([]float64, len(shares))
	order := make([]int, len(shares))
	missing := whole
	for i, s := range shares {
		floor := math.Floor(s * whole)
		out[i], rest[i], order[i] = int(floor), s*whole-floor, i
		missing -= out[i]
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest[b], rest[a]) })
	for i := 0; i < missing && i < len(order); i++ {
		out[order[i]]++
	}
	return out
}
