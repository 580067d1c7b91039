package casework_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
	"fettler/internal/shelf"
	"fettler/internal/store/memory"
)

// A shelf that has been followed event by event is the one that a new process makes of
// the journal: its lines, what a search finds, what does instead of a part.
func TestAShelfFollowedIsTheJournals(t *testing.T) {
	names := []string{"electrolytic 470 µF 25 V", "fan 12 V", "plug fuse 13 A", "electrolytic 100 µF 35 V"}
	rapid.Check(t, func(r *rapid.T) {
		j := memory.New()
		bench := func() *casework.Bench { return casework.New(j, notes(t), casework.Options{Now: clock()}) }
		b := bench()
		ids := []string{"s1", "s99", "s1-2", "x", "s-1"} // also lines that are not there
		line := func() string { return rapid.SampledFrom(ids).Draw(r, "line") }
		name := func() string { return rapid.SampledFrom(names).Draw(r, "name") }
		for n := rapid.IntRange(1, 14).Draw(r, "deeds"); n > 0; n-- {
			count := rapid.IntRange(1, 5).Draw(r, "count")
			switch rapid.IntRange(0, 8).Draw(r, "deed") {
			case 0, 1:
				board := rapid.SampledFrom([]string{"", "old board"}).Draw(r, "board")
				got, err := b.Stock(ctx, casework.Stocking{Name: name(), Count: count, Place: "drawer 1", Board: board})
				if err != nil {
					r.Fatal(err)
				}
				ids = append(ids, got.Line)
			case 2:
				_, _ = b.UseLine(ctx, casework.Using{Line: line(), Count: count})
			case 3:
				_, _ = b.MoveLine(ctx, casework.Moving{Line: line(), Place: "drawer 2", Off: true})
			case 4:
				_, _ = b.CountLine(ctx, casework.Counting{Line: line(), Count: count - 1})
			case 5:
				d, err := b.OpenList([]byte("name,pieces,place\n"+name()+",3,a\n"+name()+",4,b\n"), "stock.csv", nil)
				if err == nil {
					_, err = b.TakeList(ctx, d.Token, d.Columns, false, casework.By{})
				}
				if err != nil {
					r.Fatal(err)
				}
			case 6:
				_, _ = b.UndoShelf(ctx, rapid.IntRange(1, 15).Draw(r, "event"), casework.By{})
			case 8:
				_, _ = b.RenameLine(ctx, casework.Renaming{Line: line(), Name: name()})
			case 7:
				_, _ = b.Shelf(ctx, shelf.Ask{Text: "drawer"}) // works texts out that the next event may change
			}
		}
		again := bench()
		for _, a := range []shelf.Ask{{Gone: true}, {Text: "drawer 2", Gone: true}, {Text: "470"}} {
			got, err := b.Shelf(ctx, a)
			if err != nil {
				r.Fatal(err)
			}
			want, err := again.Shelf(ctx, a)
			if err != nil {
				r.Fatal(err)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				r.Fatalf("%+v (-from the journal +followed):\n%s", a, diff)
			}
		}
		for _, id := range ids {
			got, err1 := b.ShelfLine(ctx, id)
			want, err2 := again.ShelfLine(ctx, id)
			if diff := cmp.Diff(want, got); diff != "" || (err1 == nil) != (err2 == nil) {
				r.Fatalf("line %s: %v, %v\n%s", id, err1, err2, diff)
			}
		}
		ask := partdesk.InsteadAsk{Text: "electrolytic 470 µF 25 V"}
		got, err := partdesk.New(b).Instead(ctx, ask)
		want, err2 := partdesk.New(again).Instead(ctx, ask)
		if diff := cmp.Diff(want, got); diff != "" || err != nil || err2 != nil {
			r.Fatalf("instead: %v, %v\n%s", err, err2, diff)
		}
	})
}
