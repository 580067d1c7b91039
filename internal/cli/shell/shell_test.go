package shell_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/cli/shell"
)

func TestSplit(t *testing.T) {
	// POSIX.1-2017, Shell Command Language, 2.2: quoting by examples of our own.
	for line, want := range map[string][]string{
		`say "it hums"`:          {"say", "it hums"},
		`say 'it''s "loud"'`:     {"say", `its "loud"`},
		`a\ b c`:                 {"a b", "c"},
		`a "" b  # and no more`:  {"a", "", "b"},
		`x="1 V" y#z`:            {"x=1 V", "y#z"},
		`"a \"b\" \\ \c"`:        {`a "b" \ \c`},
		"":                       nil,
		`check rails 'v=38.2 V'`: {"check", "rails", "v=38.2 V"},
	} {
		got, err := shell.Split(line)
		if err != nil {
			t.Errorf("Split(%s): %v", line, err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("Split(%s) (-want +got):\n%s", line, diff)
		}
	}
}

func TestSplitRefuses(t *testing.T) {
	for _, line := range []string{`a | b`, `a; b`, `echo $HOME`, "`ls`", `say "open`, `say 'open`, `a > b`, `end\`, `"$x"`} {
		if got, err := shell.Split(line); err == nil {
			t.Errorf("Split(%s) = %q, want an error", line, got)
		}
	}
}

func TestSplitGivesBackWhatQuoteWrote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.String(), 1, 5).Draw(t, "words")
		got, err := shell.Split(shell.Quote(words...))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(words, got); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	})
}
