package ledger_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"fettler/internal/ledger"
	"fettler/internal/note"
)

var models = []*note.Model{model("loudspeaker"), model("bread-maker")}

// anyRecord draws a sealed record of one of the models.
func anyRecord(rt *rapid.T, keys []string) ledger.Record {
	d := rapid.IntRange(0, len(models)-1).Draw(rt, "device")
	m := models[d]
	r := ledger.Record{
		Bench:     rapid.SampledFrom([]string{"hall", "shed", "school"}).Draw(rt, "bench"),
		Case:      fmt.Sprint(rapid.IntRange(1, 6).Draw(rt, "case")),
		Revision:  rapid.IntRange(0, 2).Draw(rt, "revision"),
		Withdrawn: rapid.IntRange(0, 9).Draw(rt, "withdrawn") == 0,
		Closed:    day.Add(time.Duration(rapid.IntRange(0, 5000).Draw(rt, "closed")) * time.Hour),
		Sheet:     keys[d],
		Fixed:     rapid.Bool().Draw(rt, "fixed"),
		Unknown:   rapid.Float64Range(0, 0.5).Draw(rt, "unknown"),
		Cost:      ledger.Cost{Currency: "EUR", Money: rapid.Float64Range(0, 50).Draw(rt, "money"), Minutes: rapid.Float64Range(1, 200).Draw(rt, "minutes")},
		Gain:      ledger.Gain{Worth: 40, Kg: 3},
		Looks:     []ledger.Look{{Finding: "dead", Shown: rapid.IntRange(0, 1).Draw(rt, "dead")}, {Finding: "supply.hum", Shown: rapid.IntRange(0, 3).Draw(rt, "hums"), Of: 3}},
	}
	for _, x := range m.Modes {
		p := rapid.Float64Range(0, 1).Draw(rt, x.ID)
		if p > 0.3 {
			r.Because = append(r.Because, ledger.Share{Mode: x.ID, P: p})
		}
	}
	if rapid.Bool().Draw(rt, "repaired") {
		r.Tries = []ledger.Try{{Repair: "supply.recap", Mode: m.Modes[0].ID, There: 0.8, Cleared: rapid.Float64Range(0, 1).Draw(rt, "cleared")}}
	}
	s, err := ledger.Seal(r)
	if err != nil {
		rt.Fatal(err)
	}
	return s
}

func newBook(rt *rapid.T, records []ledger.Record) *ledger.Book {
	b := new(ledger.Book)
	for _, m := range models {
		if _, err := b.AddSheet(ledger.SheetOf(m)); err != nil {
			rt.Fatal(err)
		}
	}
	if err := b.Add(records...); err != nil {
		rt.Fatal(err)
	}
	return b
}

func keysOf() []string {
	var keys []string
	for _, m := range models {
		keys = append(keys, ledger.SheetOf(m).Key())
	}
	return keys
}

func anyRecords(rt *rapid.T, label string, least int) []ledger.Record {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) ledger.Record { return anyRecord(t, keysOf()) }), least, 12).Draw(rt, label)
}

// bytesOf is the content of a book, written out.
func bytesOf(rt *rapid.T, b *ledger.Book) string {
	data, err := json.Marshal([]any{b.Sheets(), b.All()})
	if err != nil {
		rt.Fatal(err)
	}
	return string(data)
}

// taught is everything a book teaches, to the last bit.
func taught(rt *rapid.T, b *ledger.Book) string {
	l, err := b.Refresh(ledger.Settings{})
	if err != nil {
		rt.Fatal(err)
	}
	var s strings.Builder
	for _, m := range models {
		sh := ledger.SheetOf(m)
		fmt.Fprintf(&s, "%x %+v", l.Factors(&sh), l.Changes(m))
		for _, x := range l.Apply(m).Modes {
			fmt.Fprintf(&s, "%x %s", x.Odds, x.Basis)
		}
	}
	return s.String()
}

func merged(rt *rapid.T, books ...*ledger.Book) *ledger.Book {
	out := new(ledger.Book)
	for _, b := range books {
		if err := out.Merge(b); err != nil {
			rt.Fatal(err)
		}
	}
	return out
}

// Union: commutative, associative, idempotent; and what it teaches is the same.
func TestMergeIsUnion(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a, b, c := newBook(rt, anyRecords(rt, "a", 0)), newBook(rt, anyRecords(rt, "b", 0)), newBook(rt, anyRecords(rt, "c", 0))
		want := merged(rt, a, b, c)
		for name, got := range map[string]*ledger.Book{
			"commutative": merged(rt, c, b, a),
			"associative": merged(rt, a, merged(rt, b, c)),
			"idempotent":  merged(rt, a, b, c, b, a, a),
		} {
			if bytesOf(rt, got) != bytesOf(rt, want) {
				rt.Fatalf("merging is not %s", name)
			}
			if taught(rt, got) != taught(rt, want) {
				rt.Fatalf("what is taught is not %s", name)
			}
		}
	})
}

// A case that is taken out leaves no trace; neither does one that is withdrawn,
// as far as what is taught.
func TestRemoveLeavesNoTrace(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		all := anyRecords(rt, "records", 1)
		out := all[rapid.IntRange(0, len(all)-1).Draw(rt, "which")]
		var rest []ledger.Record
		for _, r := range all {
			if r.Bench != out.Bench || r.Case != out.Case {
				rest = append(rest, r)
			}
		}
		want := newBook(rt, rest)
		got := newBook(rt, all)
		taught(rt, got) // so that something has been reckoned before
		if !got.Remove(out.Bench, out.Case) || got.Remove(out.Bench, out.Case) {
			rt.Fatal("Remove does not say whether the case was there")
		}
		if bytesOf(rt, got) != bytesOf(rt, want) || taught(rt, got) != taught(rt, want) {
			rt.Fatal("the case taken out has left a trace")
		}
		gone := out
		gone.Revision, gone.Withdrawn = 9, true
		gone, err := ledger.Seal(gone)
		if err != nil {
			rt.Fatal(err)
		}
		withdrawn := newBook(rt, append(all, gone))
		if taught(rt, withdrawn) != taught(rt, want) {
			rt.Fatal("the case withdrawn still teaches")
		}
	})
}

// Of several revisions the highest counts, in whatever order they come.
func TestRevisions(t *testing.T) {
	b := new(ledger.Book)
	key := sheet(t, b, models[0])
	r := ledger.Record{Bench: "hall", Case: "1", Closed: day, Sheet: key, Because: []ledger.Share{{Mode: "lead.open", P: 1}}}
	second := r
	second.Revision, second.Because = 1, []ledger.Share{{Mode: "supply.switch.short", P: 1}}
	add(t, b, second)
	add(t, b, r)
	if got := b.Counting(); len(got) != 1 || got[0].Revision != 1 || len(b.All()) != 2 {
		t.Errorf("of two revisions %+v counts", got)
	}
}

func TestBadRecords(t *testing.T) {
	b := new(ledger.Book)
	key := sheet(t, b, models[0])
	ok := ledger.Record{Bench: "hall", Case: "1", Closed: day, Sheet: key, Because: []ledger.Share{{Mode: "lead.open", P: 1}}}
	add(t, b, ok)
	for name, spoil := range map[string]func(*ledger.Record){
		"no bench":         func(r *ledger.Record) { r.Bench = "" },
		"no case":          func(r *ledger.Record) { r.Case = "" },
		"no day":           func(r *ledger.Record) { r.Closed = time.Time{} },
		"garbled name":     func(r *ledger.Record) { r.Case = "\xff" },
		"chance over 1":    func(r *ledger.Record) { r.Because[0].P = 1.1 },
		"chance NaN":       func(r *ledger.Record) { r.Because[0].P = math.NaN() },
		"twice":            func(r *ledger.Record) { r.Because = append(r.Because, r.Because[0]) },
		"factor":           func(r *ledger.Record) { r.Because[0].Factor = -1 },
		"no sheet":         func(r *ledger.Record) { r.Sheet = "" },
		"unknown sheet":    func(r *ledger.Record) { r.Sheet = "abc" },
		"unknown fault":    func(r *ledger.Record) { r.Because[0].Mode = "lead.melted" },
		"unknown in a set": func(r *ledger.Record) { r.Sets = []ledger.Set{{Modes: []string{"x"}, P: 1}} },
		"sets over 1": func(r *ledger.Record) {
			r.Sets = []ledger.Set{{Modes: []string{"lead.open"}, P: 0.8}, {Modes: []string{"supply.fuse.open"}, P: 0.8}}
		},
		"empty set":       func(r *ledger.Record) { r.Sets = []ledger.Set{{P: 0.8}} },
		"more than looks": func(r *ledger.Record) { r.Looks = []ledger.Look{{Finding: "dead", Shown: 2}} },
		"money infinite":  func(r *ledger.Record) { r.Cost.Money = math.Inf(1) },
		"range reversed":  func(r *ledger.Record) { r.Cost.MinLow, r.Cost.MinHigh = 5, 4 },
		"stated over 1":   func(r *ledger.Record) { r.Said = []ledger.Saying{{P: 2}} },
	} {
		r := ok
		r.Because = append([]ledger.Share(nil), ok.Because...)
		spoil(&r)
		s, err := ledger.Seal(r)
		if err == nil {
			err = b.Add(s)
		}
		sentence(t, name, err)
	}
	forged := seal(t, ok)
	forged.Cost.Money = 1
	sentence(t, "forged", b.Add(forged))
	if n := len(b.All()); n != 1 {
		t.Errorf("%d records are in the book, want the good one", n)
	}
	_, err := b.Refresh(ledger.Settings{Kind: -1})
	sentence(t, "strength", err)
	_, err = b.AddSheet(ledger.Sheet{Device: "x", Modes: []ledger.SheetMode{{ID: "a", Odds: math.Inf(1)}}})
	sentence(t, "sheet", err)
	_, err = b.AddSheet(ledger.Sheet{Device: "x", Modes: []ledger.SheetMode{{ID: "a", Odds: 1, Causes: []ledger.SheetCause{{Mode: 0, Chance: 1}}}}})
	sentence(t, "caused by itself", err)
}

func sentence(t *testing.T, name string, err error) {
	t.Helper()
	var fe *ledger.FieldError
	switch {
	case !errors.As(err, &fe):
		t.Errorf("%s: error is %v, want a FieldError", name, err)
	case fe.Field == "" || fe.Problem == "" || fe.Allowed == "" || strings.Contains(err.Error(), "NaN"):
		t.Errorf("%s: %q does not tell field, problem and remedy", name, err)
	}
}
