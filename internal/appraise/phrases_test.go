package appraise

import (
	"slices"
	"testing"

	"fettler/internal/note"
	"fettler/internal/words"
)

// TestShippedPhrases reads every phrase of the shipped notes' symptoms with the
// device's own index: each should be read as what it belongs to, or at least be
// asked back with it among the alternatives. None may be refused.
func TestShippedPhrases(t *testing.T) {
	a := shipped(t)
	all, asked, missed, denied := 0, 0, 0, 0
	for _, d := range a.lib.Devices() {
		m, err := a.lib.Model(d.ID)
		if err != nil {
			t.Fatal(err)
		}
		var entries []words.Entry
		for i := range m.Findings {
			if f := &m.Findings[i]; f.Kind == note.Sign && f.Check < 0 {
				entries = append(entries, words.Entry{ID: f.ID, Title: f.Title, Phrases: f.Says})
			}
		}
		x, err := words.NewIndex(entries)
		if err != nil {
			t.Errorf("%s: %v", d.ID, err)
			continue
		}
		for _, e := range entries {
			is := func(m words.Match) bool { return m.ID == e.ID }
			for _, phrase := range e.Phrases {
				r := x.Read(phrase)
				all++
				switch i := slices.IndexFunc(r.Matches, is); {
				case i >= 0 && r.Matches[i].Denied:
					denied++
					t.Logf("%s: %q is read as the contrary of %q", d.ID, phrase, e.Title)
				case i >= 0:
				case slices.ContainsFunc(r.Doubtful, func(g []words.Match) bool { return slices.ContainsFunc(g, is) }):
					asked++
				default:
					missed++
					t.Logf("%s: %q is not read as %q", d.ID, phrase, e.Title)
				}
			}
		}
	}
	t.Logf("%d phrases: %d asked back, %d missed, %d read as the contrary", all, asked, missed, denied)
	if missed+denied > all/100 {
		t.Errorf("%d of %d phrases are not read as what they belong to", missed+denied, all)
	}
}
