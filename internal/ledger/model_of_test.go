package ledger_test

import (
	"testing"
	"time"

	"fettler/internal/ledger"
	"fettler/internal/note"
)

var day = time.Date(2030, 5, 1, 20, 0, 0, 0, time.UTC)

// model is an invented device: a supply block with a capacitor, a transistor and
// the fuse that the transistor blows; and a lead of the device's own.
func model(id string) *note.Model {
	return &note.Model{
		ID: id, Title: "Invented " + id,
		Units:      []note.Unit{{ID: ""}, {ID: "supply", Block: "bridge-and-reservoir"}},
		Conditions: []note.Condition{{ID: "supply.bus", Unit: 1, States: []string{"good", "rippling", "absent"}}},
		Parts: []note.Part{
			{ID: "supply.reservoir", Unit: 1, Kind: "electrolytic capacitor"},
			{ID: "supply.switch", Unit: 1, Kind: "switch transistor"},
			{ID: "supply.fuse", Unit: 1, Kind: "fuse"},
			{ID: "lead", Unit: 0, Kind: "mains lead"},
		},
		Modes: []note.Mode{
			{ID: "supply.reservoir.dried-out", Name: "dried-out", Title: "reservoir dried out", Part: 0, Odds: 0.1, Basis: "judged", Effects: []note.Effect{{Cond: 0, State: 1}}},
			{ID: "supply.switch.short", Name: "short", Title: "transistor shorted", Part: 1, Odds: 0.08, Basis: "judged", Effects: []note.Effect{{Cond: 0, State: 2}}},
			{ID: "supply.fuse.open", Name: "open", Title: "fuse open", Part: 2, Odds: 0.02, Basis: "judged", Effects: []note.Effect{{Cond: 0, State: 2}},
				Causes: []note.Cause{{Mode: 1, Chance: 0.9}}},
			{ID: "lead.open", Name: "open", Title: "lead broken", Part: 3, Odds: 0.06, Basis: "judged", Effects: []note.Effect{{Cond: 0, State: 2}}},
		},
		Findings: []note.Finding{
			{ID: "supply.hum", Title: "It hums", Kind: note.Sign, Check: -1, Leak: 0.01, Trigger: []note.Trigger{{Mode: -1, Cond: 0, States: 1 << 1, Chance: 0.7}}},
			{ID: "dead", Title: "Nothing happens", Kind: note.Sign, Check: -1, Leak: 0.01, Trigger: []note.Trigger{{Mode: -1, Cond: 0, States: 1 << 2, Chance: 0.95}, {Mode: 0, Chance: 0.05}}},
		},
		Repairs: []note.Repair{
			{ID: "supply.recap", Title: "New reservoir", Unit: 1, Clears: []note.Clear{{Mode: 0, Success: 0.9}}},
			{ID: "supply.new-fuse", Title: "New fuse", Unit: 1, Clears: []note.Clear{{Mode: 2, Success: 0.98}}},
		},
	}
}

func sheet(t testing.TB, b *ledger.Book, m *note.Model) string {
	t.Helper()
	key, err := b.AddSheet(ledger.SheetOf(m))
	if err != nil {
		t.Fatal(err)
	}
	return key
}

func seal(t testing.TB, r ledger.Record) ledger.Record {
	t.Helper()
	r, err := ledger.Seal(r)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func add(t testing.TB, b *ledger.Book, r ledger.Record) {
	t.Helper()
	if err := b.Add(seal(t, r)); err != nil {
		t.Fatal(err)
	}
}
