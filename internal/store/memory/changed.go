package memory

import (
	"cmp"
	"context"
	"slices"

	"fettler/internal/journal"
)

// Changed implements journal.Tracker.
func (j *Journal) Changed(ctx context.Context, mark int64) ([]journal.Event, int64, error) {
	if err := ctx.Err(); err != nil {
		return nil, mark, err
	}
	j.mu.RLock()
	defer j.mu.RUnlock()
	var out []journal.Event
	for id, n := range j.tail {
		if n > mark && id != journal.BenchCase {
			e := j.cases[id][len(j.cases[id])-1]
			e.Data = slices.Clone(e.Data)
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b journal.Event) int { return cmp.Compare(j.tail[a.Case], j.tail[b.Case]) })
	return out, max(mark, j.count), nil
}
