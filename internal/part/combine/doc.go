// Package combine reaches a value and a rating with the parts at hand, in series
// and parallel.
//
// Start at [Find]. It considers every series-parallel network of up to four parts
// from the stock, each piece used at most as often as there are pieces, and
// gives the closest few.
//
// # Equations
//
// Resistors and inductors add in series, capacitors in parallel; the other way round their
// inverses add. Inductors are taken as uncoupled: keep them apart and at right angles.
//
// Rating. A resistor's share of the power is R_i/R in series, R/R_i in parallel; a capacitor's share of the
// voltage in series is (1/C_i)/(1/C); an inductor's share of the (changing) current in parallel is
// (1/L_i)/(1/L). Nested networks multiply. The whole may carry
//
//	rating = min_i rating_i / share_i
//
// with the shares taken at the worst corner of all tolerances, not at the nominal values.
//
// Tolerance. Worst case: all parts low, all parts high (the value rises with every
// part). Root mean square: with a_i = ∂ln X/∂ln X_i, the share of the energy,
//
//	rms = √(Σ (a_i·tol_i)²)
//
// # Method and cost
//
// Networks of one and two parts (three when four are allowed) are listed and sorted; the
// last join is a search outward from the value still missing, so three of n values cost about
// n·log n·(answers passed over), not n³. It is exact: the tests compare it with brute force.
// Four parts are limited to 50 different values.
//
// # Safety
//
// Never build a mains suppression capacitor or a fusible resistor from
// others: they are replaced like for like.
package combine
