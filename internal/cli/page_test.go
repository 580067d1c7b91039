package cli

import (
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	names := []string{"show", "say", "suspects", "take-in", "cases", "close"}
	for typed, want := range map[string]string{"shwo": "show", "suspcts": "suspects", "takein": "take-in", "clos": "close", "xyzzy": "", "": "", "s": "", "SHOW": "show"} {
		if got := nearest(typed, names); got != want {
			t.Errorf("nearest(%q) = %q, want %q", typed, got, want)
		}
	}
}

func TestDistanceIsAMetric(t *testing.T) {
	// Levenshtein (1966): identity, symmetry, triangle inequality; "kitten" to
	// "sitting" is 3 (from memory, the usual textbook example).
	if got := distance("kitten", "sitting"); got != 3 {
		t.Errorf("distance = %d, want 3", got)
	}
	word := rapid.StringMatching(`[ab]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		if distance(a, b) != distance(b, a) || (distance(a, b) == 0) != (a == b) || distance(a, c) > distance(a, b)+distance(b, c) {
			t.Errorf("%q %q %q", a, b, c)
		}
	})
}

func TestFiguresInWords(t *testing.T) {
	for p, want := range map[float64]string{0: "0 %", 0.001: "<1 %", 0.128: "13 %", 0.999: ">99 %", 1: "100 %"} {
		if got := percent(p); got != want {
			t.Errorf("percent(%v) = %q, want %q", p, got, want)
		}
	}
	for m, want := range map[float64]string{0: "0 min", 59.4: "59 min", 59.6: "1 h 00 min", 125: "2 h 05 min"} {
		if got := minutes(m); got != want {
			t.Errorf("minutes(%v) = %q, want %q", m, got, want)
		}
	}
}

// Whatever is typed, reading it neither panics nor does anything.
func FuzzCheck(f *testing.F) {
	for _, s := range []string{"show", "take-in kettle --age 3", "note lint x", "--json", "-c x say y", "correct 3 notice a=b", "--", "-", "bench --addr", "note"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { _ = Check(strings.Split(s, " ")) })
}

// What others wrote is shown, never obeyed: no escape sequence, carriage return or
// other control character (ISO/IEC 6429, C0 and C1) gets to the terminal.
func TestATerminalIsNotCommanded(t *testing.T) {
	var w strings.Builder
	p := &page{w: &w, bold: true}
	nasty := "left\x1b]0;title\a\x1b[2K\rright\b\u009b1A\x7f"
	p.line(nasty)
	p.para("  "+nasty, nasty+" "+nasty)
	p.head("%s", nasty)
	got := strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "").Replace(w.String()) // what makes the heading bold
	for _, r := range got {
		if r != '\n' && unicode.IsControl(r) {
			t.Fatalf("%q is in %q", r, got)
		}
	}
	if !strings.Contains(got, "left") || !strings.Contains(got, "right") {
		t.Errorf("the words are gone: %q", got)
	}
}
