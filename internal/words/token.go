package words

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/kljensen/snowball/english"
)

// A token is one word, or half of a contraction, with its place in the text.
type token struct {
	word, stem string
	start, end int
	quality    float64 // 1, less for a mended spelling
	brk        brk     // what stands between it and the word before
	question   bool    // a question mark follows
}

// brk is how strongly punctuation parts two words.
type brk uint8

const (
	none brk = iota
	slash
	clauseBreak
	sentenceBreak
)

// contractions opens the short forms people type, apostrophe or not.
var contractions = map[string]string{
	"wont": "will not", "won": "will not", "cant": "can not", "cannot": "can not", "dont": "do not", "doesnt": "does not", "doesn": "does not",
	"didnt": "did not", "didn": "did not", "isnt": "is not", "isn": "is not", "arent": "are not", "wasnt": "was not",
	"werent": "were not", "hasnt": "has not", "hasn": "has not", "havent": "have not", "hadnt": "had not",
	"wouldnt": "would not", "wouldn": "would not", "couldnt": "could not", "couldn": "could not", "shouldnt": "should not",
	"dosnt": "does not", "dosent": "does not", "doesent": "does not", "dosen": "does not", "doesnot": "does not",
	"does'nt": "does not", "did'nt": "did not", "is'nt": "is not", "do'nt": "do not", "dosn": "does not", "ain": "is not", "aint": "is not",
	"its": "it is", "thats": "that is", "theres": "there is", "im": "i am", "ive": "i have", "wo": "will not",
	"stoped": "stopped", "stoping": "stopping", "runing": "running", "geting": "getting", "ded": "dead", // not opened, but set right
}

// variants maps British, old and irregular forms to one spelling.
var variants = map[string]string{
	"odour": "odor", "odours": "odor", "colour": "color", "colours": "color", "coloured": "color", "discoloured": "discolored",
	"fibre": "fiber", "centre": "center", "vapour": "vapor", "grey": "gray", "mould": "mold", "tyre": "tire",
	"metre": "meter", "programme": "program", "aluminium": "aluminum",
	"does": "do", "did": "do", "doing": "do", "done": "do", "has": "have", "had": "have", "having": "have",
	"broke": "break", "broken": "break", "blew": "blow", "blown": "blow", "went": "go", "gone": "go", "goes": "go", "ran": "run",
	"shook": "shake", "spun": "spin", "lost": "lose", "came": "come", "kept": "keep", "gave": "give", "given": "give", "took": "take",
	"taken": "take", "heard": "hear", "froze": "freeze", "made": "make", "died": "die", "dying": "die", "dies": "die",
	"stank": "stink", "stunk": "stink", "sewn": "sew", "wound": "wind", "batterys": "battery", "batt": "battery",
	"overheated": "overheat", "overheating": "overheat", "overheats": "overheat", "ripped": "rip", "doesn't": "does", "n't": "not", "aswell": "also", "disconnected": "disconnect",
	"plugs": "plug", "hifi": "hi-fi", "telly": "tv", "tele": "tv", "switchs": "switch", "leds": "led", "wi-fi": "wifi", "nothings": "nothing",
	"bought": "buy", "held": "hold", "mins": "minutes", "min": "minute", "secs": "seconds", "sec": "second", "hrs": "hours", "starts": "start",
}

// A stemmer takes a word's ending off: stemOf, or one that remembers.
type stemmer func(word string) string

// tokenize cuts text into words. Cost is linear in its length.
func tokenize(text string, stem stemmer) []token {
	var out []token
	pending := none
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if wordRune(r) {
			end := wordEnd(text, i)
			out = appendWord(out, text[i:end], i, end, pending, stem)
			pending, i = none, end
			continue
		}
		if r == '?' && len(out) > 0 {
			out[len(out)-1].question = true
		}
		pending = max(pending, breakOf(text, i, r))
		i += n
	}
	return out
}

func wordRune(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// wordEnd finds the end of the word that begins at i. An apostrophe between
// letters and a point or comma between digits belong to the word.
func wordEnd(text string, i int) int {
	prev := rune(0)
	for i < len(text) {
		r, n := utf8.DecodeRuneInString(text[i:])
		if !wordRune(r) {
			next, _ := utf8.DecodeRuneInString(text[i+n:])
			apostrophe := isApostrophe(r) && unicode.IsLetter(prev) && unicode.IsLetter(next)
			decimal := (r == '.' || r == ',') && unicode.IsDigit(prev) && unicode.IsDigit(next)
			if !apostrophe && !decimal {
				return i
			}
		}
		prev = r
		i += n
	}
	return i
}

func isApostrophe(r rune) bool { return r == '\'' || r == '’' || r == '`' || r == '‘' || r == '´' }

func breakOf(text string, i int, r rune) brk {
	switch r {
	case '.', '!', '?', '\n', ';':
		return sentenceBreak
	case ',', ':', '(', ')', '–', '—', '[', ']', '|', '=', '>', '•', '*':
		return clauseBreak
	case '/', '&', '+':
		return slash
	case '-':
		if i > 0 && text[i-1] == ' ' || i+1 < len(text) && (text[i+1] == ' ' || text[i+1] >= 'A' && text[i+1] <= 'Z' && i > 0 && text[i-1] >= 'a') {
			return clauseBreak // "Won't stay down-Spring broken" too
		}
	}
	return none
}

// appendWord adds the word, or the words a contraction stands for.
func appendWord(out []token, raw string, start, end int, b brk, stem stemmer) []token {
	word := strings.Map(func(r rune) rune {
		if isApostrophe(r) {
			return '\''
		}
		return unicode.ToLower(r)
	}, raw)
	if word == "t" && len(out) > 0 && out[len(out)-1].word == "not" && out[len(out)-1].end+1 == start {
		out[len(out)-1].end = end // "doesn t": the stray half belongs to the word before
		return out
	}
	long, ok := contractions[word]
	if !ok {
		long, ok = openContraction(word)
	}
	if !ok {
		return append(out, newToken(word, start, end, b, stem))
	}
	for w := range strings.FieldsSeq(long) {
		out = append(out, newToken(w, start, end, b, stem))
		b = none
	}
	return out
}

// openContraction opens regular forms: n't, 's, 've, 'll, 're, 'd, 'm.
func openContraction(word string) (string, bool) {
	if base, ok := strings.CutSuffix(word, "n't"); ok {
		switch base {
		case "wo":
			base = "will"
		case "ca":
			base = "can"
		case "dosen", "dosn", "doesen", "doens", "dose", "dos":
			base = "does"
		}
		return base + " not", true
	}
	if i := strings.IndexByte(word, '\''); i > 0 {
		if long, ok := contractions[strings.ReplaceAll(word, "'", "")]; ok {
			return long, true
		}
		return word[:i], true
	}
	return "", false
}

func newToken(word string, start, end int, b brk, stem stemmer) token {
	return token{word: word, stem: stem(word), start: start, end: end, quality: 1, brk: b}
}

// remembering returns a stemmer that works each word out once; not for use by
// several goroutines.
func remembering() stemmer {
	known := map[string]string{}
	return func(word string) string {
		stem, ok := known[word]
		if !ok {
			stem = stemOf(word)
			known[word] = stem
		}
		return stem
	}
}

// stemOf gives the Porter2 stem of the word's one spelling. Words with other
// than ASCII letters are left alone.
func stemOf(word string) string {
	if v, ok := variants[word]; ok {
		word = v
	}
	for i := range len(word) {
		if c := word[i]; c < 'a' || c > 'z' {
			return word
		}
	}
	return english.Stem(word, true)
}
