package casework_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/belief"
	"fettler/internal/casework"
)

// A whole repair: what each step costs is the note's figures added up by hand
// (testdata/notes), what each step makes one believe is package belief's answer
// to the same evidence put together by hand.
func TestRepair(t *testing.T) {
	b, j := newBench(t)
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker", Label: "hall, left", Age: 12, By: casework.By{Who: "Ada"}})).Case

	never := false
	ok[casework.Receipt](t)(b.Settle(ctx, id, casework.Settling{Settled: casework.Settled{NoLive: &never}}))
	h := ok[casework.Heard](t)(b.Say(ctx, id, casework.Saying{Text: "It hums all the time. No burning smell. The mayor gave it to us."}))
	var read []string
	for _, r := range h.Read {
		read = append(read, r.Finding, map[bool]string{true: "no", false: "yes"}[r.Denied])
	}
	if diff := cmp.Diff([]string{"hums", "yes", "smell", "no"}, read); diff != "" {
		t.Errorf("what was said was read as (-want +got):\n%s", diff)
	}
	ok[casework.Receipt](t)(b.Notice(ctx, id, casework.Noticing{Answers: no("dead")}))

	// open: 6 min; two minutes of looking
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.look", Answers: yes("supply.look.bulged")}))
	v := view(t, b, id)
	if v.Header.Minutes != 8 || v.Header.Access.ID != "open" {
		t.Errorf("after looking inside: %g minutes at %q, want 8 at open", v.Header.Minutes, v.Header.Access.ID)
	}
	// out: 9 min more; 5 min of measuring
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", "WORN")}))
	// 25 min, two capacitors of 3.20 EUR
	recap := ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"})).Seq
	v = view(t, b, id)
	if got := [3]float64{v.Header.Minutes, v.Header.Money, float64(v.Header.Epoch)}; got != [3]float64{8 + 14 + 25, 6.40, 1} {
		t.Errorf("after the repair: minutes, money, epoch = %v, want 47, 6.40, 1", got)
	}
	if v.Header.State != casework.ToTest {
		t.Errorf("state %q, want %q", v.Header.State, casework.ToTest)
	}
	// the old capacitors, tested on the bench: no opening, 5 min
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", "worn"), Before: recap, Minutes: num(2)}))
	// closing out (10), trying 3: with the back off it can be tried, since a live check is made there
	ok[casework.Receipt](t)(b.RecordTest(ctx, id, casework.Testing{Works: true}))
	v = view(t, b, id)
	if got := [2]float64{v.Header.Minutes, v.Header.Money}; got != [2]float64{47 + 2 + 13, 6.40} || v.Header.Access.ID != "open" {
		t.Errorf("after the test: minutes, money = %v at %q, want 62, 6.40 at open", got, v.Header.Access.ID)
	}

	m, _ := notes(t).Model("test-loudspeaker")
	at := map[string]int{}
	for i, f := range m.Findings {
		at[f.ID] = i
	}
	recapIndex := -1
	for i, r := range m.Repairs {
		if r.ID == "supply.recap" {
			recapIndex = i
		}
	}
	ev := belief.Evidence{Acts: []belief.Act{{Repair: recapIndex}}, Seen: []belief.Observation{
		{Finding: at["hums"], Value: 1}, {Finding: at["smell"]}, {Finding: at["dead"]},
		{Finding: at["supply.look.bulged"], Value: 1}, {Finding: at["supply.esr.esr"], Value: 1}, {Finding: at["supply.esr.esr"], Value: 1},
		{Finding: at["dead"], Epoch: 1}, {Finding: at["hums"], Epoch: 1}, {Finding: at["smell"], Epoch: 1}, // it works: nothing shows that would show whenever it is on
	}}
	if diff := cmp.Diff(ev, project(t, j, id).Evidence); diff != "" {
		t.Errorf("evidence (-want +got):\n%s", diff)
	}
	e := ok[*belief.Engine](t)(belief.New(m, belief.Options{}))
	want := ok[*belief.Belief](t)(e.Posterior(ctx, ev))

	ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.Fixed}))
	v = view(t, b, id)
	if v.Outcome == nil || v.Outcome.Kg != 7.5 || v.Outcome.Verdict != casework.Fixed || v.Next != nil || v.Header.State != casework.Done {
		t.Fatalf("closed as %+v, next %v", v.Outcome, v.Next)
	}
	if v.Header.Minutes != 62+5 || v.Header.Access.ID != "outside" {
		t.Errorf("closed after %g minutes at %q, want 67 at outside", v.Header.Minutes, v.Header.Access.ID)
	}
	if math.Abs(v.Outcome.Unknown-want.Unknown) > 1e-9 {
		t.Errorf("unknown %g, want %g", v.Outcome.Unknown, want.Unknown)
	}
	for _, x := range v.Outcome.Because {
		for i, mode := range m.Modes {
			if mode.ID == x.Mode && math.Abs(x.Now-want.First[i]) > 1e-9 {
				t.Errorf("%s: %g, want %g", x.Mode, x.Now, want.First[i])
			}
		}
	}
	if x := v.Outcome.Because[0]; x.Mode != "supply.reservoir.dried-out" || x.Now < 0.9 {
		t.Errorf("it is put down to %s (%g)", x.Mode, x.Now)
	}

	if _, err := b.Notice(ctx, id, casework.Noticing{Answers: yes("hums")}); casework.CodeOf(err) != casework.Closed {
		t.Errorf("a closed case takes a symptom: %v", err)
	}
	ok[casework.Receipt](t)(b.Reopen(ctx, id, casework.Reopening{Why: "hums again"}))
	if v = view(t, b, id); v.Header.State != casework.OnBench || v.Outcome != nil {
		t.Errorf("reopened: %q, %+v", v.Header.State, v.Outcome)
	}
}

// Parts bought beforehand are paid once and wait for their repair.
func TestOrder(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	order := ok[casework.Receipt](t)(b.Order(ctx, id, casework.Ordering{Repairs: []string{"supply.recap"}, What: "two capacitors", Money: 9, Days: 3})).Seq
	v := view(t, b, id)
	if v.Header.State != casework.Waiting || len(v.Orders) != 1 || v.Orders[0].Event != order || v.Header.Money != 9 {
		t.Fatalf("after ordering: %q, %+v", v.Header.State, v.Orders)
	}
	ok[casework.Receipt](t)(b.Arrive(ctx, id, casework.Arriving{}))
	v = view(t, b, id)
	for _, r := range v.Repairs {
		if want := r.ID == "supply.recap"; r.AtHand != want || want && (r.Money != 0 || r.Days != 0) {
			t.Errorf("%s at hand: %v for %g", r.ID, r.AtHand, r.Money)
		}
	}
	ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"}))
	if v = view(t, b, id); v.Header.Money != 9 {
		t.Errorf("the parts were paid twice: %g", v.Header.Money)
	}
	ok[casework.Receipt](t)(b.Order(ctx, id, casework.Ordering{What: "fuse from the drawer", Repairs: []string{"supply.new-fuse"}, Here: true}))
	if v = view(t, b, id); len(v.Orders) != 0 {
		t.Errorf("what is here is outstanding: %+v", v.Orders)
	}
}

// Settings of the bench hold for all cases, those of a case for it alone, and
// the note's and owner's worth stand where nothing else is said.
func TestSettings(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b)
	other := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker", Worth: num(120)})).Case
	if s := view(t, b, id).Settings; s.Worth != 70 || s.Scrap != 5 || s.Currency != "EUR" {
		t.Errorf("from the note: %+v", s)
	}
	lacks := []string{"ESR meter"}
	ok[casework.Receipt](t)(b.Settle(ctx, casework.BenchCase, casework.Settling{Settled: casework.Settled{Rate: num(12), Lacks: &lacks}}))
	ok[casework.Receipt](t)(b.Settle(ctx, id, casework.Settling{Settled: casework.Settled{Rate: num(0), Budget: num(20)}}))
	s, o := view(t, b, id).Settings, view(t, b, other).Settings
	if s.Rate != 0 || s.Budget != 20 || len(s.Lacks) != 1 || o.Rate != 12 || o.Budget != 0 || o.Worth != 120 {
		t.Errorf("case %+v, other %+v", s, o)
	}
	v := view(t, b, other)
	blocked := ""
	for _, c := range v.Ranking {
		if c.ID == "supply.esr" {
			blocked = c.Blocked
		}
	}
	if blocked == "" {
		t.Error("a check is offered whose instrument is not there")
	}
	if bs := ok[casework.Settings](t)(b.BenchSettings(ctx)); bs.Rate != 12 {
		t.Errorf("bench settings %+v", bs)
	}
	ok[casework.Receipt](t)(b.Undo(ctx, casework.BenchCase, 1, casework.By{}))
	if s := view(t, b, other).Settings; s.Rate != casework.UsualRate {
		t.Errorf("after undoing the bench's setting the rate is %g", s.Rate)
	}
}
