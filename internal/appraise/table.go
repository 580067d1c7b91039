package appraise

import (
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed weights.csv
var weightsCSV string

// weights are the fitted tables of the committed file, read once.
var weights = sync.OnceValues(func() (fitted, error) { return readWeights(weightsCSV) })

// A fitted pair of tables: what features of symptoms and of checks add to the
// log odds of each class.
type fitted struct{ symptom, check map[string][]float64 }

func readWeights(text string) (fitted, error) {
	f := fitted{symptom: map[string][]float64{}, check: map[string][]float64{}}
	lines, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return f, fmt.Errorf("weights.csv: %w", err)
	}
	if len(lines) == 0 || len(lines[0]) != 2+len(classes) {
		return f, errors.New("weights.csv has not one column per class: make it anew with go test ./internal/appraise -run TestWeightsFile -update")
	}
	for n, line := range lines[1:] {
		table := f.symptom
		switch line[0] {
		case "symptom":
		case "check":
			table = f.check
		default:
			return f, fmt.Errorf("weights.csv, line %d: %q is neither symptom nor check", n+2, line[0])
		}
		row := make([]float64, len(classes))
		for k, s := range line[2:] {
			x, err := strconv.Atoi(s)
			if err != nil || x < -2000 || x > 2000 {
				return f, fmt.Errorf("weights.csv, line %d: weight %q is not a whole number from -2000 to 2000", n+2, s)
			}
			row[k] = float64(x) / 100
		}
		table[line[1]] = row
	}
	return f, nil
}
