package notecraft_test

import (
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/note"
	"fettler/internal/notecraft"
	"fettler/library"
)

var (
	update   = flag.Bool("update", false, "write the golden files and docs/library.md anew")
	rehearse = flag.String("rehearse", "", "rehearse the devices whose names match, or \"stale\" for those whose notes have changed; . for all takes long")
)

const (
	marksFile = "testdata/rehearsed.json"
	shelfFile = "../../docs/library.md"

	shelfFaults = 24 // drawn of each device, spread over its odds
)

// docs/library.md says what the library holds today.
func TestShelf(t *testing.T) {
	ctx := context.Background()
	lib, err := library.Load(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if *rehearse != "" {
		rehearseAll(t, lib)
	}
	got, err := notecraft.Shelf(ctx, lib, readMarks(t))
	if err != nil {
		t.Fatal(err)
	}
	golden(t, shelfFile, got)
}

// rehearseAll rehearses the devices that -rehearse matches, or with "stale" those whose
// notes have changed since, and writes what it has after each.
func rehearseAll(t *testing.T, lib *note.Library) {
	only, err := regexp.Compile(*rehearse)
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]notecraft.Mark{}
	for _, k := range readMarks(t) {
		known[k.Device] = k
	}
	for _, d := range lib.Devices() {
		m, err := lib.Model(d.ID)
		if err != nil {
			t.Fatal(err)
		}
		stale := *rehearse == "stale" && known[d.ID].Counts != notecraft.Count(m)
		if !stale && (*rehearse == "stale" || !only.MatchString(d.ID)) {
			continue
		}
		r, err := notecraft.Rehearse(context.Background(), m, notecraft.Options{Seed: 1, Most: shelfFaults})
		if err != nil {
			t.Fatal(err)
		}
		known[d.ID] = r.Mark(m)
		t.Logf("%+v", known[d.ID])
		var marks []notecraft.Mark
		for _, d := range lib.Devices() {
			if k, ok := known[d.ID]; ok {
				marks = append(marks, k)
			}
		}
		text, err := json.MarshalIndent(marks, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		write(t, marksFile, append(text, '\n'))
	}
}

func readMarks(t *testing.T) []notecraft.Mark {
	t.Helper()
	text, err := os.ReadFile(marksFile)
	if err != nil {
		t.Fatal(err)
	}
	var marks []notecraft.Mark
	if err := json.Unmarshal(text, &marks); err != nil {
		t.Fatal(err)
	}
	return marks
}

// golden compares with a file, or writes it with -update.
func golden(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		write(t, file, got)
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s is out of step; go test ./internal/notecraft -update writes it anew (-want +got)\n%s", filepath.Base(file), diff)
	}
}

func write(t *testing.T, file string, text []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, text, 0o644); err != nil {
		t.Fatal(err)
	}
}
