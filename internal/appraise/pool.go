package appraise

import (
	"math"
	"slices"

	"fettler/internal/belief"
)

// The pool's settings. The first was judged: about the precision of a match of
// internal/words on texts it was not made with. The next two were chosen by the
// cross-validated log loss over the hand labels (TestHeldOut -grid prints it),
// which is flat around them: for symptoms alone between 1 and 1.25.
const (
	trust         = 0.8  // that what the notes were told was said
	noteSay       = 0.5  // exponent of the notes' likelihood ratio
	coolChecked   = 1.0  // divisor of the log odds when checks are stated
	coolUnchecked = 1.1  // and when they are not
	baseRates     = 0.02 // mixed in at last, for what nobody thinks of
)

// pool joins what the category, the records' words and the notes say of the classes:
//
//	z_k = ln s_k + Σ_f w_fk + Σ_g v_gk + β ln(1-τ + τ P_k/P⁰_k)
//	p_k = (1-ε) exp(z_k/T) / Σ exp(z/T) + ε s_k
//
// with s the usual shares, w and v the fitted weights of the features of
// symptoms and checks, P⁰ and P the notes' chances before and after; τ, β, T
// and ε are the constants above.
func (s *study) pool(w fitted, device string) []float64 {
	cool := coolUnchecked
	if s.checked() {
		cool = coolChecked
	}
	return mix(s.words(w, device), s.lift(s.told), s.usual, noteSay, cool, baseRates)
}

func mix(words, lift, usual []float64, say, cool, base float64) []float64 {
	z, p := make([]float64, len(words)), make([]float64, len(words))
	for k := range z {
		z[k] = (words[k] + say*lift[k]) / cool
	}
	softmaxInto(p, z)
	for k := range p {
		p[k] = (1-base)*p[k] + base*usual[k]
	}
	return p
}

func (s *study) checked() bool {
	return slices.ContainsFunc(s.texts, func(t reading) bool { return t.check })
}

// words is ln s + Σ w + Σ v. A device's name counts as words of the symptoms,
// as it does in the records.
func (s *study) words(w fitted, device string) []float64 {
	var symptom, check []string
	for _, t := range s.texts {
		if t.check {
			check = append(check, t.features...)
		} else {
			symptom = append(symptom, t.features...)
		}
	}
	symptom = append(symptom, wordFeatures(tokenize(device))...)
	return add(add(logs(s.usual), w.symptom, symptom), w.check, check)
}

// told is a note's belief as it goes into the pool. Parts that an owner names
// are not counted in: the weights of the words have them, and better.
func (s *study) told(q *asked) *belief.Belief {
	if s.checked() {
		return q.full
	}
	return q.sure
}

// lift is ln(1-τ + τ P_k/P⁰_k) of the notes together.
func (s *study) lift(of func(*asked) *belief.Belief) []float64 {
	out := make([]float64, len(classes))
	if len(s.notes) == 0 {
		return out
	}
	before, after := make([]float64, len(classes)), make([]float64, len(classes))
	for i := range s.notes {
		q := &s.notes[i]
		b := of(q)
		p0, p := q.bench.classesOf(q.bench.prior, q.bench.unknown, s.usual), q.bench.classesOf(b.First, b.Unknown, s.usual)
		for k := range classes {
			before[k] += q.share * p0[k]
			after[k] += q.share * p[k]
		}
	}
	for k := range out {
		if before[k] > 0 {
			out[k] = math.Log(1 - trust + trust*after[k]/before[k])
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

// softmaxInto writes exp(score) scaled to sum 1.
func softmaxInto(p, score []float64) {
	top := math.Inf(-1)
	for _, x := range score {
		top = max(top, x)
	}
	sum := 0.0
	for k, x := range score {
		p[k] = math.Exp(x - top)
		sum += p[k]
	}
	for k := range p {
		p[k] /= sum
	}
}
