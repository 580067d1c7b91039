package report_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/report"
)

func TestFold(t *testing.T) {
	for _, c := range []struct {
		text string
		n    int
		want []string
	}{
		{"", 5, []string{""}}, {"one two three", 7, []string{"one two", "three"}}, {"one  two\nthree", 80, []string{"one two", "three"}},
		{"immeasurable ohms", 4, []string{"immeasurable", "ohms"}}, {"µF Ω µF", 4, []string{"µF Ω", "µF"}},
	} {
		if diff := cmp.Diff(c.want, report.Fold(c.text, c.n)); diff != "" {
			t.Errorf("%q at %d (-want +got):\n%s", c.text, c.n, diff)
		}
	}
}

func TestFoldKeepsEveryWordAndTheWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		n := rapid.IntRange(1, 100).Draw(t, "n")
		lines := report.Fold(text, n)
		if diff := cmp.Diff(strings.Fields(text), strings.Fields(strings.Join(lines, "\n"))); diff != "" && strings.TrimSpace(text) != "" {
			t.Errorf("words changed (-want +got):\n%s", diff)
		}
		for _, l := range lines {
			if utf8.RuneCountInString(l) > n && len(strings.Fields(l)) > 1 {
				t.Errorf("line %q is longer than %d", l, n)
			}
		}
	})
}
