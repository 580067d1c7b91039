package notedesk_test

import (
	"slices"
	"strings"
	"testing"

	"fettler/internal/notedesk"
)

// What a trial is given reads as on the meter, with its prefix: 2 MΩ and not 2e+06 Ω.
func TestGivenReadingsReadAsOnTheMeter(t *testing.T) {
	m, err := (&notedesk.Desk{}).Library().Model("bread-maker")
	if err != nil {
		t.Fatal(err)
	}
	all, err := notedesk.TrialsNow(t.Context(), m)
	if err != nil {
		t.Fatal(err)
	}
	var given []string
	for _, x := range all {
		given = append(given, x.Given...)
	}
	if !slices.ContainsFunc(given, func(s string) bool { return strings.HasSuffix(s, ": 2 MΩ") }) {
		t.Errorf("no trial is given 2 MΩ: %q", given)
	}
	if slices.ContainsFunc(given, func(s string) bool { return strings.Contains(s, "e+") || strings.Contains(s, "e-0") }) {
		t.Errorf("a power of ten is in %q", given)
	}
}
