package casework

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/journal"
)

// Keys are short hashes, so that any index takes them for one word. Their first
// letter says of what.
const symptomMark = "s"

func keyOf(sort, name string) string {
	sum := sha256.Sum256([]byte(sort + "\x00" + name))
	return sort[:1] + hex.EncodeToString(sum[:6])
}

func plainCount(n int) string { return strconv.Itoa(n) }

// symptomKeys are those of the symptoms a case has shown.
func (c *Case) symptomKeys() []string {
	if c.Model == nil {
		return nil
	}
	var out []string
	showed := c.showed()
	for i := range c.Model.Findings {
		if f := &c.Model.Findings[i]; f.Check < 0 && showed[i] {
			out = append(out, keyOf("symptom", f.Title))
		}
	}
	return out
}

// page is what can be found of a case.
func (c *Case) page() (journal.Page, error) {
	h := Hit{Case: c.ID, Title: c.title(), Kind: c.kind(), Device: c.Opened.Device, State: c.state(), Changed: c.Last, Symptoms: []string{}, Was: []string{}, Done: []string{}}
	p := journal.Page{Case: c.ID, Closed: c.Closed != nil, Keys: append([]string{keyOf("device", c.Opened.Device)}, c.symptomKeys()...)}
	words := []string{h.Title, h.Kind, c.Opened.Category}
	if m := c.Model; m != nil {
		words = append(words, m.Names...)
		showed := c.showed()
		for i := range m.Findings {
			if showed[i] {
				h.Symptoms = append(h.Symptoms, m.Findings[i].Title)
			}
		}
		for _, a := range c.Evidence.Acts {
			if a.Repair >= 0 {
				h.Done = append(h.Done, m.Repairs[a.Repair].Title)
				for _, x := range m.Repairs[a.Repair].Buys {
					words = append(words, x.What)
				}
			}
		}
	}
	if c.Closed != nil {
		h.Verdict = c.Closed.Verdict
		words = append(words, string(h.Verdict), c.Closed.Barrier)
		for _, x := range c.Closed.Because {
			if x.P < 0.2 {
				continue
			}
			title := x.Mode
			if i, ok := c.names.modes[x.Mode]; ok {
				part := &c.Model.Parts[c.Model.Modes[i].Part]
				title = c.Model.Modes[i].Title
				words = append(words, part.Title, part.Kind, part.Mark, part.Value)
			}
			if c.Closed.Stated {
				h.Was = append(h.Was, title)
			} else {
				h.Was = append(h.Was, fmt.Sprintf("%s (%s)", title, percent(x.P)))
			}
		}
	}
	words = append(words, h.Symptoms...)
	words = append(words, h.Was...)
	words = append(words, h.Done...)
	words = append(words, c.writtenDown()...)
	p.Text = strings.Join(words, "\n")
	var err error
	p.Shown, err = json.Marshal(h)
	slices.Sort(p.Keys)
	return p, err
}

// writtenDown is what was seen and written down, less what was looked for and not there.
func (c *Case) writtenDown() []string {
	var out []string
	for _, l := range c.Looks {
		if f, ok := c.names.findings[l.Value.Finding]; ok && !l.Value.denied() {
			out = append(out, l.Value.phrase(c.Model.Findings[f].Title))
		}
	}
	for _, e := range c.Timeline {
		switch {
		case e.Void:
		case e.Kind == KindSaid:
			said, _, _ := strings.Cut(e.Words, saidReadAs)
			out = append(out, said)
		case e.Kind == KindNoticed, e.Kind == KindChecked, e.Kind == KindTested: // looks
		default:
			out = append(out, e.Words)
		}
	}
	return out
}

// searchable brings what is kept for searching up to date.
func (b *Bench) searchable(ctx context.Context) (journal.Finder, error) {
	f, ok := b.journal.(journal.Finder)
	t, tracks := b.journal.(journal.Tracker)
	if !ok || !tracks {
		return nil, errNoFinder
	}
	b.searching.Lock()
	defer b.searching.Unlock()
	mark, form, err := f.Kept(ctx)
	if err != nil {
		return nil, storeError(err)
	}
	if form != pageForm {
		mark = 0
	}
	ends, now, err := t.Changed(ctx, mark)
	if err != nil {
		return nil, storeError(err)
	}
	if len(ends) == 0 && form == pageForm {
		return f, nil
	}
	for first := true; first || len(ends) > 0; first = false {
		batch := ends[:min(len(ends), keepBatch)]
		ends = ends[len(batch):]
		pages := make([]journal.Page, len(batch))
		parallel(len(batch), func(i int) {
			if p, err := b.pageOf(ctx, batch[i].Case); err == nil {
				pages[i] = p
			}
		})
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		pages = slices.DeleteFunc(pages, func(p journal.Page) bool { return p.Case == "" }) // a damaged case, of which the list says so
		upTo := mark                                                                        // until all are kept, the same cases are made again
		if len(ends) == 0 {
			upTo = now
		}
		if err := f.Keep(ctx, pageForm, upTo, pages); err != nil {
			return nil, storeError(err)
		}
	}
	return f, nil
}

// pageOf is what can be found of a case as it is now.
func (b *Bench) pageOf(ctx context.Context, id string) (journal.Page, error) {
	events, err := b.events(ctx, id)
	if err != nil {
		return journal.Page{}, err
	}
	c, err := b.project(nil, events)
	if err != nil {
		return journal.Page{}, err
	}
	return c.page()
}
