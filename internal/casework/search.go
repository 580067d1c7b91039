package casework

import (
	"cmp"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"time"
	"unicode"

	"fettler/internal/journal"
)

// A Hit is a case that was found.
type Hit struct {
	Case     string    `json:"case"`
	Title    string    `json:"title"`
	Kind     string    `json:"kind"`
	Device   string    `json:"device"`
	State    State     `json:"state"`
	Verdict  Verdict   `json:"verdict"`
	Changed  time.Time `json:"changed"`
	Symptoms []string  `json:"symptoms"` // what it showed
	Was      []string  `json:"was"`      // what it was, with the chance: "reservoir dried out (86 %)"
	Done     []string  `json:"done"`     // repairs
	Why      string    `json:"why"`      // why it is here
	Score    float64   `json:"score"`    // how well it fits, 1 best
	Keys     []string  `json:"-"`
}

// pageForm is raised when pages are made otherwise, so that they are made anew. 1:
// first. 2: without what was looked for and not there.
const pageForm = "2"

const (
	searchMost = 400 // latest fitting pages that are weighed
	hitsMost   = 30
	likeMost   = 6
	keepBatch  = 500
)

var errNoFinder = &Error{Code: StoreFail, Text: "this journal cannot be searched", Next: "look at the list of cases"}

// Search finds cases by words: of their label, device, symptoms, faults, parts and
// of what was said and remarked. Owners are not searched.
func (b *Bench) Search(ctx context.Context, text string) ([]Hit, error) {
	words := searchWords(text)
	if len(words) == 0 {
		return nil, fail(BadInput, "give a word of its label, device, symptom or part", "there is nothing to look for")
	}
	f, err := b.searchable(ctx)
	if err != nil {
		return nil, err
	}
	pages, err := f.Find(ctx, journal.Query{Words: words, Most: searchMost})
	if err != nil {
		return nil, storeError(err)
	}
	out, err := hitsOf(pages)
	if err != nil {
		return nil, err
	}
	for i := range out {
		out[i].Score, out[i].Why = fits(out[i], words)
	}
	return best(out, hitsMost), nil
}

// searchWords are the words of a text, small.
func searchWords(text string) []string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return words[:min(len(words), 12)]
}

// fits weighs where the words stand: what it was before symptoms before the rest.
func fits(h Hit, words []string) (float64, string) {
	places := []struct {
		name string
		text string
		much float64
	}{
		{"label or device", h.Title + " " + h.Kind, 1}, {"what it was", strings.Join(h.Was, " "), 0.95}, {"symptoms", strings.Join(h.Symptoms, " "), 0.9},
		{"repairs", strings.Join(h.Done, " "), 0.85},
	}
	score, why := 0.0, ""
	for _, w := range words {
		in, at := 0.6, "what was written down"
		for _, p := range places {
			if p.much > in && strings.Contains(strings.ToLower(p.text), w) {
				in, at = p.much, p.name
			}
		}
		if !strings.Contains(why, at) {
			why = joined(", ", why, at)
		}
		score += in / float64(len(words))
	}
	return score, "in " + why
}

// best sorts by score, later ones first where it is equal.
func best(hits []Hit, most int) []Hit {
	slices.SortStableFunc(hits, func(a, b Hit) int { return cmp.Or(-cmp.Compare(a.Score, b.Score), b.Changed.Compare(a.Changed)) })
	return hits[:min(len(hits), most)]
}

func hitsOf(pages []journal.Page) ([]Hit, error) {
	out := make([]Hit, 0, len(pages))
	for _, p := range pages {
		h := Hit{}
		if err := json.Unmarshal(p.Shown, &h); err != nil {
			return nil, &Error{Code: StoreFail, Text: "what is kept for searching is damaged", Next: "search again; if it stays so, restore the file from a copy", Err: err}
		}
		h.Keys = p.Keys
		out = append(out, h)
	}
	return out, nil
}

// Like finds closed cases like this one: of the same sort of device first, then
// any, by the symptoms they share.
func (b *Bench) Like(ctx context.Context, caseID string) ([]Hit, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	mine := c.symptomKeys()
	if len(mine) == 0 {
		return []Hit{}, nil
	}
	f, err := b.searchable(ctx)
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{c.ID: true}
	var out []Hit
	device := keyOf("device", c.Opened.Device)
	for _, must := range [][]string{{device}, nil} {
		pages, err := f.Find(ctx, journal.Query{Must: must, Any: mine, Closed: true, Most: searchMost})
		if err != nil {
			return nil, storeError(err)
		}
		hits, err := hitsOf(pages)
		if err != nil {
			return nil, err
		}
		for _, h := range hits {
			if !seen[h.Case] {
				seen[h.Case] = true
				h.Score, h.Why = resembles(mine, h, h.Device == c.Opened.Device)
				out = append(out, h)
			}
		}
		if len(out) >= likeMost {
			break
		}
	}
	return best(out, likeMost), nil
}

// resembles is the share of symptoms that two cases have in common, of all that either
// has; another sort of device counts half.
func resembles(mine []string, h Hit, same bool) (float64, string) {
	both, all := 0, len(mine)
	for _, k := range h.Keys {
		if !strings.HasPrefix(k, symptomMark) {
			continue
		}
		if slices.Contains(mine, k) {
			both++
		} else {
			all++
		}
	}
	score := float64(both) / float64(max(all, 1))
	why := "shares one symptom"
	if both != 1 {
		why = "shares " + plainCount(both) + " symptoms"
	}
	if same {
		return score, "same sort of device, " + why
	}
	return score / 2, why
}
