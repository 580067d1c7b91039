package records

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

//go:embed hand-labels.csv
var labelsCSV string

//go:embed cause-frequencies.csv
var countsCSV string

// countClass gives the class for the names in cause-frequencies.csv that are
// spelt otherwise there.
var countClass = map[string]string{
	"power-lead/plug":         "power lead/plug",
	"thermal-fuse/thermostat": "thermal fuse/thermostat",
	"user-error":              "user error",
}

// Refit makes the text of class-shares.csv from the embedded hand labels and
// pattern counts. The committed file is what this returned; a test compares
// them, and `go test -update` in this folder rewrites it.
func Refit() (string, error) {
	labels, err := readLabels(labelsCSV)
	if err != nil {
		return "", err
	}
	counts, err := readCounts(countsCSV)
	if err != nil {
		return "", err
	}
	fitted, err := Fit(labels, counts, groups)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	lines := [][]string{{"category", "class", "share", "n"}}
	for _, r := range fitted {
		share := fmt.Sprintf("%d.%06d", r.Millionths/1_000_000, r.Millionths%1_000_000)
		lines = append(lines, []string{r.Category, r.Class, share, strconv.FormatFloat(r.N, 'f', 2, 64)})
	}
	if err := w.WriteAll(lines); err != nil {
		return "", fmt.Errorf("class-shares.csv: %w", err)
	}
	return b.String(), nil
}

func readLabels(text string) ([]Label, error) {
	s, err := readSheet("hand-labels.csv", text, "record_id", "category", "class", "symptom_stated")
	if err != nil {
		return nil, err
	}
	var out []Label
	for i := range s.rows {
		stated := s.text(i, "symptom_stated")
		if stated != "yes" && stated != "no" {
			return nil, fmt.Errorf("hand-labels.csv, line %d: symptom_stated is %q, not yes or no", i+2, stated)
		}
		out = append(out, Label{Category: s.text(i, "category"), Class: s.text(i, "class"), SymptomStated: stated == "yes"})
	}
	return out, nil
}

func readCounts(text string) ([]Count, error) {
	s, err := readSheet("cause-frequencies.csv", text, "category", "cause_class", "n")
	if err != nil {
		return nil, err
	}
	var out []Count
	for i := range s.rows {
		c := Count{Category: s.text(i, "category"), Class: s.text(i, "cause_class")}
		if c.Category == "ALL" {
			continue // the sum of the others
		}
		if own, ok := countClass[c.Class]; ok {
			c.Class = own
		}
		if c.N, err = s.number(i, "n"); err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}
