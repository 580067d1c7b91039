// Package appraise says, of broken devices described in a few words, what is
// likely wrong with each: the classes of cause by chance, the parts and fault
// modes behind them, what was understood of each text, and the next moves.
//
// Start at [New] and [Appraiser.Appraise]; [ReadItems] reads a list of items.
// docs/appraisal.md has the figures and the cautions.
//
// # The method
//
// Four sources are joined, because none is good alone:
//
//  1. What is usual. s is the share of each class in the repair records of the
//     item's category, blended with those of the categories of the notes the
//     device is found to be (shares.go, device.go).
//
//  2. The records' words, and the trade's. Features f of a text are general symptoms
//     (internal/words), parts it names with their state (organread.go), and
//     stems of words. What each adds to a class's log odds is fitted to the
//     2,637 hand-labelled records of library/records by a multinomial logistic
//     model with a ridge (maxent_test.go):
//
//     P(k) ∝ s_k exp(Σ_f w_fk),  minimising  -Σ ln P(k_r | r) + ½ Σ ρ_f (w_fk - μ_fk)²
//
//     Symptoms first (w), by the first clause of a record up to the word that
//     begins to tell of the cause ("needs", "cleaned", "found"), and to 2,500
//     judgements of the trade (library/judged), whose k is a mix; then what was
//     found adds to them (v), by the rest of the records. μ is 0, and for a part's state a guess:
//     found faulty, odds ×4.5; found good, ×0.22. Features of a group of like
//     categories take over when the records of the group agree (Refit).
//
//  3. The bench notes. The texts' findings are looked for in up to four
//     notes, and parts named become findings of an appraisal copy of the model
//     with likelihood ratios 5 (named), 50 (found faulty), 1/10 (found good).
//     belief.Engine gives P(mode | texts); P⁰ and P are the sums by class before
//     and after, averaged over the notes, the unknown fault's mass going to s.
//
//  4. The pool. A text is read right in about four of five cases, so a note's
//     ratio is mixed with 1 (τ = 0.8) before it is raised to β:
//
//     z_k = ln s_k + Σ_f w_fk + Σ_g v_gk + β ln(1-τ + τ P_k/P⁰_k)
//     p_k = (1-ε) exp(z_k/T) / Σ_j exp(z_j/T) + ε s_k
//
//     β, T and ε are in pool.go, with how they were chosen.
//
// Inside a class the notes decide: its chance is shared out over their modes by
// P(mode | texts). Moves are those of internal/plan for the likeliest note,
// its sets of faults weighted by p_k/P_k of their classes.
//
// # What it promises
//
// Chances are from 0 to 1, one row per class, and add up to 1. The same library
// and item give the same result. An [Appraiser] is safe for concurrent use and
// keeps an engine per device asked for; an item costs some milliseconds, most
// of it for the moves (BenchmarkAppraise).
//
// # Failure
//
// An item that cannot be (no device and no category, an unknown category, an
// absurd age) is an error that says what to write instead. A note that cannot
// be used is passed over. An item that tells nothing gets what is usual.
// The age is checked and otherwise not used: the records know it too seldom.
//
// # References
//
//   - C. Genest, J. V. Zidek, Combining probability distributions: a critique and
//     an annotated bibliography, Statistical Science 1 (1986) 114–148
//     (logarithmic pool). From memory.
//   - D. Böhning, Multinomial logistic regression algorithm, Annals of the
//     Institute of Statistical Mathematics 44 (1992) 197–200.
//   - R. C. Jeffrey, The Logic of Decision, 2nd ed. 1983, ch. 11 (uncertain
//     evidence). From memory.
//   - C. Guo et al., On calibration of modern neural networks, ICML 2017
//     (one divisor of the log odds). From memory.
//   - Data: Open Repair Data, Open Repair Alliance, CC BY-SA 4.0, adapted; see
//     library/records.
package appraise
