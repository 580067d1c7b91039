package casework_test

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"testing"

	"fettler/internal/casework"
)

// meddler is a journal in which somebody else writes just before every append, so many times.
type meddler struct {
	casework.Journal
	mu     sync.Mutex
	meddle []func(casework.Journal)
}

func (m *meddler) Append(ctx context.Context, id string, after int, events ...casework.Event) error {
	m.mu.Lock()
	var f func(casework.Journal)
	if len(m.meddle) > 0 {
		f, m.meddle = m.meddle[0], m.meddle[1:]
	}
	m.mu.Unlock()
	if f != nil {
		f(m.Journal)
	}
	return m.Journal.Append(ctx, id, after, events...)
}

// A deed that comes second is written after all if nothing it rests on has
// changed, and refused as Changed if something has.
func TestSecondWriter(t *testing.T) {
	remark := func(b *casework.Bench, id string) { b.Remark(ctx, id, casework.Remarking{Text: "meanwhile"}) }
	repair := func(b *casework.Bench, id string) {
		b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"})
	}
	closing := func(b *casework.Bench, id string) {
		b.Close(ctx, id, casework.Closing{Verdict: casework.PassedOn})
	}
	look := casework.Checking{Check: "supply.look", Answers: yes("supply.look.bulged")}
	for name, x := range map[string]struct {
		other func(*casework.Bench, string)
		mine  func(*casework.Bench, string) error
		code  casework.Code
	}{
		"look, remark":  {remark, func(b *casework.Bench, id string) error { return record(b, id, look) }, ""},
		"look, repair":  {repair, func(b *casework.Bench, id string) error { return record(b, id, look) }, casework.Changed},
		"look, closing": {closing, func(b *casework.Bench, id string) error { return record(b, id, look) }, casework.Changed},
		"close, remark": {remark, func(b *casework.Bench, id string) error {
			return record(b, id, casework.Closing{Verdict: casework.Fixed})
		}, casework.Changed},
		"undo latest, remark": {remark, func(b *casework.Bench, id string) error { _, err := b.Undo(ctx, id, 0, casework.By{}); return err }, casework.Changed},
		"undo this one":       {remark, func(b *casework.Bench, id string) error { _, err := b.Undo(ctx, id, 2, casework.By{}); return err }, ""},
		"correct this one": {remark, func(b *casework.Bench, id string) error {
			_, err := b.Correct(ctx, id, 2, casework.Noticing{Answers: no("hums")})
			return err
		}, ""},
		"settings, repair too": {remark, func(b *casework.Bench, id string) error {
			return record(b, id, casework.Settling{Settled: casework.Settled{Rate: num(3)}})
		}, ""},
	} {
		_, j := newBench(t)
		m := &meddler{Journal: j}
		b := casework.New(m, notes(t), casework.Options{Now: clock()})
		id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
		m.meddle = []func(casework.Journal){func(casework.Journal) { x.other(casework.New(j, notes(t), casework.Options{Now: clock()}), id) }}
		if err := x.mine(b, id); casework.CodeOf(err) != x.code || x.code == "" && err != nil {
			t.Errorf("%s: %v, want %q", name, err, x.code)
		}
	}
}

// What was decided on an old page holds under the same rule.
func TestSeen(t *testing.T) {
	b, _ := newBench(t)
	id := loudspeaker(t, b, casework.Noticing{Answers: yes("hums")})
	seen := casework.By{Seen: view(t, b, id).Header.Seq}
	ok[casework.Receipt](t)(b.Remark(ctx, id, casework.Remarking{Text: "x"}))
	ok[casework.Receipt](t)(b.Notice(ctx, id, casework.Noticing{By: seen, Answers: no("dead")}))
	ok[casework.Receipt](t)(b.RecordRepair(ctx, id, casework.Repairing{Repair: "supply.recap"}))
	if _, err := b.RecordRepair(ctx, id, casework.Repairing{By: seen, Repair: "supply.recap"}); casework.CodeOf(err) != casework.Changed {
		t.Errorf("the same repair from an old page: %v", err)
	}
	if _, err := b.Undo(ctx, id, 0, seen); casework.CodeOf(err) != casework.Changed {
		t.Errorf("undoing the latest from an old page: %v", err)
	}
}

// Several at one bench at once: everything is written, once.
func TestManyWriters(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b)
	var wg sync.WaitGroup
	errs := make(chan error, 40)
	for w := range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range 5 {
				if err := record(b, id, casework.Remarking{Text: fmt.Sprint(w, i)}); err != nil && casework.CodeOf(err) != casework.Changed {
					errs <- err
				}
				if _, err := b.View(ctx, id); err != nil {
					errs <- err
				}
			}
		}()
	}
	wg.Wait()
	close(errs)
	for err := range errs {
		t.Error(err)
	}
	seen := map[string]bool{}
	for _, e := range project(t, j, id).Timeline {
		if seen[e.Words] {
			t.Errorf("%q is there twice", e.Words)
		}
		seen[e.Words] = true
	}
}

// broken is a journal on a full disk.
type broken struct{ casework.Journal }

func (broken) Append(context.Context, string, int, ...casework.Event) error {
	return errors.New("disk full")
}

func TestStoreFails(t *testing.T) {
	b, j := newBench(t)
	id := loudspeaker(t, b)
	bad := casework.New(broken{j}, notes(t), casework.Options{})
	err := record(bad, id, casework.Remarking{Text: "x"})
	var e *casework.Error
	if !errors.As(err, &e) || e.Code != casework.StoreFail || e.Next == "" || errors.Unwrap(e) == nil {
		t.Errorf("error %v", err)
	}
	ended, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := b.View(ended, id); !errors.Is(err, context.Canceled) {
		t.Errorf("view in an ended context: %v", err)
	}
}
