package words

import "strings"

// A speller knows a vocabulary and finds the word one slip away.
type speller struct {
	byLength map[int][]string
	listed   map[string]bool // in byLength
	known    map[string]bool // needs no mending: listed, or the stem of one
	base     *speller        // asked after this one, or nil; not changed
}

// shortestMended is the fewest letters a word must have to be mended: shorter
// words lie too close to each other.
const shortestMended = 5

// mendedQuality is what a mended word counts, against 1 for a known one.
const mendedQuality = 0.85

// eitherQuality is what it counts if it may be either of two words.
const eitherQuality = 0.55

// lookalikes are good words one slip from a word of the trade; they stay.
var lookalikes = wordSet(`house hours heart heard beat seat treat start stars paper power tower lower light right night sight
	eight sound round pound found board bread blend blender smell small shell spell sharp shape share short shirt sport spark
	loose close chose those choose leads loads reads heads chain charm clock black block flock clean clear price place plate
	great green brown crown drown train brain drain plain print point paint spine shine swing spring string strong wrong
	screw scene steam steal steel stream water later washer wiper waiter blade glade motor meter metal medal pedal model
	cable table fable noise poise voice speed spend steed brush crush trip strip strap stand scale stale state skate plane
	slide slice glide table tables tablet handle candle bundle needle noodle tooth booth tough touch couch pouch cover lover hover
	lever never fever level bevel travel gravel channel chapel panel heater header leader reader feeder fender sender
	where there here other mother brother bought brought thought though through cooker cooler color mover rover
	family father finish finger winter writer visit audio radio ratio video child think thing thick bring bridge fridge
	toaster coaster roaster poster roller tamper hamper damper temper bumper jumper pumped dumped amber timber member
	front frost trust crust rusty dusty musty broad spoon stool spool tools pools motor rotor motion notion option auction
	section lotion station nation ration mixer fixer mower lower sewing rowing towing bowing cutter gutter butter putter
	kettle spare spares change changer changed torch sealed looks looked better operated operates slots sorted white
	freed driver juicer brand shade massage party grass glass receiver resolve shutter shelf fairly store chair insides thorough thrown order
	older swapped toner phono remover disco batter housed tangled plunged scrap smelt sleep cycles track trace below chuck drove stove stone pulley
	freezer wiggle scratch maker shown changing continues continued strips convector closer difficulty witch which settle cattle battle bottle setting letting getting sitting fitting hitting resting testing nesting rolling tolling
	form slat clam blot gird prat unti laser layer later loser power fixed mixed wired tired hired fired lined mined tuned games names cases`)

func newSpeller(base *speller) *speller {
	return &speller{base: base, byLength: map[int][]string{}, listed: map[string]bool{}, known: map[string]bool{}}
}

func (s *speller) add(word string) {
	if s.listed[word] || s.base != nil && s.base.listed[word] {
		return
	}
	s.listed[word] = true
	s.known[word], s.known[stemOf(word)] = true, true
	s.byLength[len(word)] = append(s.byLength[len(word)], word)
}

func (s *speller) knows(word string) bool {
	return s.known[word] || s.base != nil && s.base.knows(word)
}

// mend returns the first vocabulary word, in the order added, that is one slip
// from word and begins alike, and how much it counts: little if other words are
// as near, so that it is asked back. Cost: the words of about the same length.
func (s *speller) mend(word string) (mended string, quality float64) {
	if len(word) == shortestMended-1 && !lookalikes[word] {
		return s.swapped(word)
	}
	if len(word) < shortestMended || lookalikes[word] {
		return "", 0
	}
	for _, n := range [3]int{len(word), len(word) + 1, len(word) - 1} {
		for _, w := range s.byLength[n] {
			if len(w) < shortestMended-1 || !beginsAlike(word, w) || !oneSlip(word, w) {
				continue
			}
			if mended == "" {
				mended, quality = w, mendedQuality
			} else if stemOf(w) != stemOf(mended) {
				quality = eitherQuality
			}
		}
	}
	if mended == "" && s.base != nil {
		return s.base.mend(word)
	}
	return mended, quality
}

// swapped mends a word of four letters only where two of its letters changed
// places ("trun"): other slips lead from one good short word to another.
func (s *speller) swapped(word string) (mended string, quality float64) {
	for i := range len(word) - 1 {
		w := word[:i] + word[i+1:i+2] + word[i:i+1] + word[i+2:]
		if w != word && s.isListed(w) {
			if mended != "" {
				return mended, eitherQuality
			}
			mended, quality = w, mendedQuality
		}
	}
	return mended, quality
}

// mendBeforeEnding finds the known word that an unknown one in -ing or -ed was made
// of: "stoping" of "stop", "overheting", by one slip, of "overheat".
func (s *speller) mendBeforeEnding(word string) (base string, quality float64) {
	if lookalikes[word] {
		return "", 0
	}
	for _, ending := range [2]string{"ing", "ed"} {
		cut, ok := strings.CutSuffix(word, ending)
		if !ok || len(cut) < shortestMended-1 {
			continue
		}
		if s.isListed(cut) {
			return cut, mendedQuality
		}
		return s.mend(cut)
	}
	return "", 0
}

// isListed holds for a word of the vocabulary, as it stands there.
func (s *speller) isListed(word string) bool {
	return s.listed[word] || s.base != nil && s.base.isListed(word)
}

// beginsAlike holds if the first letters agree or the first two are swapped:
// people rarely miss the first letter of a word.
func beginsAlike(a, b string) bool {
	return a[0] == b[0] || a[0] == b[1] && a[1] == b[0]
}

// oneSlip holds if a and b differ by one letter wrong, missing or too many, or
// by two neighbours swapped (Damerau 1964).
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) < len(b) {
		return len(b)-len(a) == 1 && a[i:] == b[i+1:]
	}
	if i == len(a) {
		return false // the same word
	}
	if a[i+1:] == b[i+1:] {
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && strings.HasSuffix(a, b[i+2:])
}
