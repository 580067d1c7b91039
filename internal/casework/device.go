package casework

import (
	"context"
	"math"
	"slices"
	"strings"
	"unicode"

	"fettler/internal/note"
)

// Devices lists the notes a case can be opened with, by title, generics last.
func (b *Bench) Devices(ctx context.Context) []Device {
	infos := b.notes.Devices()
	out := make([]Device, len(infos))
	for i, d := range infos {
		out[i] = deviceOf(d)
	}
	slices.SortStableFunc(out, func(a, b Device) int {
		if a.Generic != b.Generic {
			if b.Generic {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.ToLower(a.Title), strings.ToLower(b.Title))
	})
	return out
}

func deviceOf(d note.DeviceInfo) Device {
	return Device{ID: d.ID, Title: d.Title, About: d.About, Category: d.Category, Names: d.Names, Generic: d.Generic, Own: d.Own}
}

const (
	devicesFound = 8    // most candidates to ask back
	enoughAlike  = 0.34 // share of the query's weight a note must account for
	clearlyAlike = 0.6  // to be taken without asking
	clearlyAhead = 1.3  // and ahead of the next by this factor
	wholly       = 0.99 // share from which a note accounts for all of it
	besideBest   = 0.7  // share of the best one's score below which a note is not asked about
)

// FindDevice finds the notes that a text names: "active speaker", "bread
// machine". A name, title or ID written out in full is sure. Otherwise a note
// scores by the share of the text's words it has, rare words counting more
// (inverse document frequency over the notes). The only note that has them all is
// sure, one that only a word one slip away speaks for never.
func (b *Bench) FindDevice(ctx context.Context, text string) (Found, error) {
	query := stems(text)
	if len(query) == 0 {
		return Found{}, fail(BadInput, "say what sort of device it is", "%q names no device", clip(text))
	}
	all := b.Devices(ctx)
	docs := make([][]string, len(all))
	for i, d := range all {
		docs[i] = stems(strings.Join(append([]string{d.ID, d.Title, d.Category}, d.Names...), " "))
	}
	type scored struct {
		Device
		score float64
		plain bool // some word of it was written as the note has it
	}
	var hits []scored
	weight := weigher(docs)
	spelt := map[string]bool{} // some note has it as it is written
	for _, doc := range docs {
		for _, w := range doc {
			spelt[w] = true
		}
	}
	for i, d := range all {
		s, plain := alike(query, docs[i], weight, spelt)
		if d.called(text) {
			s = 2
		}
		if s >= enoughAlike {
			hits = append(hits, scored{d, s, plain})
		}
	}
	slices.SortStableFunc(hits, func(a, b scored) int { return cmpDown(a.score, b.score) })
	f := Found{Devices: []Device{}}
	for _, h := range hits[:min(len(hits), devicesFound)] {
		if h.score >= besideBest*hits[0].score {
			f.Devices = append(f.Devices, h.Device)
		}
	}
	if len(hits) > 0 {
		best, next := hits[0].score, 0.0
		if len(hits) > 1 {
			next = hits[1].score
		}
		ahead := best >= clearlyAhead*next || best >= wholly && next < wholly
		f.Sure = hits[0].plain && best >= clearlyAlike && ahead
		return f, nil
	}
	f.None = true
	for _, d := range all {
		if d.Generic {
			f.Devices = append(f.Devices, d)
		}
	}
	return f, nil
}

// called says that text is a full name of the device.
func (d Device) called(text string) bool {
	text = strings.Join(strings.Fields(text), " ")
	return strings.EqualFold(text, d.ID) || strings.EqualFold(text, d.Title) ||
		slices.ContainsFunc(d.Names, func(n string) bool { return strings.EqualFold(n, text) })
}

func weigher(docs [][]string) func(string) float64 {
	n := map[string]int{}
	for _, d := range docs {
		for _, w := range d {
			n[w]++
		}
	}
	return func(w string) float64 { return math.Log(1 + float64(len(docs)+1)/(float64(n[w])+0.5)) }
}

// alike is the share of the query's weight that doc accounts for, and of words
// that no note has only as much as a half: a brand name is no reason to find nothing.
// A word that some note has as it is written is no slip for another one.
func alike(query, doc []string, weight func(string) float64, spelt map[string]bool) (share float64, plain bool) {
	sum, got := 0.0, 0.0
	for _, q := range query {
		w := weight(q)
		best := 0.0
		for _, d := range doc {
			if s := sameWord(q, d); s > slipped || !spelt[q] {
				best = max(best, s)
			}
		}
		if best == 0 {
			w /= 2
		}
		plain = plain || best > slipped
		sum, got = sum+w, got+w*best
	}
	return got / sum, plain
}

// slipped is what a word counts that is one slip away.
const slipped = 0.7

// sameWord is 1 for the same word, less for one slip or a beginning.
func sameWord(a, b string) float64 {
	switch {
	case a == b:
		return 1
	case len(a) >= 4 && len(b) >= 4 && (strings.HasPrefix(a, b) || strings.HasPrefix(b, a)):
		return 0.8
	case len(a) >= 5 && len(b) >= 5 && oneSlip(a, b):
		return slipped
	}
	return 0
}

// oneSlip says that a becomes b by one letter wrong, missing or too many, or by
// two neighbours swapped.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return a[i:] == b[i+1:]
	}
	if i >= len(a) || a[i+1:] == b[i+1:] {
		return true
	}
	return a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}

// stems cuts a text into small-letter words without plural endings, each once.
func stems(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		switch {
		case filler[w]:
			continue
		case len(w) > 4 && strings.HasSuffix(w, "ies"):
			w = w[:len(w)-3] + "y"
		case len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss"):
			w = w[:len(w)-1]
		}
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

var filler = map[string]bool{"a": true, "an": true, "the": true, "with": true, "and": true, "or": true, "of": true, "for": true,
	"my": true, "old": true, "in": true, "on": true, "to": true, "generic": true, "is": true, "it": true}
