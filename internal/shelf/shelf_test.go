package shelf_test

import (
	"encoding/json"
	"testing"

	"fettler/internal/journal"
	"fettler/internal/note"
	"fettler/internal/part/stock"
	"fettler/internal/shelf"
)

func event(t *testing.T, seq int, k journal.Kind, payload any) journal.Event {
	t.Helper()
	data, err := json.Marshal(payload)
	if err != nil {
		t.Fatal(err)
	}
	return journal.Event{Seq: seq, Kind: k, Version: 1, Data: data}
}

func stocked(count int, from, name string) shelf.Stocked {
	p := stock.Read(name)
	return shelf.Stocked{Lines: []shelf.StockLine{shelf.NewStockLine(stock.Line{Name: name, Kind: p.Kind, Figures: p.Figures, Words: p.Words, Count: count, From: from})}}
}

func replay(t *testing.T, r *shelf.Reader, void int, events ...journal.Event) *shelf.Shelf {
	t.Helper()
	s, err := r.Shelf(events, func(i int) bool { return events[i].Seq != void })
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestAShelfIsWhatItsEventsAmountTo(t *testing.T) {
	events := []journal.Event{
		event(t, 1, shelf.KindStocked, stocked(5, stock.New, "electrolytic 470 µF 35 V 105 °C")),
		event(t, 2, shelf.KindUsed, shelf.Used{Line: "s1", Count: 2}),
		event(t, 3, "remarked", map[string]string{"text": "none of the shelf's"}),
		event(t, 4, shelf.KindMoved, shelf.Moved{Line: "s1", Place: "drawer 3"}),
		event(t, 5, shelf.KindCounted, shelf.Counted{Line: "s9", Count: 7}), // there is no such line
	}
	var r shelf.Reader
	before := replay(t, &r, 0, events...)
	if l := before.At("s1"); l == nil || l.Count != 3 || l.Place != "drawer 3" || before.Seq() != 5 {
		t.Errorf("%+v", l)
	}
	if l := replay(t, &r, 2, events...).At("s1"); l.Count != 5 {
		t.Errorf("%d pieces though the taking was undone", l.Count)
	}
	if l := before.At("s1"); l.Count != 3 {
		t.Error("a shelf changed when another was made")
	}
	if _, err := before.Find(" S1 "); err != nil {
		t.Error(err)
	}
	if _, err := before.Find("s2"); err == nil {
		t.Error("found a line that is not there")
	}
	broken := append(events[:1:1], journal.Event{Seq: 2, Kind: shelf.KindUsed, Data: json.RawMessage(`{"count":"two"}`)})
	if _, err := r.Shelf(broken, func(int) bool { return true }); err == nil {
		t.Error("a broken payload was taken")
	}
}

func TestNoPieceIsPickedTwice(t *testing.T) {
	var r shelf.Reader
	s := replay(t, &r, 0,
		event(t, 1, shelf.KindStocked, stocked(3, stock.New, "electrolytic 470 µF 35 V 105 °C")),
		event(t, 2, shelf.KindStocked, stocked(4, stock.OnBoard, "electrolytic 470 µF 35 V 105 °C")),
		event(t, 3, shelf.KindStocked, stocked(1, stock.Pulled, "thermal fuse 157 °C 10 A")))
	two := note.Item{What: "electrolytic 470 µF 25 V 105 °C", Count: 2}
	picks, donors, lacks, err := s.Picks([]note.Item{two, two, {What: "thermal fuse 157 °C 10 A"}})
	if err != nil {
		t.Fatal(err)
	}
	if len(picks) != 2 || picks[0].Count != 2 || picks[1].Count != 1 || picks[1].Line != "s1" || picks[0].Why == "" {
		t.Errorf("picks %+v", picks)
	}
	if len(donors) != 1 || donors[0].Line != "s2" || lacks[0] != 0 || lacks[1] != 1 {
		t.Errorf("from boards %+v, lacks %v", donors, lacks)
	}
	if lacks[2] != 1 {
		t.Error("a safety part that has been in use was picked")
	}
}
