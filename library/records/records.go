package records

import (
	_ "embed"
	"slices"
	"sync"
)

//go:embed class-shares.csv
var sharesCSV string

//go:embed outcomes.csv
var outcomesCSV string

// A Share is the part that one cause class has in the found causes of a category.
type Share struct {
	Class string
	Share float64 // 0 to 1; sums to one over the 19 classes
	N     float64 // effective records behind it in this category; 0 means borrowed from like devices
}

// Shares returns the mix of cause classes of a category, likeliest first: all
// 19 classes, none of them zero. The caller owns the slice. The category is
// spelt as in [Categories]; any other gives ok == false.
func Shares(category string) (shares []Share, ok bool) {
	t, err := tables()
	if err != nil {
		return nil, false
	}
	shares, ok = t.shares[category]
	return slices.Clone(shares), ok
}

// An Ending says how the repairs of a category ended.
type Ending struct {
	N                            int     // records with a known status
	Fixed, Repairable, EndOfLife float64 // shares of N, 0 to 1
	MedianAgeYears               float64 // over the AgeKnown records
	AgeKnown                     int
	TopBarrier                   string // commonest stated reason for giving up
	TopBarrierN                  int
}

// Outcome returns how the repairs of a category ended. "Repairable" means not
// finished on the day but judged worth finishing. ok is as for [Shares].
func Outcome(category string) (ending Ending, ok bool) {
	t, err := tables()
	if err != nil {
		return Ending{}, false
	}
	ending, ok = t.outcomes[category]
	return ending, ok
}

// Categories returns the 40 category names in alphabetical order. The caller
// owns the slice.
func Categories() []string {
	t, err := tables()
	if err != nil {
		return nil
	}
	return slices.Clone(t.categories)
}

type tableSet struct {
	categories []string
	shares     map[string][]Share
	outcomes   map[string]Ending
}

// tables reads the embedded files once.
var tables = sync.OnceValues(func() (*tableSet, error) {
	shares, err := readShares(sharesCSV)
	if err != nil {
		return nil, err
	}
	outcomes, err := readOutcomes(outcomesCSV)
	if err != nil {
		return nil, err
	}
	t := &tableSet{shares: shares, outcomes: outcomes}
	for c := range outcomes {
		t.categories = append(t.categories, c)
	}
	slices.Sort(t.categories)
	return t, nil
})
