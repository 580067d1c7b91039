package appraise

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"
)

// TestReader prints how often one reader who knew the symptoms only had the
// true class first and among the first three: about what can be had.
//
//	go test ./internal/appraise -run TestReader -v
func TestReader(t *testing.T) {
	data, err := os.ReadFile("testdata/reader.csv")
	if err != nil {
		t.Fatal(err)
	}
	lines, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	said := map[string][]string{}
	for _, line := range lines[1:] {
		said[line[0]] = []string{line[1], line[3], line[5]}
	}
	n, first, three := 0, 0, 0
	for prefix, set := range map[string]string{"dev/": "development", "held/": "heldback"} {
		for _, c := range cases(t, set) {
			s := said[prefix+c.ID]
			if s == nil {
				t.Errorf("nobody judged %s%s", prefix, c.ID)
				continue
			}
			n++
			for i, class := range s {
				if class == c.Truth && i == 0 {
					first++
				}
				if class == c.Truth {
					three++
				}
			}
		}
	}
	if first != 107 || three != 196 {
		t.Errorf("first in %d, among the first three in %d; docs/appraisal.md and testdata/README.md tell of 107 and 196", first, three)
	}
	t.Logf("%d cases: first in %.1f %%, among the first three in %.1f %%", n, 100*float64(first)/float64(n), 100*float64(three)/float64(n))
}
