package memory

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"fettler/internal/journal"
)

// larder is what was worked out from the events.
type larder struct {
	mu     sync.Mutex
	places map[string]map[string][]byte
}

// Store implements journal.Larder.
func (j *Journal) Store(ctx context.Context, place string, anew bool, jars ...journal.Jar) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	l := &j.larder
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.places == nil {
		l.places = map[string]map[string][]byte{}
	}
	if anew || l.places[place] == nil {
		l.places[place] = map[string][]byte{}
	}
	for _, x := range jars {
		l.places[place][x.Key] = slices.Clone(x.Data)
	}
	return nil
}

// Fetch implements journal.Larder.
func (j *Journal) Fetch(ctx context.Context, place string) ([]journal.Jar, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	l := &j.larder
	l.mu.Lock()
	defer l.mu.Unlock()
	var out []journal.Jar
	for key, data := range l.places[place] {
		out = append(out, journal.Jar{Key: key, Data: slices.Clone(data)})
	}
	slices.SortFunc(out, func(a, b journal.Jar) int { return cmp.Compare(a.Key, b.Key) })
	return out, nil
}
