package appraise

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fettler/internal/note"
)

// Weights of the device choice. Only their ratios matter; they are judged.
const (
	inCategory  = 1.0   // a note of the item's category
	outCategory = 0.15  // one of another category, if its name is said: categories are filled in loosely
	standIn     = 0.5   // a note that stands for many devices, against a particular one
	calledSo    = 100.0 // the device's text is one of the note's names
	toldSo      = 8.0   // a symptom's text has one of the note's names
	leastCalled = 6.0   // below this, a note is not asked by name alone
	mostNotes   = 4     // notes asked at most
	leastShare  = 0.08  // of a note that is asked
	wellNamed   = 0.5   // from here on a note is what the text names, and no stand-in is needed
	headWeight  = 1.5   // of the last word of a name
	otherHead   = 0.4   // of what is shared by names of different things
	unheardWord = 2.0   // weight of a word that no note's name has
)

// knownDevice is what the choice needs to know of a note.
type knownDevice struct {
	note.DeviceInfo
	names [][]string // stems
}

func knownDevices(lib *note.Library) []knownDevice {
	var out []knownDevice
	for _, d := range lib.Devices() {
		k := knownDevice{DeviceInfo: d}
		for _, n := range append([]string{d.Title, strings.ReplaceAll(d.ID, "-", " ")}, d.Names...) {
			if s := stemsOf(n); len(s) > 0 {
				k.names = append(k.names, s)
			}
		}
		out = append(out, k)
	}
	return out
}

func stemsOf(text string) []string {
	var out []string
	for _, t := range tokenize(text) {
		if !idle[t.word] {
			out = append(out, t.stem)
		}
	}
	return out
}

// shared is a note and its share in the answer.
type shared struct {
	device *knownDevice
	share  float64
}

// choose gives the notes that an item can be judged by, likeliest first: those
// of its category, those whose names its device text says, and, less surely,
// where there is no such text, those whose names its symptoms say. If nothing
// fits, the stand-ins.
func choose(known []knownDevice, category, device string, texts []string) []shared {
	called := stemsOf(device)
	var told [][]string
	for _, t := range texts {
		told = append(told, stemsOf(t))
	}
	rarity := rarities(known)
	said, named := make([]float64, len(known)), false
	for i := range known {
		said[i] = known[i].called(called, rarity)
		named = named || said[i] > wellNamed && !known[i].Generic
	}
	var out []shared
	for i := range known {
		d := &known[i]
		if named && d.Generic {
			continue // "machine" is no better name for a sewing machine
		}
		w := 0.0
		for _, t := range told {
			if len(called) == 0 && d.toldIn(t) {
				w = toldSo
			}
		}
		w = (1 + w) * (1 + (calledSo-1)*said[i])
		switch {
		case category != "" && d.Category == category:
			w *= inCategory
		case category != "" && w > 2:
			w *= outCategory
		case category != "" || w <= leastCalled:
			continue
		}
		if d.Generic {
			w *= standIn
		}
		out = append(out, shared{d, w})
	}
	if len(out) == 0 {
		for i := range known {
			if known[i].Generic {
				out = append(out, shared{&known[i], 1})
			}
		}
	}
	return largest(out)
}

// called says how well the words of a device text are one of the names, 0 to
// 1: the cubed share of what the two have in common, in words weighed by how
// few names have them. The last word says what sort of thing it is: where it
// differs, or all before it, the two are different things that share a word
// ("laptop charger" and "laptop", "coffee maker" and "bread maker").
func (d *knownDevice) called(text []string, rarity map[string]float64) float64 {
	best := 0.0
	for _, name := range d.names {
		best = max(best, likeness(name, text, rarity))
	}
	return best * best * best
}

func likeness(a, b []string, rarity map[string]float64) float64 {
	if len(a) == 0 || len(b) == 0 {
		return 0
	}
	both, all := 0.0, 0.0
	for i, s := range a {
		w := wordWeight(s, i == len(a)-1, rarity)
		all += w
		if slices.Contains(b, s) {
			both += w
		}
	}
	for i, s := range b {
		w := wordWeight(s, i == len(b)-1, rarity)
		all += w
		if slices.Contains(a, s) {
			both += w
		}
	}
	if a[len(a)-1] != b[len(b)-1] || len(a) > 1 && len(b) > 1 && !shareAny(a[:len(a)-1], b[:len(b)-1]) {
		both *= otherHead
	}
	return both / all
}

func shareAny(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

func wordWeight(stem string, last bool, rarity map[string]float64) float64 {
	w, ok := rarity[stem]
	if !ok {
		w = unheardWord
	}
	if last {
		w *= headWeight
	}
	return w
}

// rarities weighs the words of the devices' names by in how few notes they are.
func rarities(known []knownDevice) map[string]float64 {
	notes := map[string]int{}
	for i := range known {
		seen := map[string]bool{}
		for _, name := range known[i].names {
			for _, s := range name {
				if !seen[s] {
					seen[s] = true
					notes[s]++
				}
			}
		}
	}
	out := map[string]float64{}
	for s, n := range notes {
		out[s] = math.Log(1 + float64(len(known))/float64(n))
	}
	return out
}

// toldIn reports whether a text has one of the names in it, word by word.
func (d *knownDevice) toldIn(text []string) bool {
	for _, name := range d.names {
		for i := 0; i+len(name) <= len(text); i++ {
			if slices.Equal(text[i:i+len(name)], name) {
				return true
			}
		}
	}
	return false
}

// largest keeps the notes with the largest shares and makes them add up to 1.
func largest(all []shared) []shared {
	slices.SortStableFunc(all, func(a, b shared) int { return cmp.Compare(b.share, a.share) })
	all = all[:min(len(all), mostNotes)]
	sum := 0.0
	for _, s := range all {
		sum += s.share
	}
	kept := all[:0]
	left := 0.0
	for _, s := range all {
		if s.share/sum >= leastShare {
			kept = append(kept, s)
			left += s.share
		}
	}
	for i := range kept {
		kept[i].share /= left
	}
	return kept
}
