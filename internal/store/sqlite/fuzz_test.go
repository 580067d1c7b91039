package sqlite_test

import (
	"path/filepath"
	"testing"

	"fettler/internal/journal"
)

// FuzzFind: whatever is looked for, it is looked for as words and keys, not as the language
// of the index, and is no error.
func FuzzFind(f *testing.F) {
	for _, s := range []string{"hums", `"`, `a" OR "b`, "NEAR(", "*", "-", "^x", "words : y", "", " ", "\x00", "a\x00b", "漢字", "\xff"} {
		f.Add(s, s, s)
	}
	s := open(f, filepath.Join(f.TempDir(), "journal.db"))
	if err := s.Keep(f.Context(), "1", 1, []journal.Page{{Case: "a", Text: "it hums", Keys: []string{"zsymptom1"}, Shown: []byte("{}")}}); err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, word, must, any string) {
		got, err := s.Find(t.Context(), journal.Query{Words: []string{word, "hum"}, Must: []string{must}, Any: []string{any, "zsymptom1"}, Most: 5})
		if err != nil || len(got) > 1 {
			t.Errorf("%q, %q, %q: %v, %v", word, must, any, got, err)
		}
	})
}
