// Package ledger computes what closed cases teach: the bench's own odds for each
// fault mode, how well signs and repairs do what the notes say, how far stated
// chances and costs could be trusted, and what the work has saved.
//
// # Where to start
//
// Make a [Sheet] of each note with [SheetOf] and add it to a [Book]; make a
// [Record] of each closed case and add it too, with [Book.Enter] if it was made
// here, with [Book.Add] if it came sealed. [Book.Refresh] gives the
// [Lessons]; [Lessons.Apply] puts them into a copy of a note.Model and
// [Lessons.Changes] says what moved and on how many cases it rests.
// [Book.Calibration], [Book.Costs] and [Book.Savings] are the rest.
//
// SheetOf and Apply take the model as composed from the notes, never one that
// Apply has returned. If the chances in a record were computed with an applied
// model, Share.Factor (or Set.Factor) says by how much its odds differed from the
// note's; the ledger takes that out, so that it does not teach itself.
//
// # Rates
//
// Mode i of a device has own odds o_i by the note. Its factor is e^η_i with
//
//	η_i = u(kind of part, mode) + v(block, part, mode) + w(device, mode)
//	e^u ~ Gamma(2, 2)   e^v ~ Gamma(4, 4)   e^w ~ Gamma(8, 8)      fixed strengths, [Settings]
//	n_i ~ Poisson(c·E_i·e^η_i)      E_i = Σ over cases p_i / P(broken),  p = o/(1+o)
//
// c is free for every device, for a case begins with a device that is broken: only
// the ratios in it can be learned (Baker 1994: the counts are then multinomial).
// Factors are therefore stated relative to their mean: the share of faults that a
// mode has, over the share that the note gives it.
//
// n_i is not known, since a case only says how likely each fault was. Its
// candidates (Record.Sets, or made from the shares by systematic sampling, sets.go)
// are weighed anew under the present factors,
//
//	P(H | case) ∝ P_note(H | case) · Π_{i∈H} (e^η_i·o_i + b_i)/(o_i + b_i)
//
// with b_i the chance that mode i was brought about by causes in H; of a mode that
// is there, e^η·o/(e^η·o + b) counts as come by itself. This and the climb of the
// tree to its top alternate until no log factor moves by more than 1e-5
// (expectation-maximisation, sped up by SQUAREM). The tree is strictly concave in
// (u, v, w); a Newton step eliminates leaves, blocks and kinds in turn, one pass.
//
// The spread of η is Laplace's, from the information that is really in the cases,
// counts less what their uncertainty takes away (count.go). A case that knows
// nothing beyond the note teaches nothing. A factor is reported as Gamma with that
// spread, which for a single level of certain cases is the exact Gamma(s+n, s+E).
//
// # Chances
//
// Trigger chances and repair successes are Beta, k of n, each look counted with the
// chance that the trigger was active, and put down to it as far as it was the cause
// (one step of expectation-maximisation); n counted looks at one device are worth
// 3n/(2+n) at different ones (chances.go). They are pooled kind → block → device
// (triggers: block → device) as in chances.go; at each level only what others have
// seen is added, and the strength is weakened by the spread between levels.
//
// Only signs are learned; picks and readings are left as the note has them.
//
// # Sets of records
//
// A record is identified by bench, case and the hash of its content; of several
// revisions the highest counts. Merging is union, so it is commutative,
// associative and idempotent, nothing counts twice, and a case that is removed
// leaves no trace: Refresh is a function of the set, to the last bit.
// [Book.Sheets] and [Book.All] are what is given away, sheets included, so that a bench can
// learn from devices it has no note of.
//
// [Pack], [Book.Restore], [Lessons.Pack] and [UnpackLessons] are for keeping things at home:
// a tenth of the size and of the time (BenchmarkRestore), and trusted as they stand.
//
// # What the figures are worth
//
// In simulated benches the 90 % intervals hold the true factor in 86 to 93 of 100
// (TestCoverage). With blurred attribution of several faults at once this needs
// Record.Sets: shares alone do not say which went together. Shares that are cut off
// should go down to about 0.1 %.
//
// # Cost
//
// 100,000 cases of 40 devices with 60 modes: about 1.1 s from nothing and 0.5 s after a
// change, on two shared cores (BenchmarkRefresh, BenchmarkIncrement). Memory and time
// also grow with the square and the cube of the modes of one device, 1000 at most.
//
// # Failure
//
// Bad records, sheets and settings are a [*FieldError], a sentence that names the
// case, the field and what to give. Nothing here panics on them.
//
// # References
//
//   - A. P. Dempster, N. M. Laird, D. B. Rubin, Maximum likelihood from incomplete data via the EM algorithm, JRSS B 39, 1977.
//   - T. A. Louis, Finding the observed information matrix when using the EM algorithm, JRSS B 44, 1982.
//   - R. Varadhan, C. Roland, Simple and globally convergent methods for accelerating the convergence of any EM algorithm, Scandinavian Journal of Statistics 35, 2008.
//   - C. Liu, D. B. Rubin, Y. N. Wu, Parameter expansion to accelerate EM, Biometrika 85, 1998.
//   - S. G. Baker, The multinomial-Poisson transformation, The Statistician 43, 1994.
//   - A. Gelman et al., Bayesian Data Analysis, ch. 2 and 5 (Gamma–Poisson, Beta–binomial, hierarchical models).
//   - W. G. Madow, On the theory of systematic sampling II, Annals of Mathematical Statistics 20, 1949.
//   - G. W. Brier, Verification of forecasts expressed in terms of probability, Monthly Weather Review 78, 1950.
//   - A. H. Murphy, A new vector partition of the probability score, Journal of Applied Meteorology 12, 1973.
//   - D. B. Stephenson, C. A. S. Coelho, I. T. Jolliffe, Two extra components in the Brier score decomposition, Weather and Forecasting 23, 2008.
//   - C. J. Clopper, E. S. Pearson, The use of confidence or fiducial limits, Biometrika 26, 1934.
//
// All from memory but for the abstracts of Murphy 1973.
package ledger
