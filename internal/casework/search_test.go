package casework_test

import (
	"slices"
	"strings"
	"testing"

	"fettler/internal/casework"
)

// A case is found by its label, device, symptoms, parts, faults and by what was
// written down; never by its owner; as it is now, not as it was.
func TestSearch(t *testing.T) {
	b, _ := newBench(t)
	bridge := bridgeCase(t, b)
	hall := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker", Label: "Hall left", Owner: casework.Owner{Name: "Griselda"}},
		casework.Noticing{Answers: yes("hums")}, casework.Remarking{Text: "Grille was glued, löse sie"})).Case
	find := func(text string) []string {
		t.Helper()
		ids := []string{}
		for _, h := range ok[[]casework.Hit](t)(b.Search(ctx, text)) {
			ids = append(ids, h.Case)
			if h.Why == "" || h.Score <= 0 || h.Score > 1 {
				t.Errorf("%q: %+v", text, h)
			}
		}
		return ids
	}
	for text, want := range map[string][]string{
		"hall left": {hall}, "hums": {hall}, "BR1": {bridge}, "bridge rectifier": {bridge}, "gluë": {hall}, "lose": {hall}, "glue hums": {}, "hums glued": {hall},
		"griselda": {}, "completely dead": {bridge}, `"dead" AND (OR*`: {}, "replace the fus": {bridge},
	} {
		if got := find(text); !slices.Equal(got, want) {
			t.Errorf("%q finds %v, want %v", text, got, want)
		}
	}
	if got := find("studio"); len(got) != 2 {
		t.Errorf("another name for the device finds %v", got)
	}
	ok[casework.Receipt](t)(b.Undo(ctx, hall, 0, casework.By{}))
	if got := find("glued"); len(got) != 0 {
		t.Errorf("what was undone finds %v", got)
	}
	if _, err := b.Search(ctx, " ?! "); casework.CodeOf(err) != casework.BadInput {
		t.Errorf("no word: %v", err)
	}
}

// Closed cases with the same symptoms come first, with what it was.
func TestLike(t *testing.T) {
	b, _ := newBench(t)
	bridge := bridgeCase(t, b)
	hums := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")}, casework.Noticing{Answers: yes("crackles")}, casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true})
	ok[casework.Receipt](t)(b.Close(ctx, hums, casework.Closing{Verdict: casework.Fixed, Was: []string{"supply.reservoir.dried-out"}}))
	loudspeaker(t, b, casework.Noticing{Answers: yes("dead")}) // open: says nothing of what it was
	mine := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")})
	got := ok[[]casework.Hit](t)(b.Like(ctx, mine))
	if len(got) != 1 || got[0].Case != bridge || got[0].Score != 1 || !strings.Contains(strings.Join(got[0].Was, " "), "bridge rectifier short") {
		t.Errorf("like a dead one: %+v", got)
	}
	other := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	got = ok[[]casework.Hit](t)(b.Like(ctx, other))
	if len(got) != 1 || got[0].Case != hums || got[0].Score != 0.5 || !slices.Equal(got[0].Was, []string{"reservoir capacitors dried out"}) {
		t.Errorf("like a humming one: %+v", got)
	}
	if got := ok[[]casework.Hit](t)(b.Like(ctx, loudspeaker(t, b))); len(got) != 0 {
		t.Errorf("like one of which nothing is known: %+v", got)
	}
}
