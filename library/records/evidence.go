package records

import "slices"

// A Record is one repair record with the class of cause that a person read in it.
type Record struct {
	ID string
	Label
	Text string // as published
}

// Records returns the hand-labelled records, in the order of their file. The
// caller owns the slice.
func Records() ([]Record, error) {
	labels, err := readLabels(labelsCSV)
	if err != nil {
		return nil, err
	}
	s, err := readSheet("hand-labels.csv", labelsCSV, "record_id", "text")
	if err != nil {
		return nil, err
	}
	out := make([]Record, len(labels))
	for i, l := range labels {
		out[i] = Record{ID: s.text(i, "record_id"), Label: l, Text: s.text(i, "text")}
	}
	return out, nil
}

// Counts returns how often patterns found each class in the texts of each category.
func Counts() ([]Count, error) { return readCounts(countsCSV) }

// Groups returns the groups of categories whose devices are built alike. The
// caller owns the slices.
func Groups() [][]string {
	out := make([][]string, len(groups))
	for i, g := range groups {
		out[i] = slices.Clone(g)
	}
	return out
}
