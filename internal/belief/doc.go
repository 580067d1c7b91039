// Package belief computes what is wrong with a device, given a note.Model and
// what has been seen, measured and repaired so far.
//
// Start with New and Engine.Posterior. Evidence goes in, a Belief comes out:
// per fault mode the chance that it was there when the device came and that it
// is there now, the likeliest candidates, and how much is left out.
//
// # The mathematics
//
// A candidate H is a set of fault modes. In a device that was handed over as
// broken it is not empty. Its prior weight, relative to a sound device, is
//
//	w(H) = Π_{i∈H} (o_i + b_i(H)) · Π_{i∉H} (1 - b_i(H)),   b_i(H) = 1 - Π_{c∈H causes i} (1 - κ_ci)
//
// with o_i the prior odds of mode i and κ_ci the chance that mode c brings it
// about: independent faults, and damage that follows damage.
//
// A condition's state is the most severe of what the modes in H do to it and
// what it inherits from upstream: a deterministic function of H, evaluated in
// topological order. Findings are independent given H:
//
//	sign     P(shows | H) = 1 - (1-λ)·Π_{active triggers} (1-q)      noisy-OR with leak λ
//	pick     P(answer | H) = table[state of a condition][answer]
//	reading  p(x | H) = (1-s)·f_state(x) + s·mean over states f(x),  s = 0.02 for slips
//	counted  P(k of n | H) ∝ B(2p+k, 2(1-p)+n-k) / B(2p, 2(1-p)), p as for a sign; B is Euler's beta function
//
//	P(H | e) ∝ w(H) · Π_j P(e_j | H)
//
// Counted looks at one device are not independent: it has a chance of its own, of which the
// note knows the mean (likelihood.go gives the concentration and why). So nine clicks of ten
// say more than one of one, but far less than ten devices would.
//
// Epochs: a repair divides time. Over it a mode in H is cleared with the
// repair's success; one that was cleared is brought about again with chance
// b_i by causes that stayed (a new fuse on an old short blows); a mode that the
// repair may do as harm appears with that chance. A finding is judged by the
// modes present in its epoch. So the test of a part that has been taken out is
// simply an observation in an earlier epoch.
//
// The unknown fault is a candidate of its own: each finding comes out as often
// as for some known fault, but independently of the others (unknown.go). It
// gains exactly when no known fault explains findings together.
//
// # The method
//
// Candidates that the evidence cannot tell apart are never told apart. A sweep
// decides the modes one after the other and carries, instead of sets, only what
// the rest of the evidence can still see of them: the states of the conditions
// on the frontier and which signs have been struck (for a two-layer noisy-OR
// network this is the subset-of-explained-findings recursion, n·2^m). As soon as
// a condition is complete its observations are judged and it is forgotten. Forward
// and backward passes give the total and all marginals exactly; the order of
// decisions is chosen greedily to keep the frontier narrow. Should it get wider
// than Options.MaxStates, the lightest states are pruned and Belief.Bound says
// how much any chance can be off, as the dropped weight times the largest factor the
// remaining steps could multiply it by.
//
// Candidates are then listed best-first along the same sweep, whose backward
// pass taken with max instead of sum is an exact estimate of the best
// completion; each listed candidate is weighed afresh by the formula above, so
// Belief.LeftOut is what is really missing from the list.
//
// All weights are scaled per step and totals are kept as logarithms, so that
// evidence of any length neither underflows nor overflows.
//
// # Cost
//
// About 0.2 ms per posterior on a device of 60 modes and 90 findings, plus
// 2 ms to list 400 candidates; see BenchmarkPosteriorDevice and BenchmarkWide.
//
// # References
//
//   - J. Pearl, Probabilistic Reasoning in Intelligent Systems, 1988, §4.3.2 (noisy-OR).
//   - M. Henrion, Some practical issues in constructing belief networks, UAI 1987 (leak). From memory.
//   - D. Heckerman, A tractable inference algorithm for diagnosing multiple diseases, UAI 1989 (Quickscore).
//   - J. G. Skellam, J. R. Stat. Soc. B 10:257–261, 1948 (Beta-binomial). From memory.
//   - J. de Kleer, B. C. Williams, Diagnosing multiple faults, Artificial Intelligence 32:97–130, 1987.
//   - J. S. Breese, D. Heckerman, Decision-theoretic troubleshooting: a framework for repair and experiment, UAI 1996 (persistence across repairs). From memory.
package belief
