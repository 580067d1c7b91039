package casework

import (
	"context"
	"slices"
	"sync"

	"fettler/internal/ledger"
	"fettler/internal/school"
)

// study brings what closed cases teach up to date and says whether to reckon with
// it. It never keeps a case from being shown: what is wrong is said on the page of lessons.
func (b *Bench) study(ctx context.Context, bench []Event) error {
	s := Settings{Learn: true}
	if err := s.overlay(bench, effects(bench)); err != nil {
		return err
	}
	b.studying.Lock()
	defer b.studying.Unlock()
	if !s.Learn {
		b.teach(nil)
		return nil
	}
	l, err := b.school.Lessons(ctx, benchName(bench), takenOver(bench))
	if err == nil {
		b.teach(l)
	}
	return err
}

// teach lets the bench reason with lessons from now on.
func (b *Bench) teach(l *ledger.Lessons) {
	b.mu.Lock()
	b.lessons = l
	b.mu.Unlock()
}

// closings tells the school what the events of cases mean.
type closings struct{ b *Bench }

// Closings implements school.Cases.
func (c closings) Closings(ctx context.Context, lasts []Event) []school.Found {
	out := make([]school.Found, len(lasts))
	parallel(len(lasts), func(i int) { out[i] = c.b.closing(ctx, lasts[i]) })
	return out
}

// EverClosed implements school.Cases.
func (c closings) EverClosed(ctx context.Context, last Event) (bool, error) {
	if last.Kind == KindClosed {
		return true, nil
	}
	events, err := c.b.events(ctx, last.Case)
	return slices.ContainsFunc(events, func(e Event) bool { return e.Kind == KindClosed }), err
}

// parallel does a thing for 0 … n-1, on all processors.
func parallel(n int, do func(i int)) {
	const share = 256 // so many at a time
	var wait sync.WaitGroup
	for first := 0; first < n; first += share {
		wait.Go(func() {
			for i := first; i < min(first+share, n); i++ {
				do(i)
			}
		})
	}
	wait.Wait()
}

// closing is what a case teaches, given its last event. A closing that is the last event
// stands as it is: nothing can have undone or corrected it.
func (b *Bench) closing(ctx context.Context, last Event) school.Found {
	if last.Kind == KindClosed {
		p, err := decode[ClosedCase](last, last.Data)
		if err != nil || p.Lesson != nil {
			return school.Found{Closing: standing(last, last.Seq, p), OK: err == nil, Err: err}
		}
	}
	events, err := b.events(ctx, last.Case)
	if err != nil {
		return school.Found{Err: err}
	}
	return closingOf(events)
}

// closingOf finds the closing that stands among all events of a case. Its figures
// are those at the closing; what is corrected later counts once the case is closed anew.
// A case that taught something once and is open again is gone.
func closingOf(events []Event) school.Found {
	eff := effects(events)
	var at, ever *Event
	revision := 0
	for i, e := range events {
		switch {
		case e.Kind == KindUndone, e.Kind == KindCorrected:
			revision = e.Seq
		case e.Kind == KindClosed && ever == nil:
			if p, err := decode[ClosedCase](e, e.Data); err == nil && p.Lesson != nil {
				ever = &events[i]
			}
		}
		switch {
		case eff[i].void:
		case e.Kind == KindClosed:
			at, revision = &events[i], e.Seq
		case e.Kind == KindReopened:
			at, revision = nil, e.Seq
		}
	}
	if at != nil {
		p, err := decode[ClosedCase](*at, eff[at.Seq-1].data)
		if err != nil {
			return school.Found{Err: err}
		}
		if p.Lesson != nil {
			return school.Found{Closing: standing(*at, revision, p), OK: true}
		}
	}
	if ever != nil {
		return school.Found{Closing: school.Closing{Revision: revision, At: ever.At, Gone: true}, OK: true}
	}
	return school.Found{}
}

// standing is a closing that counts.
func standing(e Event, revision int, p ClosedCase) school.Closing {
	return school.Closing{Revision: revision, At: e.At, Lesson: p.Lesson, Fixed: p.Verdict == Fixed}
}
