package library_test

import (
	"context"
	"os"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/note"
	"fettler/library"
	"fettler/library/records"
)

// TestNotes reads and puts together every shipped note and prints whatever is
// wrong with it, place by place. Run it while writing notes:
//
//	go test ./library -run TestNotes
func TestNotes(t *testing.T) {
	lib, err := library.Load(context.Background())
	if lib == nil {
		t.Fatal(err)
	}
	problems, err := lib.Check(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	warnings := 0
	for _, p := range problems {
		if p.Warning {
			warnings++
			if os.Getenv("FETTLER_WARNINGS") != "" {
				t.Log(p)
			}
			continue
		}
		t.Error(p)
	}
	t.Logf("%d devices, %d problems, %d warnings (FETTLER_WARNINGS=1 shows them)", len(lib.Devices()), len(problems)-warnings, warnings)
}

// What Load reads of a shipped note to begin with is what the whole note says.
func TestHeads(t *testing.T) {
	ctx := context.Background()
	quick, err := library.Load(ctx)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := note.Load(ctx, os.DirFS("."))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(whole.Devices(), quick.Devices()); diff != "" {
		t.Errorf("(-whole +quick)\n%s", diff)
	}
}

// Every device is put together the same, to the last bit, each time.
func TestSameTwice(t *testing.T) {
	ctx := context.Background()
	a, _ := library.Load(ctx)
	b, _ := library.Load(ctx)
	for _, d := range a.Devices() {
		x, errX := a.Model(d.ID)
		y, errY := b.Model(d.ID)
		if (errX == nil) != (errY == nil) || !reflect.DeepEqual(x, y) {
			t.Errorf("%s differs from time to time", d.ID)
		}
	}
}

// The records and the notes use the same words for classes and categories.
func TestRecordWords(t *testing.T) {
	var classes []string
	for _, c := range note.Classes() {
		classes = append(classes, string(c))
	}
	if diff := cmp.Diff(classes, records.Classes()); diff != "" {
		t.Errorf("classes: (-note +records)\n%s", diff)
	}
	for _, c := range note.Categories() {
		mix := library.Mix(c)
		sum := 0.0
		for class, share := range mix {
			if share < 0 || !contains(classes, string(class)) {
				t.Errorf("%s: class %q has share %g", c, class, share)
			}
			sum += share
		}
		if sum < 0.99 || sum > 1.01 {
			t.Errorf("%s: the shares add up to %g", c, sum)
		}
	}
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}
