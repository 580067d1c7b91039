package casework_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/store/memory"
)

// An invented oven that only trained hands may open, with one thing to look at
// outside and two inside. That a microwave oven is left shut by anybody not
// trained on it: common practice of the trade, the usual caution of package note.
const oven = `device: test-oven
title: Invented microwave oven
category: Large home electrical
worth: 40 EUR
hazards: ["high voltage 2000 V: Its capacitor kills hours after unplugging", microwave, mains]
access:
  open: {title: case off, takes: 10 min, back: 12 min, how: Six screws.}
  deep: {title: board out, behind: open, takes: 5 min, back: 5 min, how: Two clips.}
parts:
  fuse: {title: fuse inside, kind: fuse, modes: {open: {}}}
  plug: {title: plug, kind: fuse, modes: {open: {title: plug's fuse blown}}}
symptoms:
  dead: {title: dead, says: [dead], shows: {fuse open: nearly always, plug open: nearly always}}
checks:
  plug: {title: Measure the plug's fuse, with: [multimeter], takes: 2 min, finds: {blown: {title: plug's fuse blown, shows: {plug open: nearly always}}}}
  inside: {title: Measure the fuse inside, with: [multimeter], takes: 2 min, at: deep, hazards: [mains 400 V], finds: {blown: {title: fuse inside blown, shows: {fuse open: nearly always}}}}
  live: {title: Measure its supply, with: [multimeter], takes: 2 min, at: open, live: true, finds: {gone: {title: supply gone, shows: {fuse open: usually}}}}
repairs:
  plug: {title: Replace the plug's fuse, clears: {plug: all}, takes: 2 min, buys: [{what: fuse, price: 0.50 EUR}]}
  inside: {title: Replace the fuse inside, clears: {fuse: all}, takes: 5 min, at: open, buys: [{what: fuse, price: 1 EUR}]}
`

const ovenKinds = "kinds:\n  fuse: {class: fuse, rate: 0.2, modes: {open: 1}}\n"

func ovenBench(t *testing.T) *casework.Bench {
	t.Helper()
	lib := ok[*note.Library](t)(note.Load(ctx, fstest.MapFS{"oven.yaml": {Data: []byte(oven)}, "kinds.yaml": {Data: []byte(ovenKinds)}}))
	return casework.New(memory.New(), lib, casework.Options{Now: clock()})
}

// What only trained hands may open stays shut, and leaving off says so.
func TestSealed(t *testing.T) {
	b := ovenBench(t)
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-oven"}, casework.Noticing{Answers: yes("dead")})).Case
	v := view(t, b, id)
	if !v.Limits.Sealed || v.Limits.Trained || v.Limits.Live != casework.LiveNotSaid {
		t.Errorf("limits %+v", v.Limits)
	}
	for _, c := range v.Ranking {
		inside := c.Kind != "stop" && c.Kind != "test" && c.Access.ID != "outside"
		if inside != strings.Contains(c.Blocked, "trained") {
			t.Errorf("%s (%s): blocked %q", c.Title, c.Access.ID, c.Blocked)
		}
		if c.Kind == "stop" && (!strings.Contains(c.Why, "trained hands") || len(c.Cautions) != 3 || !strings.Contains(c.Cautions[0].Text, "kills hours after") || c.Cautions[0].Volts != 2000) {
			t.Errorf("leaving off says %q, with %+v", c.Why, c.Cautions)
		}
	}
	trained, never := true, false
	ok[casework.Receipt](t)(b.Settle(ctx, id, casework.Settling{Settled: casework.Settled{Trained: &trained, NoLive: &never}}))
	for _, c := range view(t, b, id).Ranking {
		if c.Blocked != "" {
			t.Errorf("for trained hands %s is blocked: %s", c.Title, c.Blocked)
		}
	}
}

// Each caution once: a step's own, with the device's words and the larger figures, before
// the device's others; and what is live inside has all that is under voltage as its own.
func TestCautionsOnce(t *testing.T) {
	b := ovenBench(t)
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-oven"}, casework.Noticing{Answers: yes("dead")})).Case
	kinds := func(cs []casework.Caution) string {
		var out []string
		for _, c := range cs {
			out = append(out, c.Kind)
		}
		return strings.Join(out, ", ")
	}
	want := map[string][2]string{"plug": {"", ""}, "inside": {"mains", "high voltage, microwave"}, "live": {"high voltage, microwave, mains", ""}}
	for _, c := range view(t, b, id).Checks {
		if got := [2]string{kinds(c.Cautions), kinds(c.Around)}; got != want[c.ID] {
			t.Errorf("%s: own and around %q, want %q", c.ID, got, want[c.ID])
		}
		if c.Been {
			t.Errorf("%s: nobody has been there", c.ID)
		}
		for _, x := range append(c.Cautions, c.Around...) {
			if x.Kind == "mains" && c.ID == "inside" && x.Volts != 400 {
				t.Errorf("the larger figure is lost: %+v", x)
			}
			if x.Kind == "high voltage" && !strings.HasPrefix(x.Text, "Its capacitor kills hours after unplugging. ") {
				t.Errorf("texts run together: %q", x.Text)
			}
		}
	}
	ok[casework.Receipt](t)(b.RecordCheck(ctx, id, casework.Checking{Check: "inside", Answers: no("inside.blown")}))
	for _, c := range view(t, b, id).Checks {
		if c.Been != (c.ID == "inside") {
			t.Errorf("%s: been there %v", c.ID, c.Been)
		}
	}
}

// Wordings at the check: what is looked for in vain is said as one would, titles once.
func TestWordsOfResults(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")},
		casework.Checking{Check: "supply.look", Answers: no("supply.look.bulged")},
		casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "38 V")})
	v := view(t, b, id)
	if got := v.Timeline[2].Words; !strings.HasSuffix(got, ": no") || strings.Contains(got, "not there") {
		t.Errorf("the journal reads %q", got)
	}
	for _, c := range v.Ranking {
		if c.Kind != "check" {
			continue
		}
		for _, r := range c.Results {
			if strings.Contains(r.Words, c.Title) || strings.Contains(r.Words, " .. ") || strings.Contains(r.Words, "not there") {
				t.Errorf("%s: a result reads %q", c.Title, r.Words)
			}
		}
		for _, f := range c.Fields {
			for _, e := range f.Expect {
				if strings.Contains(e, " .. ") {
					t.Errorf("%s expects %q", f.Title, e)
				}
			}
			if f.Finding == "supply.rails.volts" && !f.Overlap {
				t.Error("26 to 40 V and 30 to 42 V are not said to overlap")
			}
		}
	}
}
