package appraise

import (
	"math"
	"slices"

	"fettler/library/records"
)

// groupOf is the number of the group of like categories, -1 for no category.
func groupOf(category string) int {
	return slices.IndexFunc(categoryGroups, func(g []string) bool { return slices.Contains(g, category) })
}

var categoryGroups = records.Groups()

// shareTable is the mix of classes per category, in the order of classes.
type shareTable map[string][]float64

// shippedShares are the shares of library/records.
func shippedShares() shareTable {
	out := shareTable{}
	for _, c := range records.Categories() {
		list, _ := records.Shares(c)
		row := make([]float64, len(classes))
		for _, s := range list {
			row[classNamed(s.Class)] = s.Share
		}
		out[c] = row
	}
	return out
}

// blend is what is usual for an item: the shares of its category, and those of
// the categories of the notes it was found to be, since a category such as
// "Small home electrical" is about everything and nothing.
func (t shareTable) blend(category string, notes []shared) []float64 {
	const ofNotes = 0.6 // flat between 0.3 and 1, see docs/appraisal.md
	own, known := t[category]
	w := ofNotes
	if !known {
		own, w = make([]float64, len(classes)), 1
	}
	out := make([]float64, len(classes))
	for k := range out {
		out[k] = (1 - w) * own[k]
		for _, n := range notes {
			if row := t[n.device.Category]; row != nil {
				out[k] += w * n.share * row[k]
			}
		}
	}
	return out
}

func logs(p []float64) []float64 {
	out := make([]float64, len(p))
	for k, x := range p {
		out[k] = math.Log(max(x, 1e-6))
	}
	return out
}
