package ledger_test

import (
	"fmt"
	"math"
	"testing"

	"fettler/internal/ledger"
	"fettler/internal/note"
)

func threeModes(t *testing.T) (*ledger.Book, ledger.Sheet, string) {
	t.Helper()
	b := new(ledger.Book)
	s := ledger.Sheet{Device: "d"}
	for _, id := range []string{"a", "b", "c"} {
		s.Modes = append(s.Modes, ledger.SheetMode{ID: id, Block: "bl", Local: id, Kind: "k", Name: id, Odds: 1e-6})
	}
	key, err := b.AddSheet(s)
	if err != nil {
		t.Fatal(err)
	}
	return b, s, key
}

// Two faults that came together count as two that came apart: the counts are independent
// Poisson (doc.go, n_i ~ Poisson), so mean and certainty of every factor are the same.
func TestTogetherCountsAsApart(t *testing.T) {
	together, s, key := threeModes(t)
	apart, _, _ := threeModes(t)
	certain := func(b *ledger.Book, n int, modes ...string) {
		for i := range n {
			add(t, b, ledger.Record{Bench: "hall", Case: fmt.Sprint(modes, i), Closed: day, Sheet: key, Sets: []ledger.Set{{Modes: modes, P: 1}}})
		}
	}
	certain(together, 20, "a", "b")
	certain(apart, 20, "a")
	certain(apart, 20, "b")
	certain(together, 10, "c")
	certain(apart, 10, "c")
	one, other := refresh(t, together).Factors(&s), refresh(t, apart).Factors(&s)
	for i := range one {
		near(t, s.Modes[i].ID+": mean", one[i].Mean, other[i].Mean, 1e-4)
		near(t, s.Modes[i].ID+": shape", one[i].Shape/other[i].Shape, 1, 1e-3)
	}
}

// What the shares of a case do not come to is nobody's: it counts for no fault.
func TestWhatIsNotExplainedCountsForNone(t *testing.T) {
	b, s, key := threeModes(t)
	cases(t, b, key, "hall", 10, ledger.Share{Mode: "a", P: 0.5}, ledger.Share{Mode: "c", P: 0.1})
	f := refresh(t, b).Factors(&s)
	weight := 0.0
	for _, x := range f {
		weight += x.Here.Weight
	}
	near(t, "weight of all", weight, 6, 1e-9)
	if f[0].Here.Weight < 4.9 || math.Abs(f[1].Here.Weight) > 1e-9 {
		t.Errorf("weights %v, %v, %v", f[0].Here.Weight, f[1].Here.Weight, f[2].Here.Weight)
	}
}

// A sign that shows is put down to a trigger as far as that was the cause, one step of
// expectation-maximisation: chance 0.6 beside a leak of 0.3 shows it with 1 − 0.4·0.7 = 0.72, so 0.6/0.72
// of each time is the trigger's. Twelve times of twelve are ten of twelve; on the note's ten looks at
// 0.6, weakened to 1/(1/10 + 1/20) by the spread between block and device, that is Beta(4+10, 8/3+2).
func TestALeakTakesItsShare(t *testing.T) {
	m := &note.Model{ID: "leaky", Category: "Misc", Units: []note.Unit{{Title: "all"}}, Parts: []note.Part{{ID: "p", Kind: "k"}},
		Modes:    []note.Mode{{ID: "p.open", Odds: 0.1}},
		Findings: []note.Finding{{ID: "hum", Kind: note.Sign, Check: -1, Leak: 0.3, Trigger: []note.Trigger{{Mode: 0, Chance: 0.6}}}}}
	b := new(ledger.Book)
	key := sheet(t, b, m)
	for i := range 12 {
		add(t, b, ledger.Record{Bench: "hall", Case: fmt.Sprint(i), Closed: day, Sheet: key, Because: []ledger.Share{{Mode: "p.open", P: 1}}, Looks: []ledger.Look{{Finding: "hum", Shown: 1}}})
	}
	near(t, "chance", refresh(t, b).Apply(m).Findings[0].Trigger[0].Chance, 14/(14+8.0/3+2), 1e-9)
}

// Many looks are told in whole ones, without a power of ten.
func TestManyLooksInWords(t *testing.T) {
	for looks, want := range map[float64]string{3: "from 3 here", 12.34: "from 12.3 here", 99.97: "from 100 here", 1234.5: "from 1234 here", 20000: "from 20000 here"} {
		c := ledger.Change{Kind: ledger.TriggerChange, Chance: ledger.Chance{Looks: looks, Others: 1500}, From: 0.5, To: 0.25}
		if got := c.Words(); got != want+" and 1500 elsewhere: 25 % instead of 50 %" {
			t.Errorf("%g looks: %q", looks, got)
		}
	}
}
