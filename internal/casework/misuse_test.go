package casework_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"fettler/internal/casework"
)

// Every mistake at the bench is a sentence with a next step, and writes nothing.
func TestMistakes(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	closed := loudspeaker(t, b, casework.Closing{Verdict: casework.KeptForParts})
	bare := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Category: "Toaster"})).Case
	long := strings.Repeat("x", 20_000)
	refuse := []string{"dragons"}
	euro := "doubloons"
	for _, x := range []struct {
		name string
		on   string
		deed casework.Deed
		code casework.Code
		hint string // in the text or the next step
	}{
		{"no such case", "nowhere", casework.Remarking{Text: "x"}, casework.NotFound, "list of cases"},
		{"no case", casework.BenchCase, casework.Remarking{Text: "x"}, casework.NotFound, "name a case"},
		{"nothing said to no case", casework.BenchCase, casework.Saying{Text: "hums"}, casework.NotFound, "name a case"},
		{"empty remark", id, casework.Remarking{Text: " \n"}, casework.BadInput, "empty"},
		{"long remark", id, casework.Remarking{Text: long}, casework.BadInput, "too long"},
		{"nothing said", id, casework.Saying{}, casework.BadInput, "nothing was said"},
		{"unknown symptom", id, casework.Noticing{Answers: yes("sings")}, casework.NotFound, `"sings"`},
		{"a check's finding as a symptom", id, casework.Noticing{Answers: yes("supply.look.bulged")}, casework.BadInput, "supply.look"},
		{"no symptom", id, casework.Noticing{}, casework.BadInput, "name a symptom"},
		{"twice in one", id, casework.Noticing{Answers: answers("hums", "yes", "hums", "no")}, casework.BadInput, "twice"},
		{"maybe", id, casework.Noticing{Answers: answers("hums", "maybe")}, casework.BadInput, "3 of 10"},
		{"more often than looked", id, casework.Noticing{Answers: answers("hums", "4 of 3")}, casework.BadInput, "4 of 3"},
		{"none of none", id, casework.Noticing{Answers: answers("hums", "0 of 0")}, casework.BadInput, "0 of 0"},
		{"very often", id, casework.Noticing{Answers: answers("hums", "1 of 99999999999999999999")}, casework.BadInput, "times"},
		{"before no repair", id, casework.Noticing{Answers: no("dead"), Before: 2}, casework.NotFound, "no repair"},
		{"unknown check", id, casework.Checking{Check: "supply.taste"}, casework.NotFound, "supply.taste"},
		{"check without result", id, casework.Checking{Check: "supply.look"}, casework.BadInput, "supply.look.bulged"},
		{"another check's finding", id, casework.Checking{Check: "supply.look", Answers: answers("supply.rails.volts", "38 V")}, casework.BadInput, "does not tell"},
		{"no such answer", id, casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", "fine")}, casework.BadInput, "as marked, worn, shorted"},
		{"no unit", id, casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "38")}, casework.BadInput, "unit"},
		{"wrong unit", id, casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "38 mA")}, casework.BadInput, "V"},
		{"comma", id, casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "3,8 V")}, casework.BadInput, "decimal point"},
		{"minutes that are none", id, casework.Checking{Check: "supply.look", Answers: yes("supply.look.bulged"), Minutes: num(math.NaN())}, casework.BadInput, "minutes"},
		{"minutes below nothing", id, casework.Checking{Check: "supply.look", Answers: yes("supply.look.bulged"), Minutes: num(-1)}, casework.BadInput, "minutes"},
		{"unknown access", id, casework.OpeningUp{Access: "roof"}, casework.NotFound, "outside, open, out"},
		{"unknown repair", id, casework.Repairing{Repair: "supply.pray"}, casework.NotFound, "supply.pray"},
		{"no repair", id, casework.Repairing{}, casework.BadInput, "what was done"},
		{"endless money", id, casework.Repairing{Repair: "supply.recap", Money: num(math.Inf(1))}, casework.BadInput, "money"},
		{"test without what is wrong", id, casework.Testing{}, casework.BadInput, "hums"},
		{"works and hums", id, casework.Testing{Works: true, Answers: yes("hums")}, casework.BadInput, "still show"},
		{"order of nothing", id, casework.Ordering{}, casework.BadInput, "says nothing"},
		{"order below nothing", id, casework.Ordering{What: "x", Money: -3}, casework.BadInput, "money"},
		{"order for no repair", id, casework.Ordering{Repairs: []string{"x"}}, casework.NotFound, "x"},
		{"arrival of nothing", id, casework.Arriving{}, casework.BadInput, "on order"},
		{"no picture", id, casework.Photographing{Hash: "cafe"}, casework.BadInput, "SHA-256"},
		{"no setting", id, casework.Settling{}, casework.BadInput, "setting"},
		{"rate that is none", id, casework.Settling{Settled: casework.Settled{Rate: num(math.NaN())}}, casework.BadInput, "rate"},
		{"unknown hazard", id, casework.Settling{Settled: casework.Settled{Refuse: &refuse}}, casework.BadInput, "mains"},
		{"unknown currency", id, casework.Settling{Settled: casework.Settled{Currency: &euro}}, casework.BadInput, "EUR"},
		{"unknown verdict", id, casework.Closing{Verdict: "exploded"}, casework.BadInput, "kept for parts"},
		{"unknown culprit", id, casework.Closing{Verdict: casework.PassedOn, Was: []string{"gremlins"}}, casework.NotFound, "gremlins"},
		{"reopening what is open", id, casework.Reopening{}, casework.BadInput, "not closed"},
		{"work on a closed case", closed, casework.Checking{Check: "supply.look", Answers: yes("supply.look.bulged")}, casework.Closed, "reopen"},
		{"closing twice", closed, casework.Closing{Verdict: casework.Fixed}, casework.Closed, "reopen"},
		{"symptom without a note", bare, casework.Noticing{Answers: yes("hums")}, casework.NoNote, "remark"},
		{"a strange name", id, casework.Remarking{Text: "x", By: casework.By{Who: long}}, casework.BadInput, "too long"},
	} {
		before, _ := j.Events(ctx, x.on, 0)
		err := record(b, x.on, x.deed)
		var e *casework.Error
		if !errors.As(err, &e) {
			t.Errorf("%s: error %v, want a casework.Error", x.name, err)
			continue
		}
		if e.Code != x.code || !strings.Contains(e.Error(), x.hint) || e.Next == "" {
			t.Errorf("%s: %s: %q, want %s with %q and a next step", x.name, e.Code, e, x.code, x.hint)
		}
		if len(e.Error()) > 600 {
			t.Errorf("%s: the sentence has %d characters", x.name, len(e.Error()))
		}
		if after, _ := j.Events(ctx, x.on, 0); len(after) != len(before) {
			t.Errorf("%s: something was written", x.name)
		}
	}
}

// record puts any deed to a case by the use-case that is for it.
func record(b *casework.Bench, id string, d casework.Deed) error {
	_, err := recordSeq(b, id, d)
	return err
}

func recordSeq(b *casework.Bench, id string, d casework.Deed) (casework.Receipt, error) {
	switch d := d.(type) {
	case casework.Saying:
		h, err := b.Say(ctx, id, d)
		return h.Receipt, err
	case casework.Noticing:
		return b.Notice(ctx, id, d)
	case casework.Checking:
		return b.RecordCheck(ctx, id, d)
	case casework.OpeningUp:
		return b.OpenUp(ctx, id, d)
	case casework.Repairing:
		return b.RecordRepair(ctx, id, d)
	case casework.Testing:
		return b.RecordTest(ctx, id, d)
	case casework.Ordering:
		return b.Order(ctx, id, d)
	case casework.Arriving:
		return b.Arrive(ctx, id, d)
	case casework.Remarking:
		return b.Remark(ctx, id, d)
	case casework.Photographing:
		return b.Photograph(ctx, id, d)
	case casework.Settling:
		return b.Settle(ctx, id, d)
	case casework.Closing:
		return b.Close(ctx, id, d)
	case casework.Reopening:
		return b.Reopen(ctx, id, d)
	}
	panic("no such deed")
}

func TestOpenMistakes(t *testing.T) {
	b, _ := newBench(t)
	ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{ID: "taken", Category: "Toaster"}))
	for name, x := range map[string]struct {
		in   casework.Opening
		then []casework.Deed
		code casework.Code
	}{
		"nothing":         {casework.Opening{}, nil, casework.BadInput},
		"no such note":    {casework.Opening{Device: "time-machine"}, nil, casework.NotFound},
		"no category":     {casework.Opening{Category: "Spaceship"}, nil, casework.BadInput},
		"bad name":        {casework.Opening{ID: "../etc", Category: "Toaster"}, nil, casework.BadInput},
		"taken":           {casework.Opening{ID: "taken", Category: "Toaster"}, nil, casework.Changed},
		"age":             {casework.Opening{Category: "Toaster", Age: math.NaN()}, nil, casework.BadInput},
		"worth":           {casework.Opening{Category: "Toaster", Worth: num(-5)}, nil, casework.BadInput},
		"a deed of none":  {casework.Opening{Device: "test-loudspeaker"}, []casework.Deed{casework.Noticing{Answers: yes("sings")}}, casework.NotFound},
		"work when ended": {casework.Opening{Device: "test-loudspeaker"}, []casework.Deed{casework.Closing{Verdict: casework.PassedOn}, casework.Saying{Text: "hums"}}, casework.Closed},
	} {
		if _, err := b.Open(ctx, x.in, x.then...); casework.CodeOf(err) != x.code {
			t.Errorf("%s: %v, want %s", name, err, x.code)
		}
	}
	if list := ok[[]casework.Listed](t)(b.List(ctx)); len(list) != 1 {
		t.Errorf("mistakes opened cases: %+v", list)
	}
}
