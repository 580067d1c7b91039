// Package fit says what will do instead of a part, and why, and why not.
//
// A [Requirement] is a set of inequalities, each with its reason: "voltage at least
// 25 V, because the rail behind it is rated so". A [Candidate] is a line of the shelf
// or an offer: parameters, quantity, place, source. Each candidate is accepted or refused
// per inequality, in words and with the margin.
//
// Start at [For], which derives the usual requirement from the old part's own
// values; change or add inequalities as the circuit wants; then [NewShelf] and
// [Shelf.Search]. [Requirement.Judge] looks at one candidate.
//
// # Verdicts
//
// Accepted: every inequality is known to hold. Unproven: none fails, but the candidate
// does not state something required. NearMiss: an inequality that is not a matter of safety fails by
// no more than its slack, and no other fails worse; its risk is stated. Refused: anything else. Where
// safety depends on a figure, unknown is refused: there is no near miss.
//
// # Ranking
//
// By verdict, then by score, smaller better:
//
//	score = |ln(main value / wanted)| + 0.1·Σ max(0, ln(excess/3)) + 0.3·unproven + Σ miss/slack + 0.2·[too few pieces]
//
// where excess is how far a rating exceeds what is needed: a part rated many times over is
// usually bigger and dearer, and no better. The weights are judgement (common practice, no source).
//
// Cost: Search looks at every line once, column by column, and explains only
// what it returns; 100 000 lines take a few milliseconds.
//
// # Safety
//
// Suppression capacitors, fusible resistors, fuses, thermal fuses and varistors are
// replaced like for like only. A "better" class, a larger wattage or a higher temperature is refused,
// and the check says why.
//
// Quantities are SI, temperatures in °C, endurance in hours.
package fit
