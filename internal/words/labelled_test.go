package words_test

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"fettler/internal/words"
)

// A labelled text and what a reader found in it; a denied id begins with "!".
type labelled struct {
	record, part, text string
	want               []string
}

func readLabelled(t testing.TB) []labelled {
	t.Helper()
	f, err := os.Open("testdata/labelled.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, e := range words.General() {
		known[e.ID] = true
	}
	var out []labelled
	for _, row := range rows[1:] {
		l := labelled{record: row[0], part: row[1], text: row[2], want: strings.Fields(row[3])}
		for _, id := range strings.Fields(row[4]) {
			l.want = append(l.want, "!"+id)
		}
		for _, id := range l.want {
			if !known[strings.TrimPrefix(id, "!")] {
				t.Fatalf("record %s: label %q is not in General()", l.record, id)
			}
		}
		out = append(out, l)
	}
	return out
}

func idsOf(matches []words.Match) []string {
	var out []string
	for _, m := range matches {
		if m.Denied {
			out = append(out, "!"+m.ID)
		} else {
			out = append(out, m.ID)
		}
	}
	return out
}

// A tally of findings, stated and denied alike.
type tally struct{ right, wrong, missed, asked int }

func (c tally) precision() float64 { return float64(c.right) / float64(c.right+c.wrong) }
func (c tally) recall() float64    { return float64(c.right) / float64(c.right+c.missed) }

// compare counts one text's findings into c and says which were mistakes.
func (c *tally) compare(r words.Reading, want []string) (mistakes []string) {
	got := idsOf(r.Matches)
	for _, id := range got {
		if slices.Contains(want, id) {
			c.right++
		} else {
			c.wrong++
			mistakes = append(mistakes, "wrong "+id)
		}
	}
	for _, id := range want {
		if slices.Contains(got, id) {
			continue
		}
		c.missed++
		mistakes = append(mistakes, "missed "+id)
		if slices.ContainsFunc(r.Doubtful, func(g []words.Match) bool { return slices.Contains(idsOf(g), id) }) {
			c.asked++
		}
	}
	return mistakes
}

// parts holds the floors of precision and recall, somewhat below what was
// measured (testdata/README.md). The aim for the held-back part was 0.85 and
// 0.75; it is not reached.
var parts = []struct {
	name              string
	precision, recall float64
	show              bool
}{
	{"development", 0.87, 0.87, true},
	{"held-back", 0.72, 0.69, false}, // for counting only: never show its mistakes
}

// TestLabelled reads the labelled repair records with the general list.
// Source of the texts: Open Repair Data, CC BY-SA 4.0; labels: testdata/README.md.
func TestLabelled(t *testing.T) {
	x := generalIndex(t)
	all := readLabelled(t)
	for _, part := range parts {
		t.Run(part.name, func(t *testing.T) {
			var c tally
			for _, l := range all {
				if l.part != part.name {
					continue
				}
				if bad := c.compare(x.Read(l.text), l.want); part.show && len(bad) > 0 {
					t.Logf("%s %q: %s", l.record, l.text, strings.Join(bad, ", "))
				}
			}
			t.Logf("right %d, wrong %d, missed %d (of which asked back %d): precision %.2f, recall %.2f",
				c.right, c.wrong, c.missed, c.asked, c.precision(), c.recall())
			if c.precision() < part.precision || c.recall() < part.recall {
				t.Errorf("below the floor of precision %.2f, recall %.2f", part.precision, part.recall)
			}
		})
	}
}
