package appraise

import (
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/note"
	"fettler/internal/words"
	"fettler/library/judged"
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
	leastRecords   = 3    // a feature in fewer records is left out
	unstatedWeight = 0.5  // a record that tells no symptom apart from the cause
	judgedWeight   = 3    // a row of library/judged; the log loss is flat from 1 to 8
	unthought      = 0.03 // of such a row, for classes that nobody thought of
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

// An example is what a table is fitted to: features, the share of each class
// in what was found behind them, and what is known before they are looked at.
type example struct {
	features []string
	found    []float64
	offset   []float64 // log weight of each class
	weight   float64   // in records
}

// judgedExamples are the trade's odds, read as an owner's words are.
func judgedExamples(index *words.Index, shares shareTable) ([]example, error) {
	rows, err := judged.Rows()
	if err != nil {
		return nil, err
	}
	out := make([]example, len(rows))
	for i, r := range rows {
		e := example{
			features: append(featuresOf(index, r.Symptoms, groupOf(r.Category), true), wordFeatures(tokenize(r.Device))...),
			found:    make([]float64, len(classes)), offset: logs(shares[r.Category]), weight: judgedWeight,
		}
		for k := range e.found {
			e.found[k] = unthought / float64(len(classes))
		}
		for class, p := range r.Odds {
			e.found[classNamed(class)] += (1 - unthought) * p
		}
		out[i] = e
	}
	return out, nil
}

// fitTables fits both tables to the records that use lets in and, for the
// symptoms, to what the trade judged; offsets are the records' log shares.
// Symptoms are fitted first and by themselves, so that they do not leave to the
// finding, which an owner does not tell, what they can say; findings then add
// to them.
func fitTables(recs []labelled, offsets [][]float64, use func(i int) bool, trade []example) fitted {
	told, found := slices.Clone(trade), []example(nil)
	for i := range recs {
		if l := &recs[i]; use(i) {
			told = append(told, example{features: l.symptom, found: only(l.class), offset: offsets[i], weight: l.weight()})
		}
	}
	f := fitted{symptom: fitOne(told)}
	for i := range recs {
		if l := &recs[i]; use(i) {
			found = append(found, example{features: l.find, found: only(l.class), offset: add(offsets[i], f.symptom, l.symptom), weight: l.weight()})
		}
	}
	f.check = fitOne(found)
	return f
}

func (l *labelled) weight() float64 {
	if l.stated {
		return 1
	}
	return unstatedWeight
}

func fitOne(examples []example) map[string][]float64 {
	names := frequent(examples)
	id := make(map[string]int, len(names))
	mean, ridge := make([][]float64, len(names)), make([]float64, len(names))
	for j, name := range names {
		id[name], mean[j], ridge[j] = j, guess(name), ridges[name[0]]
	}
	samples := make([]sample, len(examples))
	for i, e := range examples {
		s := sample{found: e.found, offset: e.offset, weight: e.weight}
		for _, name := range e.features {
			if j, ok := id[name]; ok && !slices.Contains(s.features, j) {
				s.features = append(s.features, j)
			}
		}
		samples[i] = s
	}
	out := make(map[string][]float64, len(names))
	for j, w := range maxent(samples, mean, ridge, fitSweeps) {
		out[names[j]] = w
	}
	return out
}

// frequent are the features worth a weight, sorted: those in enough examples,
// and all that tell a part's state.
func frequent(examples []example) []string {
	n := map[string]int{}
	for _, e := range examples {
		for _, f := range e.features {
			n[f]++
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
	trade, err := judgedExamples(index, shippedShares())
	if err != nil {
		return "", err
	}
	return fitTables(recs, offsets, func(int) bool { return true }, trade).csv()
}

// csv writes the tables, a line per feature: in which table, the feature, and
// the weight per class in hundredths of a natural logarithm.
func (f fitted) csv() (string, error) {
	head := []string{"text", "feature"}
	for _, c := range classes {
		head = append(head, string(c))
	}
	lines := [][]string{head}
	for _, t := range []struct {
		name string
		rows map[string][]float64
	}{{"symptom", f.symptom}, {"check", f.check}} {
		var names []string
		for n := range t.rows {
			names = append(names, n)
		}
		slices.Sort(names)
		for _, n := range names {
			line := []string{t.name, n}
			for _, w := range t.rows[n] {
				line = append(line, strconv.Itoa(int(math.Round(100*w))))
			}
			lines = append(lines, line)
		}
	}
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(lines); err != nil {
		return "", fmt.Errorf("weights.csv: %w", err)
	}
	return b.String(), nil
}

// sharesOf fits shares to some of the records, for the fit and its validation.
func sharesOf(labels []records.Label, counts []records.Count) (shareTable, error) {
	rows, err := records.Fit(labels, counts, categoryGroups)
	if err != nil {
		return nil, err
	}
	out := shareTable{}
	for _, r := range rows {
		if out[r.Category] == nil {
			out[r.Category] = make([]float64, len(classes))
		}
		out[r.Category][classNamed(r.Class)] = float64(max(r.Millionths, 1)) / 1e6
	}
	return out, nil
}
