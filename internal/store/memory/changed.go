package memory

import (
	"cmp"
	"context"
	"slices"

	"fettler/internal/casework"
)

// Changed implements casework.Tracker.
func (j *Journal) Changed(ctx context.Context, mark int64) ([]casework.Event, int64, error) {
	if err := ctx.Err(); err != nil {
		return nil, mark, err
	}
	j.mu.RLock()
	defer j.mu.RUnlock()
	var out []casework.Event
	for id, n := range j.tail {
		if n > mark && id != casework.BenchCase {
			e := j.cases[id][len(j.cases[id])-1]
			e.Data = slices.Clone(e.Data)
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(a, b casework.Event) int { return cmp.Compare(j.tail[a.Case], j.tail[b.Case]) })
	return out, max(mark, j.count), nil
}
