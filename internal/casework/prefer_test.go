package casework_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"fettler/internal/belief"
	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/store/memory"
)

// stated is an adviser that gives the same advice whatever it is asked.
type stated struct{ a *plan.Advice }

func (s stated) Advise(context.Context, *belief.Belief, plan.Situation) (*plan.Advice, error) {
	return s.a, nil
}

// advised is a case on a bench whose planner says a.
func advised(t *testing.T, a *plan.Advice, then ...casework.Deed) *casework.View {
	t.Helper()
	b := casework.New(memory.New(), notes(t), casework.Options{Advisers: func(*belief.Engine, plan.Settings) (casework.Adviser, error) { return stated{a}, nil }})
	rate, worth := 6.0, 50.0
	ok[casework.Receipt](t)(b.Settle(ctx, casework.BenchCase, casework.Settling{Settled: casework.Settled{Rate: &rate}}))
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker", Worth: &worth}, then...)).Case
	return view(t, b, id)
}

func ranking(list ...plan.Ranked) *plan.Advice {
	for i := range list {
		list[i].Behind = list[i].Total - list[0].Total
	}
	return &plan.Advice{Best: list[0], Ranking: list, Depth: 1}
}

// Of moves that come to nearly the same the careful one goes first. Nearly the same is five
// minutes of own time or, for a trial, two hundredths of the worth: 1 EUR here.
func TestTheCarefulMoveFirst(t *testing.T) {
	m, _ := notes(t).Model("test-loudspeaker")
	check := func(id string) plan.Move {
		return plan.Move{Kind: plan.Check, Index: slices.IndexFunc(m.Checks, func(c note.Check) bool { return c.ID == id })}
	}
	repair := func(id string) plan.Move {
		return plan.Move{Kind: plan.Repair, Index: slices.IndexFunc(m.Repairs, func(r note.Repair) bool { return r.ID == id })}
	}
	live, dull := check("supply.rails"), check("supply.look")
	recap := repair("supply.recap")
	trial := plan.Move{Kind: plan.Test, Index: -1}
	stop := plan.Ranked{Move: plan.Move{Kind: plan.Stop, Index: -1}, Total: 40}
	leads := func(next ...plan.Move) []plan.Result {
		var out []plan.Result
		for _, n := range next {
			out = append(out, plan.Result{P: 1 / float64(len(next)), Next: n})
		}
		return out
	}
	goes := func(p float64) []plan.Result {
		return []plan.Result{{P: p, Works: true, Next: stop.Move}, {P: 1 - p, Next: live}}
	}
	mended := casework.Repairing{Repair: "supply.recap"}
	for _, c := range []struct {
		name   string
		advice *plan.Advice
		then   []casework.Deed
		want   plan.Move
		why    string
	}{
		{"a look that changes nothing", ranking(plan.Ranked{Move: dull, Total: 10, Results: leads(recap, recap)}, plan.Ranked{Move: recap, Total: 10.3}, stop), nil, recap, "whatever that shows"},
		{"a look that may change it", ranking(plan.Ranked{Move: dull, Total: 10, Results: leads(recap, trial)}, plan.Ranked{Move: recap, Total: 10.3}, stop), nil, dull, ""},
		{"a repair that has likely done it", ranking(plan.Ranked{Move: dull, Total: 10, Results: leads(trial, live)}, plan.Ranked{Move: trial, Total: 10.9, Results: goes(0.6)}, stop), []casework.Deed{mended}, trial, "cured it"},
		{"a repair that has likely not", ranking(plan.Ranked{Move: dull, Total: 10, Results: leads(trial, live)}, plan.Ranked{Move: trial, Total: 10.9, Results: goes(0.4)}, stop), []casework.Deed{mended}, dull, ""},
		{"nothing but trying again", ranking(plan.Ranked{Move: trial, Total: 10, Results: leads(dull, dull)}, plan.Ranked{Move: dull, Total: 10.2, Results: leads(recap, live)}, stop), nil, dull, "whatever that shows"},
	} {
		v := advised(t, c.advice, c.then...)
		want := ""
		switch c.want.Kind {
		case plan.Check:
			want = m.Checks[c.want.Index].ID
		case plan.Repair:
			want = m.Repairs[c.want.Index].ID
		}
		if v.Next.ID != want || v.Next.Kind != c.want.Kind.String() || v.Next.Behind != 0 {
			t.Errorf("%s: next is %s %q, %g behind, want %s %q", c.name, v.Next.Kind, v.Next.ID, v.Next.Behind, c.want.Kind, want)
		}
		if !strings.Contains(v.Next.Why, c.why) {
			t.Errorf("%s: why: %s", c.name, v.Next.Why)
		}
		for _, x := range v.Ranking {
			if x.Behind < 0 {
				t.Errorf("%s: %q is %g behind", c.name, x.Title, x.Behind)
			}
		}
	}
}

// Until somebody has said that the bench works live, nothing inside is done with the
// power on; trying the whole, closed, is. One word opens it.
func TestLiveIsShutUntilSaid(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	blocked := func() (live, shut int) {
		v := view(t, b, id)
		if v.Next.Live && v.Next.Blocked != "" {
			t.Errorf("next is %q, which is blocked: %s", v.Next.Title, v.Next.Blocked)
		}
		for _, c := range v.Ranking {
			if c.Kind == "test" && c.Blocked != "" {
				t.Errorf("trying the whole is blocked: %s", c.Blocked)
			}
			if c.Live && c.Access.ID != "outside" {
				live++
				if c.Blocked != "" {
					shut++
				}
			}
		}
		return live, shut
	}
	if live, shut := blocked(); live == 0 || shut != live {
		t.Errorf("nothing said: %d of %d live moves are blocked", shut, live)
	}
	never := false
	ok[casework.Receipt](t)(b.Settle(ctx, casework.BenchCase, casework.Settling{Settled: casework.Settled{NoLive: &never}}))
	if live, shut := blocked(); live == 0 || shut != 0 {
		t.Errorf("trained and equipped: %d of %d live moves are blocked", shut, live)
	}
}
