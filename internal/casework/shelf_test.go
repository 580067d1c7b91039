package casework_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
	"fettler/internal/shelf"
	"fettler/internal/store/memory"
)

func stockUp(t testing.TB, b *casework.Bench, name string, count int, place string) string {
	t.Helper()
	return ok[casework.ShelfReceipt](t)(b.Stock(ctx, casework.Stocking{Name: name, Count: count, Place: place})).Line
}

func onShelf(t testing.TB, b *casework.Bench, a shelf.Ask) *shelf.List {
	t.Helper()
	return ok[*shelf.List](t)(b.Shelf(ctx, a))
}

func repairOf(t testing.TB, v *casework.View, id string) casework.Step {
	t.Helper()
	for _, r := range v.Repairs {
		if r.ID == id {
			return r
		}
	}
	t.Fatalf("no repair %q", id)
	return casework.Step{}
}

func TestTheShelfIsWhatItsEventsSay(t *testing.T) {
	b, _ := newBench(t)
	cap := stockUp(t, b, "electrolytic 470 µF 25 V 105 °C", 10, "drawer 3")
	stockUp(t, b, "push-button", 4, "drawer 10")
	ok[casework.ShelfReceipt](t)(b.UseLine(ctx, casework.Using{Line: cap, Count: 3}))
	moved := ok[casework.ShelfReceipt](t)(b.MoveLine(ctx, casework.Moving{Line: cap, Place: "drawer 4"}))
	if p := onShelf(t, b, shelf.Ask{Text: "470"}); p.Total != 1 || p.Lines[0].Count != 7 || p.Lines[0].Place != "drawer 4" || p.Lines[0].Kind != "electrolytic capacitor" {
		t.Fatalf("%+v", p)
	}
	ok[casework.ShelfReceipt](t)(b.UndoShelf(ctx, moved.Event, casework.By{}))
	p := onShelf(t, b, shelf.Ask{})
	if diff := cmp.Diff([]shelf.Place{{Place: "drawer 3", Lines: 1}, {Place: "drawer 10", Lines: 1}}, p.Places); diff != "" {
		t.Error(diff)
	}
	undone := ok[casework.ShelfReceipt](t)(b.UndoShelf(ctx, 0, casework.By{})) // the use
	if p = onShelf(t, b, shelf.Ask{Text: "electrolytic"}); p.Lines[0].Count != 10 {
		t.Errorf("after undoing: %d", p.Lines[0].Count)
	}
	ok[casework.ShelfReceipt](t)(b.UndoShelf(ctx, undone.Event, casework.By{})) // brings it back
	ok[casework.ShelfReceipt](t)(b.CountLine(ctx, casework.Counting{Line: cap, Count: 0}))
	if p = onShelf(t, b, shelf.Ask{Text: "electrolytic"}); p.Total != 0 {
		t.Errorf("used up and still shown: %+v", p.Lines)
	}
	log := ok[[]casework.ShelfEntry](t)(b.ShelfLog(ctx, "", 20))
	if len(log) != 8 || log[0].Words != "counted electrolytic 470 µF 25 V 105 °C: 0" || log[1].Words != "brought back: used 3 × electrolytic 470 µF 25 V 105 °C" || !log[4].Void {
		t.Errorf("log %+v", log)
	}
	for _, bad := range []error{
		second(b.UseLine(ctx, casework.Using{Line: cap, Count: 1})), second(b.UseLine(ctx, casework.Using{Line: "s99"})), second(b.Stock(ctx, casework.Stocking{Name: " ", Count: 1})),
		second(b.Stock(ctx, casework.Stocking{Name: "x", Count: -1})), second(b.UndoShelf(ctx, 99, casework.By{})), second(b.MoveLine(ctx, casework.Moving{Line: cap})),
	} {
		if casework.CodeOf(bad) == "" {
			t.Errorf("taken, or no sentence: %v", bad)
		}
	}
}

func second[T any](_ T, err error) error { return err }

func TestSearchTakesWhatPeopleType(t *testing.T) {
	b, _ := newBench(t)
	stockUp(t, b, "electrolytic 470 µF 25 V 105 °C", 10, "drawer 3")
	stockUp(t, b, "resistor 2,2 kΩ", 10, "drawer 10")
	for text, want := range map[string]int{"470uF": 1, "470 uf": 1, "470µF 25V": 1, "ELECTROLYTIC drawer": 1, "2.2k": 1, "2,2": 1, "2.2kohm": 1, "drawer": 2, "s2": 1, "4700": 0} {
		if p := onShelf(t, b, shelf.Ask{Text: text}); p.Total != want {
			t.Errorf("%q finds %d lines, want %d", text, p.Total, want)
		}
	}
}

// What was written down wrong is put right without losing count or place, and can be undone.
func TestALineIsPutRight(t *testing.T) {
	b, _ := newBench(t)
	line := stockUp(t, b, "electrolytic 47 µF 25 V", 10, "drawer 3")
	ok[casework.ShelfReceipt](t)(b.UseLine(ctx, casework.Using{Line: line, Count: 2}))
	r := ok[casework.ShelfReceipt](t)(b.RenameLine(ctx, casework.Renaming{Line: line, Name: "electrolytic 470 µF 25 V", From: "pulled", Note: "two years old"}))
	l := ok[*shelf.Shown](t)(b.ShelfLine(ctx, line))
	if l.Count != 8 || l.Place != "drawer 3" || l.From != "pulled" || l.Note != "two years old" || len(l.Figures) == 0 || l.Figures[0].Text != "470 µF" {
		t.Errorf("%+v", l)
	}
	if log := ok[[]casework.ShelfEntry](t)(b.ShelfLog(ctx, line, 1)); log[0].Words != "line "+line+" is electrolytic 470 µF 25 V, pulled, two years old" {
		t.Errorf("%q", log[0].Words)
	}
	ok[casework.ShelfReceipt](t)(b.UndoShelf(ctx, r.Event, casework.By{}))
	if l = ok[*shelf.Shown](t)(b.ShelfLine(ctx, line)); l.Name != "electrolytic 47 µF 25 V" || l.Count != 8 || l.From != "new" {
		t.Errorf("undone: %+v", l)
	}
	for _, bad := range []casework.Renaming{{Line: line}, {Line: "s99", Name: "x"}, {Line: line, Name: "x", From: "the moon"}} {
		if err := second(b.RenameLine(ctx, bad)); casework.CodeOf(err) == "" {
			t.Errorf("%+v: %v", bad, err)
		}
	}
}

// The settings of the bench are in the same journal and are not taken for parts.
func TestTheShelfLeavesTheSettingsAlone(t *testing.T) {
	b, _ := newBench(t)
	set := ok[casework.Receipt](t)(b.Settle(ctx, casework.BenchCase, casework.Settling{Settled: casework.Settled{Rate: num(9)}}))
	stockUp(t, b, "fan 12 V", 1, "")
	if s := ok[casework.Settings](t)(b.BenchSettings(ctx)); s.Rate != 9 {
		t.Errorf("rate %v", s.Rate)
	}
	if err := second(b.UndoShelf(ctx, set.Seq, casework.By{})); casework.CodeOf(err) != casework.NotFound {
		t.Errorf("undoing a setting as if it were of the shelf: %v", err)
	}
}

func TestThePlannerKnowsTheShelf(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	never := false
	ok[casework.Receipt](t)(b.Settle(ctx, id, casework.Settling{Settled: casework.Settled{DayRate: num(10), NoLive: &never}}))
	first := view(t, b, id).Next
	before := repairOf(t, view(t, b, id), "supply.recap")
	if before.AtHand || before.Money == 0 || len(before.Buys) == 0 {
		t.Fatalf("%+v", before)
	}
	item := before.Buys[0]
	stockUp(t, b, item.What, item.Count-1, "drawer 3")
	if r := repairOf(t, view(t, b, id), "supply.recap"); item.Count > 1 && r.AtHand {
		t.Error("at hand with a piece missing")
	}
	line := stockUp(t, b, "Electrolytic capacitor 4700uF 63V 105°C", 1, "box 1") // other words, the same part
	for _, it := range before.Buys[1:] {
		stockUp(t, b, it.What, it.Count, "box 1")
	}
	v := view(t, b, id)
	r := repairOf(t, v, "supply.recap")
	if !r.AtHand || r.Money != 0 || r.Days != 0 || len(r.Shelf) == 0 || r.Shelf[0].Item != item.What {
		t.Fatalf("%+v", r)
	}
	for _, c := range v.Ranking {
		if c.ID == "supply.recap" && (c.Cost.Money != 0 || c.Cost.Days != 0) {
			t.Errorf("the planner still reckons with %+v", c.Cost)
		}
	}
	if c := project(t, j, id); len(c.Shelf) == 0 {
		t.Error("Project does not know the shelf")
	}
	if !strings.Contains(rankedRepair(t, v, "supply.recap").Why, "from your shelf: drawer 3, box 1; it costs nothing") {
		t.Errorf("the card does not say where it is: %q", rankedRepair(t, v, "supply.recap").Why)
	}
	// With ten a day of waiting the rails are measured before capacitors are ordered; those in the drawer just go in.
	if first.Kind != "check" || v.Next.Kind != "repair" || v.Next.ID != "supply.recap" {
		t.Errorf("first %s %q, and with the parts here %s %q", first.Kind, first.Title, v.Next.Kind, v.Next.Title)
	}
	if left := ok[*shelf.Shown](t)(b.ShelfLine(ctx, line)); left.Count != 1 {
		t.Errorf("looking took it: %+v", left)
	}
}

func rankedRepair(t testing.TB, v *casework.View, id string) casework.Card {
	t.Helper()
	for _, c := range v.Ranking {
		if c.Kind == "repair" && c.ID == id {
			return c
		}
	}
	t.Fatalf("repair %q is not ranked", id)
	return casework.Card{}
}

// What a repair takes from the shelf goes with it: undone, brought back, corrected.
func TestARepairTakesFromTheShelf(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	item := repairOf(t, view(t, b, id), "supply.recap").Buys[0]
	line := stockUp(t, b, item.What, 5, "drawer 3")
	for _, it := range repairOf(t, view(t, b, id), "supply.recap").Buys[1:] {
		stockUp(t, b, it.What, it.Count, "drawer 3")
	}
	count := func(want int, when string) {
		t.Helper()
		if l := ok[*shelf.Shown](t)(b.ShelfLine(ctx, line)); l.Count != want {
			t.Errorf("%s: %d there, want %d", when, l.Count, want)
		}
	}
	n := max(item.Count, 1)
	done := ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"})).Seq
	count(5-n, "after the repair")
	v := view(t, b, id)
	if v.Header.Money != 0 || !strings.Contains(v.Timeline[done-1].Words, "from the shelf: "+fmt.Sprint(n)+" × "+item.What+", drawer 3") {
		t.Errorf("cost %v, words %q", v.Header.Money, v.Timeline[done-1].Words)
	}
	if log := ok[[]casework.ShelfEntry](t)(b.ShelfLog(ctx, line, 1)); !strings.Contains(log[0].Words, "for case "+id) {
		t.Errorf("the log says %q", log[0].Words)
	}
	ok[casework.Receipt](t)(b.Correct(ctx, id, done, casework.Repairing{Repair: "supply.recap", What: "both", Minutes: num(9)}))
	count(5-n, "after a correction")
	if m := view(t, b, id).Header.Money; m != 0 {
		t.Errorf("after a correction it costs %v", m)
	}
	undone := ok[casework.Receipt](t)(b.Undo(ctx, id, done, casework.By{})).Seq
	count(5, "after undoing the repair")
	ok[casework.Receipt](t)(b.Remark(ctx, id, casework.Remarking{Text: "x"}))
	ok[casework.Receipt](t)(b.Undo(ctx, id, undone, casework.By{}))
	count(5-n, "brought back")

	other := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	ok[casework.Receipt](t)(b.RecordRepair(ctx, other, casework.Repairing{Repair: "supply.recap", NoShelf: true}))
	count(5-n, "a repair that leaves the shelf alone")
	if m := view(t, b, other).Header.Money; m == 0 {
		t.Error("bought new and cost nothing")
	}
}

// The journals are two: a program stopped between them makes good for it at the next undoing or repair.
func TestAnInterruptedTakingIsMadeGood(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	var line string
	for i, it := range repairOf(t, view(t, b, id), "supply.recap").Buys {
		if l := stockUp(t, b, it.What, 9, "drawer 3"); i == 0 {
			line = l
		}
	}
	broken := casework.New(failing{j}, notes(t), casework.Options{Now: clock()})
	r, err := broken.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"})
	if casework.CodeOf(err) != casework.StoreFail {
		t.Fatalf("%v", err)
	}
	for _, says := range []string{fmt.Sprintf("repair is written down as event %d", r.Seq), "not be brought in line", "do not write it down again"} {
		if !strings.Contains(err.Error(), says) {
			t.Errorf("%q does not say %q", err, says)
		}
	}
	b = casework.New(j, notes(t), casework.Options{Now: clock()})
	ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{What: "glued a foot"}))
	if l := ok[*shelf.Shown](t)(b.ShelfLine(ctx, line)); l.Count >= 9 {
		t.Errorf("%d are said to be there still", l.Count)
	}
}

// leaving is a journal whose user goes away as soon as something of a case is written.
type leaving struct {
	casework.Journal
	leave context.CancelFunc
}

func (l leaving) Append(ctx context.Context, id string, after int, events ...casework.Event) error {
	err := l.Journal.Append(ctx, id, after, events...)
	if id != casework.BenchCase {
		l.leave()
	}
	return err
}

// Once the repair is written the shelf follows, even if the page was closed meanwhile.
func TestTheShelfFollowsWhoeverGoesAway(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	var line string
	for i, it := range repairOf(t, view(t, b, id), "supply.recap").Buys {
		if l := stockUp(t, b, it.What, 9, "drawer 3"); i == 0 {
			line = l
		}
	}
	going, leave := context.WithCancel(ctx)
	left := casework.New(leaving{j, leave}, notes(t), casework.Options{Now: clock()})
	ok[casework.Receipt](t)(left.RecordRepair(going, id, casework.Repairing{Repair: "supply.recap"}))
	if l := ok[*shelf.Shown](t)(b.ShelfLine(ctx, line)); l.Count >= 9 {
		t.Errorf("%d are said to be there still", l.Count)
	}
}

// failing is a journal to whose bench nothing can be written.
type failing struct{ casework.Journal }

func (f failing) Append(ctx context.Context, id string, after int, events ...casework.Event) error {
	if id == casework.BenchCase {
		return errors.New("the disk is full")
	}
	return f.Journal.Append(ctx, id, after, events...)
}

func TestAListIsOneThingToUndo(t *testing.T) {
	b, j := newBench(t)
	var list strings.Builder
	list.WriteString("Name,Qty,Drawer\n")
	for i := range 1200 {
		fmt.Fprintf(&list, "resistor %dR 1/4 W,10,drawer %d\n", i+1, i%7)
	}
	list.WriteString("film 100n,lots,1\n")
	d := ok[*casework.ListDraft](t)(b.OpenList([]byte(list.String()), "stock.csv", nil))
	if d.Good != 1200 || d.Bad != 1 || d.Troubles[0].Line != 1202 || !strings.Contains(d.Troubles[0].Text, "pieces") {
		t.Fatalf("good %d, bad %d, %+v", d.Good, d.Bad, d.Troubles)
	}
	if other := ok[*casework.ListDraft](t)(b.TryList(d.Token, []string{"", "pieces", ""})); other.Problem == "" {
		t.Error("a list without names was taken")
	}
	if err := second(b.TakeList(ctx, d.Token, d.Columns, false, casework.By{})); casework.CodeOf(err) != casework.BadInput || onShelf(t, b, shelf.Ask{}).Total != 0 {
		t.Errorf("half a list was taken: %v", err)
	}
	r := ok[casework.ShelfReceipt](t)(b.TakeList(ctx, d.Token, d.Columns, true, casework.By{Who: "Ann"}))
	if p := onShelf(t, b, shelf.Ask{Page: 24}); p.Total != 1200 || p.Pages != 24 || len(p.Lines) != 50 || p.Pieces != 12000 {
		t.Errorf("total %d pages %d", p.Total, p.Pages)
	}
	if events, err := j.Events(ctx, casework.BenchCase, 0); err != nil || len(events) != 3 {
		t.Errorf("%d events, %v", len(events), err)
	}
	if log := ok[[]casework.ShelfEntry](t)(b.ShelfLog(ctx, "", 10)); len(log) != 1 || log[0].Words != "stocked parts from the list stock.csv" {
		t.Errorf("%+v", log)
	}
	var csv bytes.Buffer
	if err := b.ExportShelf(ctx, &csv); err != nil {
		t.Fatal(err)
	}
	if back := ok[*casework.ListDraft](t)(b.OpenList(csv.Bytes(), "", nil)); back.Good != 1200 || back.Bad != 0 {
		t.Errorf("written and read back: %+v", back)
	}
	u := ok[casework.ShelfReceipt](t)(b.UndoShelf(ctx, r.Event, casework.By{}))
	if p := onShelf(t, b, shelf.Ask{}); p.Total != 0 {
		t.Errorf("%d lines left", p.Total)
	}
	ok[casework.ShelfReceipt](t)(b.UndoShelf(ctx, u.Event, casework.By{}))
	if p := onShelf(t, b, shelf.Ask{}); p.Total != 1200 {
		t.Errorf("brought back %d", p.Total)
	}
}

func TestWhatWasKeptForPartsGivesParts(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	if err := second(b.SalvageOf(ctx, id)); casework.CodeOf(err) != casework.BadInput {
		t.Fatalf("of an open case: %v", err)
	}
	ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.KeptForParts}))
	from := ok[*casework.Salvage](t)(b.SalvageOf(ctx, id))
	if len(from.Parts) == 0 {
		t.Fatal("no parts")
	}
	p := from.Parts[0]
	for _, x := range from.Parts {
		if x.Safe {
			if err := second(b.Salvage(ctx, id, casework.Salvaging{Parts: map[string]int{x.Part: 1}})); casework.CodeOf(err) != casework.BadInput {
				t.Errorf("%s is to be used a second time: %v", x.Name, err)
			}
		} else {
			p = x
		}
	}
	ok[casework.ShelfReceipt](t)(b.Salvage(ctx, id, casework.Salvaging{Parts: map[string]int{p.Part: p.Count}, Place: "shelf B"}))
	page := onShelf(t, b, shelf.Ask{})
	if page.Total != 1 || page.Lines[0].From != "on a board" || page.Lines[0].Case != id || page.Lines[0].Board == "" {
		t.Fatalf("%+v", page.Lines)
	}
	ok[casework.ShelfReceipt](t)(b.MoveLine(ctx, casework.Moving{Line: page.Lines[0].ID, Place: "drawer 1", Off: true}))
	if l := ok[*shelf.Shown](t)(b.ShelfLine(ctx, page.Lines[0].ID)); l.From != "pulled" {
		t.Errorf("taken off and still %q", l.From)
	}
}

func TestTwoWhoStockAtOnce(t *testing.T) {
	j := memory.New()
	one, two := casework.New(j, notes(t), casework.Options{Now: clock()}), casework.New(j, notes(t), casework.Options{Now: clock()})
	a := stockUp(t, one, "fan 12 V", 1, "")
	c := stockUp(t, two, "fan 24 V", 1, "")
	if p := onShelf(t, one, shelf.Ask{}); a == c || p.Total != 2 {
		t.Errorf("lines %s and %s, %d on the shelf", a, c, p.Total)
	}
}

// A shelf of 100 000 lines: a page of it, a search, and a case that looks through it.
func BenchmarkShelf100000(b *testing.B) {
	bench, _ := newBench(b)
	var list strings.Builder
	list.WriteString("name,pieces,place\n")
	for i := range 100_000 {
		fmt.Fprintf(&list, "electrolytic %d µF %d V 105 °C,10,drawer %d\n", 1+i%4700, []int{16, 25, 35, 63}[i%4], i%300)
	}
	d, err := bench.OpenList([]byte(list.String()), "", nil)
	if err == nil {
		_, err = bench.TakeList(ctx, d.Token, d.Columns, false, casework.By{})
	}
	if err != nil {
		b.Fatal(err)
	}
	id := loudspeaker(b, bench)
	view(b, bench, id)
	b.Run("page", func(b *testing.B) {
		for b.Loop() {
			onShelf(b, bench, shelf.Ask{Text: "470", Page: 3})
		}
	})
	b.Run("instead", func(b *testing.B) {
		for b.Loop() {
			if _, err := partdesk.New(bench).Instead(ctx, partdesk.InsteadAsk{Text: "electrolytic 470 µF 25 V"}); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("event then page", func(b *testing.B) {
		for b.Loop() {
			stockUp(b, bench, "fan 12 V", 1, "box")
			onShelf(b, bench, shelf.Ask{})
		}
	})
	b.Run("event then case", func(b *testing.B) {
		for b.Loop() {
			stockUp(b, bench, "fan 12 V", 1, "box")
			view(b, bench, id)
		}
	})
}
