package memory

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"fettler/internal/journal"
)

// pages is what can be searched, plainly: every page is looked at.
type pages struct {
	mu   sync.RWMutex
	mark int64
	form string
	next int
	kept map[string]kept
}

type kept struct {
	journal.Page
	row   int
	words []string
}

// Kept implements journal.Finder.
func (j *Journal) Kept(ctx context.Context) (int64, string, error) {
	j.pages.mu.RLock()
	defer j.pages.mu.RUnlock()
	return j.pages.mark, j.pages.form, ctx.Err()
}

// Keep implements journal.Finder.
func (j *Journal) Keep(ctx context.Context, form string, mark int64, list []journal.Page) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	p := &j.pages
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.form != form || p.kept == nil {
		p.kept = map[string]kept{}
	}
	p.form, p.mark = form, mark
	for _, x := range list {
		p.next++
		x.Keys, x.Shown = slices.Clone(x.Keys), slices.Clone(x.Shown)
		p.kept[x.Case] = kept{x, p.next, split(x.Text)}
	}
	return nil
}

// split is the words of a text as an index has them: small, without accents.
func split(text string) []string {
	plain := strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFD.String(text))
	return strings.FieldsFunc(plain, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// Find implements journal.Finder.
func (j *Journal) Find(ctx context.Context, q journal.Query) ([]journal.Page, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if len(q.Words)+len(q.Must)+len(q.Any) == 0 && !q.Closed || q.Most <= 0 {
		return nil, nil
	}
	j.pages.mu.RLock()
	defer j.pages.mu.RUnlock()
	var hits []kept
	for _, k := range j.pages.kept {
		if k.fits(q) {
			hits = append(hits, k)
		}
	}
	slices.SortFunc(hits, func(a, b kept) int { return cmp.Compare(b.row, a.row) })
	var out []journal.Page
	for _, k := range hits[:min(len(hits), q.Most)] {
		p := k.Page
		p.Text, p.Keys, p.Shown = "", slices.Clone(p.Keys), slices.Clone(p.Shown)
		out = append(out, p)
	}
	return out, nil
}

func (k kept) fits(q journal.Query) bool {
	for i, w := range q.Words {
		parts := split(w)
		for n, part := range parts {
			last := i == len(q.Words)-1 && n == len(parts)-1
			if !slices.ContainsFunc(k.words, func(x string) bool { return x == part || last && strings.HasPrefix(x, part) }) {
				return false
			}
		}
	}
	for _, m := range q.Must {
		if !slices.Contains(k.Keys, m) {
			return false
		}
	}
	any := len(q.Any) == 0
	for _, a := range q.Any {
		any = any || slices.Contains(k.Keys, a)
	}
	return any && (k.Closed || !q.Closed)
}
