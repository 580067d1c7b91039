package words

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"
)

// An Entry is one finding and the ways of saying it.
type Entry struct {
	ID, Title string
	Phrases   []string
}

// An Index is a list of entries made ready to be looked for. It does not
// change, and may be used from many goroutines.
type Index struct {
	entries  []Entry
	phrases  []phrase
	weight   map[string]float64 // by concept
	using    map[string][]int   // concept → phrases, ascending
	patterns book
	speller  *speller
}

// A phrase is one way of saying an entry, as concepts with polarity.
type phrase struct {
	entry     int
	text      string
	terms     []term // by concept
	total     float64
	denies    bool // some term is denied
	blames    bool // it is itself worded as a cause: "broken cable"
	modifies  bool // it holds a word such as "broken", which belongs to its neighbour
	either    bool // "sometimes works" says the same as "sometimes does not work"
	lasting   bool // it says that what is normal does not end: "keeps boiling"
	deniesAct bool // some deed is denied, so that the nouns' polarity says nothing
}

type term struct {
	concept string
	neg     bool
	kind    kind
	literal string
	takes   bool // it stands with a predicate: "light is on"
}

// shared is what all indexes hold alike, made once: the pattern book and the
// vocabulary of the lexicon.
var shared = sync.OnceValues(func() (book, *speller) {
	vocabulary := newSpeller(nil)
	for _, c := range concepts {
		for _, w := range strings.FieldsFunc(c.patterns, func(r rune) bool { return r < 'a' || r > 'z' }) {
			vocabulary.add(w)
		}
	}
	return newBook(), vocabulary
})

// NewIndex prepares entries. It costs a few milliseconds for 60 entries with a
// dozen phrases each. It fails if an id is empty or used twice, or if a phrase
// holds no word that says anything ("it is").
//
// The title counts as a phrase if it says anything.
func NewIndex(entries []Entry) (*Index, error) {
	patterns, vocabulary := shared()
	x := &Index{
		entries: slices.Clone(entries), weight: map[string]float64{}, using: map[string][]int{},
		patterns: patterns, speller: newSpeller(vocabulary),
	}
	seen := map[string]bool{}
	stem := remembering()
	for i, e := range entries {
		if e.ID == "" {
			return nil, fmt.Errorf("finding number %d (%q) has no id: give it one", i+1, e.Title)
		}
		if seen[e.ID] {
			return nil, fmt.Errorf("finding id %q is used twice: rename one", e.ID)
		}
		seen[e.ID] = true
		if err := x.addEntry(i, stem); err != nil {
			return nil, err
		}
	}
	x.weigh()
	return x, nil
}

func (x *Index) addEntry(i int, stem stemmer) error {
	e := &x.entries[i]
	e.Phrases = slices.Clone(e.Phrases)
	for _, text := range e.Phrases {
		if !x.addPhrase(i, text, stem) {
			return fmt.Errorf("finding %q: the phrase %q holds no word that says anything: write what is seen, heard or smelt", e.ID, text)
		}
	}
	x.addPhrase(i, e.Title, stem)
	return nil
}

func (x *Index) addPhrase(entry int, text string, stem stemmer) bool {
	p := analyse(text, x.patterns, nil, stem)
	ph := phrase{entry: entry, text: text}
	for _, m := range p.marks {
		if m.owner > 0 {
			continue
		}
		ph.blames = ph.blames || m.blamed
		if at := slices.IndexFunc(ph.terms, func(t term) bool { return t.concept == m.concept }); at >= 0 {
			ph.terms[at].neg = ph.terms[at].neg || m.neg // "the light does not light"
			ph.denies = ph.denies || m.neg
			continue
		}
		ph.terms = append(ph.terms, term{m.concept, m.neg, m.kind, m.literal, len(m.takes) > 0})
		ph.denies = ph.denies || m.neg
		ph.deniesAct = ph.deniesAct || m.neg && m.kind != thing
	}
	for _, t := range p.tokens {
		if hasLetter(t.word) {
			x.speller.add(t.word)
		}
	}
	if len(ph.terms) == 0 {
		return false
	}
	ph.modifies = slices.ContainsFunc(ph.terms, func(t term) bool { return modifiers[t.concept] })
	ph.either = slices.ContainsFunc(ph.terms, func(t term) bool { return t.concept == "@sometimes" })
	if len(ph.terms) == 1 {
		one := ph.terms[0]
		if !ph.denies && len(p.negators) > 0 && p.denied == 0 {
			return true // what it denies is not among the terms: half of it would say the contrary
		}
		ph.lasting = !ph.denies && (normalDeeds[one.concept] || one.concept[0] != '@') && p.lasting(0)
	}
	slices.SortFunc(ph.terms, func(a, b term) int { return strings.Compare(a.concept, b.concept) })
	x.phrases = append(x.phrases, ph)
	return true
}

// modifiers say something of a thing in the same clause, or nothing.
var modifiers = map[string]bool{"@fault": true, "@need": true, "@missing": true, "@loose": true, "@crack": true, "@stuck": true}

// weigh sets each concept's weight from how many entries use it, and each
// phrase's sum.
func (x *Index) weigh() {
	users := map[string]map[int]bool{}
	for i, ph := range x.phrases {
		for _, t := range ph.terms {
			if users[t.concept] == nil {
				users[t.concept] = map[int]bool{}
			}
			users[t.concept][ph.entry] = true
			x.using[t.concept] = append(x.using[t.concept], i)
		}
	}
	n := float64(len(x.entries))
	for _, c := range slices.Sorted(maps.Keys(users)) {
		x.weight[c] = math.Log(1 + (n+1)/(float64(len(users[c]))+0.5))
	}
	for i := range x.phrases {
		for _, t := range x.phrases[i].terms {
			x.phrases[i].total += x.weight[t.concept]
		}
	}
}
