package casework_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/casework"
)

// What was not looked at, what was looked for and not there, and what a later
// look replaced are told apart; each can be undone by its event.
func TestKnown(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: answers("hums", "yes", "dead", "no")}, casework.Noticing{Answers: answers("crackles", "3 of 10")},
		casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "33 V")}, casework.Noticing{Answers: no("hums")})
	v := view(t, b, id)
	got := map[string]bool{}
	for _, o := range v.Known {
		if o.Event == 0 || o.From == "" {
			t.Errorf("%+v comes from nowhere", o)
		}
		got[o.Words] = o.Denied
		if want := o.Finding == "hums" && !o.Denied; o.Earlier != want {
			t.Errorf("%s: replaced %v, want %v", o.Words, o.Earlier, want)
		}
	}
	for words, denied := range map[string]bool{"hums": false, "completely dead: no": true, "crackles, 3 of 10 times": false, "volts on the worse rail: 33 V": false, "hums: no": true} {
		if d, ok := got[words]; !ok || d != denied {
			t.Errorf("%q is not known as denied %v; known: %v", words, denied, got)
		}
	}
	for _, f := range v.Symptoms {
		if want := map[string]string{"hums": "no", "dead": "no", "crackles": "3 of 10 times", "smell": ""}[f.Finding]; f.Now != want {
			t.Errorf("%s is now %q, want %q", f.Finding, f.Now, want)
		}
	}
	for _, q := range v.Ask {
		if q.Finding != "smell" {
			t.Errorf("%s is asked again", q.Finding)
		}
	}
}

// Suspects carry package belief's chances for the same evidence, before and
// after the latest event that changed it; remarks change nothing.
func TestSuspects(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	first := view(t, b, id)
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", "as marked")}))
	ok[casework.Receipt](t)(b.Remark(ctx, id, casework.Remarking{Text: "odd"}))
	v := view(t, b, id)
	m, _ := notes(t).Model("test-loudspeaker")
	e := ok[*belief.Engine](t)(belief.New(m, belief.Options{}))
	want := ok[*belief.Belief](t)(e.Posterior(ctx, project(t, j, id).Evidence))
	at := map[string]int{}
	for i, x := range m.Modes {
		at[x.ID] = i
	}
	old := map[string]float64{}
	for _, s := range first.Suspects {
		old[s.Mode] = s.Now
	}
	for i, s := range v.Suspects {
		if math.Abs(s.Now-want.Now[at[s.Mode]]) > 1e-9 || math.Abs(s.Arrival-want.First[at[s.Mode]]) > 1e-9 {
			t.Errorf("%s: %g, want %g", s.Mode, s.Now, want.Now[at[s.Mode]])
		}
		if o, ok := old[s.Mode]; ok && math.Abs(s.Before-o) > 1e-9 {
			t.Errorf("%s was %g before, not %g", s.Mode, o, s.Before)
		}
		if i > 0 && s.Now > v.Suspects[i-1].Now {
			t.Errorf("%s is out of order", s.Mode)
		}
		if s.Title == "" || s.Class == "" || s.Part == "" || len(s.Repairs) == 0 || len(s.Checks) == 0 {
			t.Errorf("%+v lacks something", s)
		}
	}
	if v.Changed == nil || v.Changed.Event != 3 {
		t.Errorf("the latest change is %+v, want event 3", v.Changed)
	}
	for _, s := range first.Suspects {
		if s.Mode == "supply.reservoir.dried-out" {
			if len(s.Reasons) != 1 || s.Reasons[0].Event != 2 || s.Reasons[0].Factor < 2 || !strings.Contains(s.Reasons[0].Words, "likelier") {
				t.Errorf("reasons %+v", s.Reasons)
			}
		}
	}
	titles := map[string]string{}
	for _, c := range v.Checks {
		if other, twice := titles[c.Title]; twice {
			t.Errorf("%s and %s are both called %q", c.ID, other, c.Title)
		}
		titles[c.Title] = c.ID
	}
}

// The worth of a question is the expected drop in entropy over the candidates,
// worked out here the long way round, by a posterior per answer; C. E. Shannon, A
// mathematical theory of communication, 1948, §12: H(x) - H_y(x).
func TestQuestions(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: no("dead")})
	v := view(t, b, id)
	m, _ := notes(t).Model("test-loudspeaker")
	e := ok[*belief.Engine](t)(belief.New(m, belief.Options{Epsilon: 1e-12, Candidates: 5000}))
	ev := project(t, j, id).Evidence
	now := ok[*belief.Belief](t)(e.Posterior(ctx, ev))
	if len(v.Ask) != 2 { // what is not dead as good as never smells burnt (TestWhatIsAnsweredIsNotAsked)
		t.Fatalf("%d questions, want 2: %+v", len(v.Ask), v.Ask)
	}
	for i, q := range v.Ask {
		f := -1
		for k := range m.Findings {
			if m.Findings[k].ID == q.Finding {
				f = k
			}
		}
		want := entropy(now)
		for value, p := range []float64{1 - q.Yes, q.Yes} {
			after := ok[*belief.Belief](t)(e.Posterior(ctx, ev.With(belief.Observation{Finding: f, Value: value})))
			want -= p * entropy(after)
		}
		if math.Abs(q.Bits-want) > 2e-3 {
			t.Errorf("%s: %.5f bits, the long way %.5f", q.Finding, q.Bits, want)
		}
		if i > 0 && q.Bits > v.Ask[i-1].Bits {
			t.Errorf("%s is out of order", q.Finding)
		}
	}
}

func entropy(b *belief.Belief) float64 {
	h := 0.0
	for _, c := range b.Candidates {
		if c.P > 0 {
			h -= c.P * math.Log2(c.P)
		}
	}
	return h
}

// The next step is laid out: what to open, what can hurt, what may come of it.
func TestNext(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Settling{Settled: casework.Settled{Rate: num(10)}}, casework.Noticing{Answers: answers("hums", "yes", "dead", "no")})
	v := view(t, b, id)
	if v.Next == nil || v.RunnerUp == nil || v.Outlook == nil || v.Next.Why == "" || v.Outlook.StopAt == "" {
		t.Fatalf("next %+v, runner-up %v, outlook %v", v.Next, v.RunnerUp, v.Outlook)
	}
	if v.RunnerUp.Behind < 0 || v.Ranking[0].Title != v.Next.Title {
		t.Errorf("the ranking does not begin with the next step")
	}
	stop := false
	for _, c := range v.Ranking {
		stop = stop || c.Kind == "stop"
		sum := 0.0
		for _, r := range c.Results {
			sum += r.P
			if r.Words == "" || r.Then == "" {
				t.Errorf("%s: result %+v says nothing", c.Title, r)
			}
		}
		if len(c.Results) > 0 && math.Abs(sum-1) > 1e-6 {
			t.Errorf("%s: the chances of its results add up to %g", c.Title, sum)
		}
		if c.Why == "" || c.Title == "" {
			t.Errorf("%+v says nothing", c)
		}
		if c.Access.ID != "outside" && c.Kind != "stop" {
			if len(c.First) == 0 || c.First[0].How == "" {
				t.Errorf("%s does not say how to get there", c.Title)
			}
			kinds := map[string]bool{}
			for _, h := range append(slices.Clone(c.Cautions), c.Around...) {
				kinds[h.Kind] = h.Text != ""
			}
			if !kinds["mains"] || !kinds["stored charge"] {
				t.Errorf("%s is done inside without the cautions for mains and stored charge: %+v", c.Title, c.Cautions)
			}
		}
	}
	if !stop {
		t.Error("leaving off is not in the ranking")
	}
}

// A fuse is not to be replaced while what blew it is likely still there.
func TestWarning(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: answers("dead", "yes", "smell", "yes")})
	v := view(t, b, id)
	found := false
	for _, w := range v.Warnings {
		if w.Repair == "supply.new-fuse" {
			found = true
			if !strings.Contains(w.Text, "again") || w.P < 0.25 {
				t.Errorf("%+v", w)
			}
		}
		if w.Repair == "supply.new-bridge" {
			t.Errorf("the cause itself is warned of: %+v", w)
		}
	}
	if !found {
		t.Errorf("no warning of the new fuse; %+v", v.Warnings)
	}
	if !slices.ContainsFunc(v.Pressing(), func(w casework.Warning) bool { return w.Repair == "supply.new-fuse" }) {
		t.Errorf("the fuse is likely blown, and nobody is warned before asking; %+v", v.Pressing())
	}
	if v = view(t, b, loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})); len(v.Pressing()) > 0 {
		t.Errorf("it hums, and is warned of %+v", v.Pressing())
	}
}

// Evidence that nothing known explains is said to be strained, with the pair.
func TestStrain(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("dead")})
	if v := view(t, b, id); v.Strain != nil {
		t.Errorf("strained by one symptom: %+v", v.Strain)
	}
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "36 V")}))
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "supply.bridge", Answers: answers("supply.bridge.bridge", "all good")}))
	v := view(t, b, id)
	if v.Strain == nil || len(v.Strain.Pair) != 2 {
		t.Fatalf("dead with all rails up is not strained: %+v, unknown %+v", v.Strain, v.Unknown)
	}
	got := v.Strain.Pair[0].Finding + " " + v.Strain.Pair[1].Finding
	if got != "dead supply.rails.volts" || !strings.Contains(v.Strain.Text, "completely dead") {
		t.Errorf("the pair is %s: %s", got, v.Strain.Text)
	}
}

// What a view holds can be written as JSON: no figure in it is infinite or none.
func TestViewIsJSON(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "overload")},
		casework.Repairing{Repair: "supply.recap"}, casework.Noticing{Answers: no("hums"), Before: 3})
	v := view(t, b, id)
	if _, err := json.Marshal(v); err != nil {
		t.Error(err)
	}
	if v.Header.State != casework.ToTest || len(v.Ask) != 0 {
		t.Errorf("a repair waits to be tried: state %q, %d questions", v.Header.State, len(v.Ask))
	}
}

// A view is the same whether it was made afresh or grown event by event.
func TestViewKept(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b)
	for _, d := range []casework.Deed{
		casework.Noticing{Answers: yes("hums")}, casework.Remarking{Text: "x"}, casework.Checking{Check: "supply.look", Answers: no("supply.look.bulged")},
		casework.Settling{Settled: casework.Settled{Rate: num(7)}}, casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true},
		casework.Closing{Verdict: casework.Fixed}, casework.Reopening{},
	} {
		if err := record(b, id, d); err != nil {
			t.Fatal(err)
		}
		kept, _ := json.Marshal(view(t, b, id))
		fresh, _ := json.Marshal(view(t, casework.New(j, notes(t), casework.Options{}), id))
		if string(kept) != string(fresh) {
			t.Errorf("after %T the kept view differs:\n%s\n%s", d, kept, fresh)
		}
	}
}

// The plan laid out in advance begins with the advice, its ends add up to one,
// and what it promises lies within what its ends take.
func TestRehearse(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Settling{Settled: casework.Settled{Rate: num(10)}}, casework.Noticing{Answers: answers("hums", "yes", "dead", "no")})
	v := view(t, b, id)
	r := ok[*casework.Rehearsed](t)(b.Rehearse(ctx, id, 0))
	if r.First == nil || r.First.Title != v.Next.Title || r.Ways == 0 {
		t.Fatalf("the plan begins with %+v, the advice is %q", r.First, v.Next.Title)
	}
	if r.Success <= 0 || r.Success > 1 || r.Money.Low > r.Money.Mid || r.Money.Mid > r.Money.High || r.Minutes.Low > r.Minutes.High {
		t.Errorf("%+v", r)
	}
	var walk func(s *casework.Stage)
	walk = func(s *casework.Stage) {
		sum := 0.0
		for _, w := range s.Ways {
			sum += w.P
			if w.Next != nil {
				walk(w.Next)
			}
		}
		if len(s.Ways) > 0 && math.Abs(sum-1) > 1e-6 {
			t.Errorf("%s: results add up to %g", s.Title, sum)
		}
	}
	walk(r.First)
	ok[casework.Receipt](t)(b.Close(ctx, id, casework.Closing{Verdict: casework.PassedOn}))
	if _, err := b.Rehearse(ctx, id, 0); casework.CodeOf(err) != casework.Closed {
		t.Errorf("rehearsing a closed case: %v", err)
	}
}
