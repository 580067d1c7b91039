package library_test

import (
	"context"
	"regexp"
	"slices"
	"strings"
	"testing"

	"fettler/internal/note"
	"fettler/library"
)

// Where the probes go: somebody new to it must be able to follow.
var probes = regexp.MustCompile(`(?i)probe|clip|\bred\b|\bblack\b|tips|one lead|plus and minus`)

// What every shipped check says to whoever does it. Common practice, no source.
func TestChecksSayHow(t *testing.T) {
	lib, err := library.Load(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{} // a block's check stands in many devices
	complain := func(k *note.Check, what string) {
		if s := k.Title + ": " + what; !said[s] {
			said[s] = true
			t.Error(s)
		}
	}
	for _, d := range lib.Devices() {
		m, err := lib.Model(d.ID)
		if err != nil {
			t.Fatal(err)
		}
		for i := range m.Checks {
			k := &m.Checks[i]
			if k.How == "" {
				complain(k, "does not say how it is done")
			}
			if slices.Contains(k.With, "multimeter") && !probes.MatchString(k.How) {
				complain(k, "does not say where the probes go")
			}
			for _, f := range k.Findings {
				checkAsked(k, &m.Findings[f], complain)
			}
		}
	}
}

// checkAsked looks at one question of a check, as it is asked and as it is written down.
func checkAsked(k *note.Check, f *note.Finding, complain func(*note.Check, string)) {
	if f.Kind != note.Sign && (f.Title == k.Title || strings.HasPrefix(f.Title, k.Title+": ")) {
		complain(k, "what is read there has no name of its own; “"+f.Title+"” is written down")
	}
	if f.Kind == note.Pick && (strings.Contains(f.Ask, "percent") || strings.HasPrefix(f.Ask, "How many") && !slices.ContainsFunc(f.Answers, hasDigit)) {
		complain(k, "asks for a figure and offers words: "+f.Ask)
	}
}

func hasDigit(s string) bool { return strings.ContainsAny(s, "0123456789") }
