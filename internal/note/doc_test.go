package note_test

import (
	"context"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"fettler/internal/note"
)

// docNotes are the notes of docs/notes.md: its block and its device, on the
// blocks in testdata/doc that it does not spell out.
func docNotes(t testing.TB) fstest.MapFS {
	t.Helper()
	notes := fstest.MapFS{}
	for _, name := range []string{"kinds.yaml", "mains-inlet.yaml", "amplifier-class-ab.yaml"} {
		data, err := os.ReadFile("testdata/doc/" + name)
		if err != nil {
			t.Fatal(err)
		}
		notes[name] = &fstest.MapFile{Data: data}
	}
	doc, err := os.ReadFile("../../docs/notes.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, fence := range strings.Split(string(doc), "```yaml\n")[1:] {
		text, _, _ := strings.Cut(fence, "```")
		first, _, _ := strings.Cut(text, "\n")
		if name, ok := strings.CutPrefix(first, "block: "); ok {
			notes[name+".yaml"] = &fstest.MapFile{Data: []byte(text)}
		}
		if name, ok := strings.CutPrefix(first, "device: "); ok {
			notes[name+".yaml"] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return notes
}

func loaded(t testing.TB, notes fstest.MapFS) *note.Library {
	t.Helper()
	lib, err := note.Load(context.Background(), notes)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

func docModel(t testing.TB) *note.Model {
	t.Helper()
	m, err := loaded(t, docNotes(t)).Model("powered-loudspeaker")
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The examples of the language's description are complete and right.
func TestDocExamples(t *testing.T) {
	notes := docNotes(t)
	if len(notes) != 5 {
		t.Fatalf("docs/notes.md has lost an example: %d notes", len(notes))
	}
	problems, err := loaded(t, notes).Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range problems {
		t.Error(p)
	}
}
