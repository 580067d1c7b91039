package ledger_test

import (
	"testing"

	"fettler/internal/ledger"
)

// The 100,000 closed cases of forty devices, blurred attribution.
func bigBook(b *testing.B) (*ledger.Book, []ledger.Record) {
	w := newWorld(11, 40, 30, 15)
	w.blur = 0.7
	return w.fill(b, 100_000)
}

// BenchmarkRefresh reads nothing from an earlier refresh.
func BenchmarkRefresh(b *testing.B) {
	book, records := bigBook(b)
	for b.Loop() {
		b.StopTimer()
		fresh := new(ledger.Book)
		for _, s := range book.Sheets() {
			if _, err := fresh.AddSheet(s); err != nil {
				b.Fatal(err)
			}
		}
		if err := fresh.Add(records...); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		l := refresh(b, fresh)
		b.ReportMetric(float64(l.Rounds), "rounds")
	}
}

// BenchmarkIncrement takes one case out, puts it in again and refreshes.
func BenchmarkIncrement(b *testing.B) {
	book, records := bigBook(b)
	refresh(b, book)
	for b.Loop() {
		book.Remove(records[0].Bench, records[0].Case)
		if err := book.Add(records[0]); err != nil {
			b.Fatal(err)
		}
		refresh(b, book)
	}
}

func BenchmarkAdd(b *testing.B) {
	w := newWorld(11, 40, 30, 15)
	book, records := w.fill(b, 1000)
	other := new(ledger.Book)
	for _, s := range book.Sheets() {
		if _, err := other.AddSheet(s); err != nil {
			b.Fatal(err)
		}
	}
	i := 0
	for b.Loop() {
		if err := other.Add(records[i%len(records)]); err != nil {
			b.Fatal(err)
		}
		i++
	}
}
