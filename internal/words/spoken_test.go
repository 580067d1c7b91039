package words_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"fettler/internal/words"
)

// TestSpoken reads sentences as they are typed at a repair evening. Common
// practice, no source; how they came about and were counted: testdata/README.md.
func TestSpoken(t *testing.T) {
	f, err := os.Open("testdata/spoken.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	x := generalIndex(t)
	known := map[string]bool{}
	for _, e := range words.General() {
		known[e.ID] = true
	}
	var c tally
	for _, row := range rows[1:] {
		text, want, may := row[1], append(strings.Fields(row[2]), strings.Fields(row[3])...), strings.Fields(row[4])
		for _, id := range append(slices.Clone(want), may...) {
			if !known[strings.TrimLeft(id, "!~")] {
				t.Errorf("%q: label %q is not in General()", text, id)
			}
		}
		r := x.Read(text)
		r.Matches = slices.DeleteFunc(r.Matches, func(m words.Match) bool {
			id := idsOf([]words.Match{m})[0]
			return !slices.Contains(want, id) && (slices.Contains(may, id) || id == "!not-working" || id == "!dead")
		})
		if bad := c.compare(r, want); len(bad) > 0 {
			t.Logf("%q: %s; read %q", text, strings.Join(bad, ", "), said(x.Read(text)))
		}
	}
	t.Logf("right %d, wrong %d, missed %d (of which asked back %d): precision %.2f, recall %.2f",
		c.right, c.wrong, c.missed, c.asked, c.precision(), c.recall())
	if c.precision() < 0.97 || c.recall() < 0.94 {
		t.Error("below the floor of precision 0.97, recall 0.94")
	}
}
