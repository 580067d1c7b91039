package judged

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fettler/library/records"
)

//go:embed odds.csv
var oddsCSV string

// A Row is one judgement.
type Row struct {
	Category string // as in records.Categories
	Device   string
	Symptoms string             // as an owner says them
	Odds     map[string]float64 // chance of each class that was thought of; adds up to 1
}

// Rows returns all judgements. They are shared: do not change them.
func Rows() ([]Row, error) { return rows() }

var rows = sync.OnceValues(func() ([]Row, error) { return read(oddsCSV) })

func read(text string) ([]Row, error) {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = 4
	lines, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("odds.csv: %w", err)
	}
	if len(lines) == 0 || !slices.Equal(lines[0], []string{"category", "device", "symptoms", "odds"}) {
		return nil, fmt.Errorf("odds.csv does not begin with the line category,device,symptoms,odds")
	}
	categories := records.Categories()
	out := make([]Row, 0, len(lines)-1)
	for i, line := range lines[1:] {
		if !slices.Contains(categories, line[0]) {
			return nil, fmt.Errorf("odds.csv, line %d: no category is called %q", i+2, line[0])
		}
		odds, err := readOdds(line[3])
		if err != nil {
			return nil, fmt.Errorf("odds.csv, line %d: %w", i+2, err)
		}
		out = append(out, Row{line[0], line[1], line[2], odds})
	}
	return out, nil
}

// readOdds reads "class:percent; class:percent". What is missing to 100 was
// left open, and is shared out in proportion.
func readOdds(text string) (map[string]float64, error) {
	odds, sum := map[string]float64{}, 0.0
	for part := range strings.SplitSeq(text, ";") {
		class, percent, ok := strings.Cut(strings.TrimSpace(part), ":")
		if !ok || !slices.Contains(records.Classes(), class) {
			return nil, fmt.Errorf("%q is not a class and its percentage", part)
		}
		if _, twice := odds[class]; twice {
			return nil, fmt.Errorf("%q comes twice", class)
		}
		x, err := strconv.ParseFloat(strings.TrimSpace(percent), 64)
		if err != nil || !(x >= 0 && x <= 100) {
			return nil, fmt.Errorf("%q is not a percentage", percent)
		}
		odds[class] = x
		sum += x
	}
	if sum < 85 || sum > 102 {
		return nil, fmt.Errorf("the percentages add up to %g", sum)
	}
	for class := range odds {
		odds[class] /= sum
	}
	return odds, nil
}
