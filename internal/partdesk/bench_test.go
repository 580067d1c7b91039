package partdesk_test

import (
	"context"
	"os"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/partdesk"
	"fettler/internal/store/memory"
)

var (
	ctx                = context.Background()
	_   partdesk.Bench = (*casework.Bench)(nil)
)

// newBench is an empty bench over casework's test notes.
func newBench(t testing.TB) *casework.Bench {
	t.Helper()
	lib, err := note.Load(ctx, os.DirFS("../casework/testdata/notes"))
	if err != nil {
		t.Fatal(err)
	}
	return casework.New(memory.New(), lib, casework.Options{})
}

// loudspeaker opens a case of the test loudspeaker.
func loudspeaker(t testing.TB, b *casework.Bench) string {
	t.Helper()
	return ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker"})).Case
}

func stockUp(t testing.TB, b *casework.Bench, name string, count int, place string) {
	t.Helper()
	ok[casework.ShelfReceipt](t)(b.Stock(ctx, casework.Stocking{Name: name, Count: count, Place: place}))
}

// ok fails the test on an error.
func ok[T any](t testing.TB) func(T, error) T {
	return func(r T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
}

func second[T any](_ T, err error) error { return err }

func num(x float64) *float64 { return &x }
