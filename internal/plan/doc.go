// Package plan decides what to do next with a device: which check, which repair,
// when to try the whole, and when to stop.
//
// Start with New and Planner.Advise. A belief and a situation go in; an Advice
// comes out: every move ranked by the expected total cost of making it now and
// going on as well as is known, with the reasons as data.
//
// # The decision
//
//	V(b, s) = min over moves m of  c(m, s) + Σ_o P(o | b, m) · V(b^o, s')
//
// b is the belief, s the place: how far the device is open, whether a repair
// waits to be tried, what has been spent and asked. c is money + minutes × the
// bench's own rate + days of waiting × their rate + the premium for hazards +
// chance of harm × worth. The way in and out is paid when the access changes and
// so shared by all that it opens. Ending without a working device costs its
// worth less its scrap value; stop is always a move. Trying the whole is a move
// of its own, with the closing up it takes and the closing after it.
//
// # The method
//
// The base policy V₀ (base.go, order.go, look.go) makes repairs in rounds by falling
// probability per cost and tries the whole after each round. Before a repair
// it looks, if a check that tells whether the repair helps makes the cure per expected cost
// larger: the composite action "look, and repair if it speaks for it" has
//
//	cure P(yes ∧ cured),  cost  c_look + P(yes)·(c_repair + c_test)
//
// It stops when going on costs more than the loss. For exclusive faults and independent costs
// this is the optimal order, with a cover as well when it need not be closed to
// try; with several faults, shared repairs and batches it is a good policy and so an
// upper bound. The lower bound is perfect information: every world made known, and
// solved for itself, access and failing repairs included, or given up (floor.go).
//
// The answer at once (second.go) is the one-step look-ahead, every first move followed by V₀, with one step
// more for two moves: what V₀ itself would do first, which would otherwise come after
// anything that tells a little, and what most results of the best move call for next.
//
// Further thought (search.go, expand.go) is AO*: it walks from the root down the moves
// that may turn out best, into the outcome that leaves most in doubt, expands the
// leaf it finds there with V₀ at the new leaves, and backs both bounds up. One turn in
// four goes after the least lower bound, which closes the bounds; the others after
// the least upper bound with some credit for doubt, which makes the plan better.
// Situations reached in two ways are one node (keys.go). Beyond the root
// only the keenest moves are worked out at once, the others when their bound says so.
// Each expansion can only improve the answer at once, and the gap to Advice.Lower says how much is still open.
// The result depends on the number of expansions, never on the clock.
//
// A belief is carried as weighted worlds (sets of faults still there, and whether
// they show when the whole is tried, world.go); what a repair does in a world, and how a
// check comes out in it, is computed once and kept from one advice to the next.
// Checks with many findings are told apart by their most telling ones (results.go).
//
// A repair made before has less of a chance the second time (mend.go), and one not tried yet is
// not made again unless it is likelier that it failed than not; the whole is not tried again
// before something has been repaired.
//
// # What else is here
//
// Reasons as data: break-evens (breakeven.go), batches (batch.go), what would change one's mind and
// what-if (turn.go). Rehearse gives the ways it can end and their Outlook;
// Map lays out the next moves for drawing; Basket chooses what to order.
// docs/decision.md has what was measured (regret, cost against habits, calibration, speed) and the limits.
//
// # Failure
//
// Settings, situations, beliefs, offers and costs in the model that make no sense get a sentence that says which figure is wrong.
// A context that has ended before the thinking starts is an error; one that ends
// during it brings the best answer so far.
//
// # References
//
//   - J. B. Kadane, H. A. Simon, Optimal strategies for a class of constrained sequential problems, Annals of Statistics 5, 1977 (p/c).
//   - J. Kalagnanam, M. Henrion, A comparison of decision analysis and expert rules for sequential diagnosis, UAI 1988.
//   - D. Heckerman, J. S. Breese, K. Rommelse, Decision-theoretic troubleshooting, CACM 38(3):49–57, 1995.
//   - H. Langseth, F. V. Jensen, Decision theoretic troubleshooting of coherent systems, Reliability Engineering & System Safety 80, 2003 (cost clusters).
//   - T. J. Ottosen, F. V. Jensen, bottom-up P-over-C for cost clusters, arXiv 1203.3502; and on when to test after repair actions, 2010 (postponed system test). The latter from memory.
//   - R. Stern, M. Kalech, H. Shinitzky, implementing troubleshooting with batch repair, AAAI 2016. From memory.
//   - M. Hauskrecht, Value-function approximations for partially observable Markov decision processes, JAIR 13, 2000 (the lower bound). From memory.
//   - H. Warnquist, J. Kvarnström, P. Doherty, near-optimal troubleshooting by AO*. From memory.
package plan
