package casework

import (
	"context"

	"fettler/internal/ledger"
	"fettler/internal/school"
)

// KeepFrom lets a bench keep what closed cases teach from so few cases on.
func (b *Bench) KeepFrom(n int) {
	b.school = school.New(b.journal, closings{b}, school.Options{Files: b.o.Files, KeepFrom: n})
}

// Taught is all that closed cases teach, as bytes; with whole the book is opened for it.
func (b *Bench) Taught(ctx context.Context, whole bool) ([]byte, error) {
	bench, err := b.events(ctx, BenchCase)
	if err != nil {
		return nil, err
	}
	var l *ledger.Lessons
	if own, others := benchName(bench), takenOver(bench); whole {
		err = b.school.Open(ctx, own, others, func(r school.Report) error { l = r.Lessons; return nil })
	} else {
		l, err = b.school.Lessons(ctx, own, others)
	}
	if err != nil || l == nil {
		return nil, err
	}
	return l.Pack(), nil
}

// BookOpen tells whether the closed cases themselves have been read, and not only what they teach.
func (b *Bench) BookOpen() bool { return b.school.Opened() }
