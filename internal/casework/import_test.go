package casework_test

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/journal"
	"fettler/internal/openrepair"
	"fettler/internal/store/memory"
)

// counting is a journal that counts its transactions.
type counting struct {
	*memory.Journal
	n int
}

func (c *counting) Append(ctx context.Context, id string, after int, events ...casework.Event) error {
	c.n++
	return c.Journal.Append(ctx, id, after, events...)
}

func (c *counting) AppendAll(ctx context.Context, batches []journal.Batch) (int, error) {
	c.n++
	return c.Journal.AppendAll(ctx, batches)
}

// Records are taken over many to a transaction, and what comes of it is counted one by one.
func TestImportInBatches(t *testing.T) {
	var records []openrepair.Record
	for i := range 1203 {
		records = append(records, openrepair.Record{ID: fmt.Sprint(i), Category: "Lamp", Status: openrepair.Fixed, Problem: "dark"})
	}
	file := func(n int) *bytes.Buffer {
		var w bytes.Buffer
		if err := openrepair.Write(&w, records[:n]); err != nil {
			t.Fatal(err)
		}
		return &w
	}
	j := &counting{Journal: memory.New()}
	b := casework.New(j, notes(t), casework.Options{Now: clock()})
	for _, x := range []struct{ records, taken, known int }{{700, 700, 0}, {1203, 503, 700}, {0, 0, 0}} {
		j.n = 0
		in := ok[*casework.Imported](t)(b.ImportOpenData(ctx, file(x.records), casework.By{}))
		if in.Taken != x.taken || in.Known != x.known || j.n > 3 {
			t.Errorf("of %d: %+v in %d transactions; want %d taken, %d known", x.records, in, j.n, x.taken, x.known)
		}
	}
	plain := casework.New(struct{ casework.Journal }{memory.New()}, notes(t), casework.Options{Now: clock()}) // takes one case at a time
	if in := ok[*casework.Imported](t)(plain.ImportOpenData(ctx, file(9), casework.By{})); in.Taken != 9 {
		t.Errorf("one by one: %+v", in)
	}
}
