package casework_test

import (
	"encoding/json"
	"errors"
	"testing"
	"time"

	"fettler/internal/casework"
)

// FuzzProject: no payload, of whatever kind, makes projecting panic; it fails
// only with a casework.Error, and what it gives can be shown.
func FuzzProject(f *testing.F) {
	b, j := newBench(f)
	id := loudspeaker(f, b, casework.Saying{Text: "hums, no smell"}, casework.Noticing{Answers: answers("crackles", "2 of 3")},
		casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", "38 V")}, casework.OpeningUp{Access: "out"},
		casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true}, casework.Ordering{What: "x", Days: 2}, casework.Arriving{},
		casework.Settling{Settled: casework.Settled{Rate: num(3)}}, casework.Closing{Verdict: casework.Fixed}, casework.Reopening{})
	ok[casework.Receipt](f)(b.Undo(ctx, id, 0, casework.By{}))
	ok[casework.Receipt](f)(b.Correct(ctx, id, 2, casework.Saying{Text: "crackles"}))
	events, err := j.Events(ctx, id, 0)
	if err != nil {
		f.Fatal(err)
	}
	for _, e := range events {
		f.Add(string(e.Kind), []byte(e.Data))
	}
	f.Add("noticed", []byte(`{"values":[{"finding":"hums","shows":-3,"of":2},{"finding":"supply.esr.esr"},{"finding":"supply.rails.volts","reading":"1e999 V"}],"before":-7}`))
	f.Add("undone", []byte(`{"event":-9223372036854775808}`))
	f.Add("corrected", []byte(`{"event":2,"data":[1]}`))
	f.Add("corrected", []byte(`{"event":1}`))
	f.Add("corrected", []byte(`{"event":5,"data":{}}`)) // there is none yet
	f.Add("corrected", []byte(`{"event":4,"data":{"event":1}}`))
	f.Add("undone", []byte(`{"event":9}`))
	m, _ := notes(f).Model("test-loudspeaker")
	f.Fuzz(func(t *testing.T, kind string, data []byte) {
		if !json.Valid(data) {
			return // a store keeps only what was marshalled
		}
		list := append(append([]casework.Event(nil), events[:3]...), casework.Event{Case: id, Seq: 4, At: time.Unix(0, 0), Kind: casework.Kind(kind), Version: 1, Data: data})
		device, err := casework.DeviceOf(list)
		if err == nil && device == "test-loudspeaker" {
			_, err = casework.Project(m, list[3:3], list)
		}
		var e *casework.Error
		if err != nil && !errors.As(err, &e) {
			t.Error(err)
		}
		casework.Public(list)
	})
}

// FuzzAnswer: whatever is typed as an answer is taken or refused with a
// sentence; what is taken is evidence the same way each time it is read.
func FuzzAnswer(f *testing.F) {
	for _, s := range []string{"yes", "no", "3 of 10", "3/10", "38 V", "0.4 mV", "overload", "OL", "worn", "WORN", "", "-1 of 2", "1e400 V", "NaN V", "٣ of ١٠", "\xff"} {
		f.Add(s)
	}
	b, j := newBench(f)
	f.Fuzz(func(t *testing.T, s string) {
		for _, d := range []casework.Deed{
			casework.Noticing{Answers: answers("hums", s)},
			casework.Checking{Check: "supply.esr", Answers: answers("supply.esr.esr", s)},
			casework.Checking{Check: "supply.rails", Answers: answers("supply.rails.volts", s)},
		} {
			r, err := b.Open(ctx, casework.Opening{Device: "test-loudspeaker"}, d)
			if err != nil {
				if casework.CodeOf(err) != casework.BadInput {
					t.Errorf("%q: %v", s, err)
				}
				continue
			}
			if c := project(t, j, r.Case); len(c.Evidence.Seen) != 1 || len(c.Ignored) != 0 {
				t.Errorf("%q was taken and is no evidence: %v", s, c.Ignored)
			}
		}
	})
}
