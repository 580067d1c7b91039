package demo_test

import (
	"context"
	"strings"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/demo"
	"fettler/internal/note"
	"fettler/internal/store/memory"
	"fettler/library"
)

func bench(t *testing.T) *casework.Bench {
	t.Helper()
	lib, err := note.Load(context.Background(), library.Notes())
	if lib == nil {
		t.Fatal(err)
	}
	return casework.New(memory.New(), lib, casework.Options{})
}

// The shipped notes know everything the demonstration names, and it stands in mid-repair.
func TestInstall(t *testing.T) {
	ctx := context.Background()
	b := bench(t)
	if fresh, err := demo.Install(ctx, b); err != nil || !fresh {
		t.Fatalf("installed %v, error %v", fresh, err)
	}
	v, err := b.View(ctx, demo.Case)
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Source.Ignored) > 0 {
		t.Errorf("the note does not know: %v", v.Source.Ignored)
	}
	if !v.Header.Demo || !strings.Contains(v.Header.Title, "invented") {
		t.Errorf("%q does not say that it is invented", v.Header.Title)
	}
	said := 0
	for _, o := range v.Known {
		if o.From == "said" && !o.Implied { // what follows from it was not said
			said++
		}
	}
	if said != 3 {
		t.Errorf("%d symptoms were read from what was said, want 3: %+v", said, v.Known)
	}
	if v.Header.Access.ID != "open" || v.Header.State != casework.OnBench || v.Next == nil {
		t.Errorf("it is not in mid-repair: %+v, next %v", v.Header, v.Next)
	}
	if v.Header.Owner != (casework.Owner{}) {
		t.Error("the demonstration names an owner")
	}
	t.Logf("first suspect %s %.0f %%, next: %s", v.Suspects[0].Title, 100*v.Suspects[0].Now, v.Next.Title)
}

// Installing again, or beside a case of one's own, changes nothing.
func TestInstallTwice(t *testing.T) {
	ctx := context.Background()
	b := bench(t)
	for i := range 2 {
		if fresh, err := demo.Install(ctx, b); err != nil || fresh != (i == 0) {
			t.Fatalf("time %d: installed %v, error %v", i+1, fresh, err)
		}
	}
	if list, _ := b.List(ctx); len(list) != 1 {
		t.Errorf("%d cases, want 1", len(list))
	}
	own := bench(t)
	if _, err := own.Open(ctx, casework.Opening{Category: "Lamp"}); err != nil {
		t.Fatal(err)
	}
	if fresh, err := demo.Install(ctx, own); err != nil || fresh {
		t.Errorf("installed %v beside a case of one's own, error %v", fresh, err)
	}
}
