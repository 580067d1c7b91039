package appraise

import (
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/words"
	"fettler/library/records"
)

// Strength of the ridge per sort of feature, in records: how many it takes to
// outweigh the guess that the feature tells nothing. Chosen by five-fold
// cross-validation of the log loss over the hand labels, which is flat around
// them: doubling or halving one changes it by under 1 %.
var ridges = map[byte]float64{'s': 4, 'o': 1, 'w': 3, 'g': 6}

const (
	fitFolds       = 5
	fitSweeps      = 60
	leastRecords   = 3   // a feature in fewer records is left out
	unstatedWeight = 0.5 // a record that tells no symptom apart from the cause
)

// What a text says of a part is guessed to add so much to the log odds of its
// class, and of dirt, before any record is looked at; and so for a part no
// record names.
var organGuess = map[state]struct{ own, dirt float64 }{
	named: {0.5, 0}, failing: {0.5, 0}, stuck: {0.5, 1}, dirty: {1, 1}, loose: {1, 0}, faulty: {1.5, 0}, good: {-1.5, 0}, inVain: {-1.5, 0},
}

// A labelled record, read.
type labelled struct {
	category      string
	class         int
	stated        bool
	first, rest   string   // the text, parted
	symptom, find []string // features of the part that tells the symptom, and of what was found
}

// readRecords reads the texts of records into features. Where a record tells a
// symptom, its first clause is taken for it and the rest for what was found;
// else the first clause may be either, and the whole is what was found.
func readRecords(recs []records.Record, index *words.Index) []labelled {
	out := make([]labelled, len(recs))
	for i, r := range recs {
		l := labelled{category: r.Category, class: classNamed(r.Class), stated: r.SymptomStated}
		l.first, l.rest = part(r.Text)
		if r.SymptomStated {
			var more string
			if l.first, more = cutCause(l.first); more != "" {
				l.rest = strings.TrimSpace(more + ". " + l.rest)
			}
		}
		found := l.rest
		if !r.SymptomStated {
			found = r.Text
		}
		l.symptom = featuresOf(index, l.first, groupOf(r.Category), false)
		l.find = featuresOf(index, found, groupOf(r.Category), false)
		out[i] = l
	}
	return out
}

// part cuts a text behind its first clause.
func part(text string) (first, rest string) {
	at := len(text)
	for _, sep := range []string{".", " - ", ";", "\n", " – ", ": "} {
		if i := strings.Index(text, sep); i > 0 && i < at {
			at = i
		}
	}
	if at >= len(text)-1 {
		return text, ""
	}
	return text[:at], text[at+1:]
}

// cutCause cuts a clause before the first word that tells of the cause or of
// what was done, unless nothing is left.
func cutCause(clause string) (symptom, rest string) {
	tokens := tokenize(clause)
	for i, t := range tokens {
		if i >= 2 && causeWords[t.word] {
			return clause[:t.start], clause[t.start:]
		}
	}
	return clause, ""
}

var causeWords = setOf(`need needs needed replace replaced replacing replacement cleaned clean cleaning fitted fixed repaired found suspect suspected
	possible possibly maybe probably likely due because resolder resoldered soldered solder diagnosed diagnosis advice advised tested checked opened unable could couldnt
	owner user changed glued adjusted tightened reconnected lubricated oiled unblocked removed refitted identified shortened`)

// A fitted pair of tables: what features of symptoms and of checks add to the
// log odds of each class.
type fitted struct{ symptom, check map[string][]float64 }

// fitTables fits both tables to the records that use lets in; offsets are the
// records' log shares. Symptoms are fitted first and by themselves, so that
// they do not leave to the finding, which an owner does not tell, what they
// can say; findings then add to them.
func fitTables(recs []labelled, offsets [][]float64, use func(i int) bool) fitted {
	var f fitted
	f.symptom = fitOne(recs, use, func(l *labelled) []string { return l.symptom }, func(i int) []float64 { return offsets[i] })
	f.check = fitOne(recs, use, func(l *labelled) []string { return l.find }, func(i int) []float64 {
		return add(offsets[i], f.symptom, recs[i].symptom)
	})
	return f
}

func fitOne(recs []labelled, use func(int) bool, features func(*labelled) []string, offset func(int) []float64) map[string][]float64 {
	names := frequent(recs, use, features)
	id := make(map[string]int, len(names))
	mean, ridge := make([][]float64, len(names)), make([]float64, len(names))
	for j, name := range names {
		id[name], mean[j], ridge[j] = j, guess(name), ridges[name[0]]
	}
	var samples []sample
	for i := range recs {
		if !use(i) {
			continue
		}
		s := sample{found: only(recs[i].class), offset: offset(i), weight: 1}
		if !recs[i].stated {
			s.weight = unstatedWeight
		}
		for _, name := range features(&recs[i]) {
			if j, ok := id[name]; ok {
				s.features = append(s.features, j)
			}
		}
		samples = append(samples, s)
	}
	out := make(map[string][]float64, len(names))
	for j, w := range maxent(samples, mean, ridge, fitSweeps) {
		out[names[j]] = w
	}
	return out
}

// frequent are the features worth a weight, sorted: those in enough records,
// and all that tell a part's state.
func frequent(recs []labelled, use func(int) bool, features func(*labelled) []string) []string {
	n := map[string]int{}
	for i := range recs {
		if use(i) {
			for _, f := range features(&recs[i]) {
				n[f]++
			}
		}
	}
	for i := range organs {
		o := &organs[i]
		for s := range organGuess {
			n[o.feature(s)] += leastRecords
		}
	}
	var out []string
	for f, count := range n {
		if count >= leastRecords {
			out = append(out, f)
		}
	}
	slices.Sort(out)
	return out
}

// guess is what a feature adds before any record is looked at.
func guess(feature string) []float64 {
	out := make([]float64, len(classes))
	for i := range organs {
		o := &organs[i]
		for s, g := range organGuess {
			if feature == o.feature(s) {
				out[classIndex(note.ClassDirt)] += g.dirt
				out[classIndex(o.class)] += g.own
			}
		}
	}
	return out
}

// add is base with the weights of the features, each counted once.
func add(base []float64, table map[string][]float64, features []string) []float64 {
	out := slices.Clone(base)
	for i, f := range features {
		if w := table[f]; w != nil && !slices.Contains(features[:i], f) {
			for k := range out {
				out[k] += w[k]
			}
		}
	}
	return out
}

// crossOffsets are the log shares of each record's category, fitted without
// the records of its fold: its own label must not speak for itself.
func crossOffsets(recs []labelled, fold func(i int) int, folds int) ([][]float64, error) {
	counts, err := records.Counts()
	if err != nil {
		return nil, err
	}
	out := make([][]float64, len(recs))
	for f := range folds {
		var labels []records.Label
		for i, r := range recs {
			if fold(i) != f {
				labels = append(labels, records.Label{Category: r.category, Class: string(classes[r.class]), SymptomStated: r.stated})
			}
		}
		shares, err := sharesOf(labels, counts)
		if err != nil {
			return nil, err
		}
		for i, r := range recs {
			if fold(i) == f {
				out[i] = logs(shares[r.category])
			}
		}
	}
	return out, nil
}

// Refit makes the text of weights.csv from the hand labels of library/records
// and the general symptoms of internal/words. The committed file is what this
// returned; a test compares them, and go test ./internal/appraise -run
// TestWeightsFile -update rewrites it.
func Refit() (string, error) {
	index, err := words.NewIndex(words.General())
	if err != nil {
		return "", err
	}
	all, err := records.Records()
	if err != nil {
		return "", err
	}
	recs := readRecords(all, index)
	offsets, err := crossOffsets(recs, func(i int) int { return i % fitFolds }, fitFolds)
	if err != nil {
		return "", err
	}
	return fitTables(recs, offsets, func(int) bool { return true }).csv()
}
