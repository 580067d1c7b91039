// Package marking reads what is printed or painted on a part, however worn,
// and gives every reading that is possible, the most plausible first.
//
// Start at [Read]. It takes any fragment: colours in words ("yellow violet red
// gold", "YE VT RD GD"), codes ("103", "66B", "4R7", "2A104J"), whole inscriptions
// ("1000µF 25V 105°C", "T3.15AH250V", "X2 0.33µF 275V~"), with "?" for a character
// or a band that cannot be made out. For each scheme there is also a plain pair of
// Encode and Decode functions which know exactly one rule and no plausibility.
//
// # Plausibility
//
// Each reading has a weight: how common such a marking is, times a factor for each
// thing that speaks for or against it (preferred value of its tolerance's
// series, usual range, reading direction, rating printed beside it, what the
// caller expects). With w the weights and w₀ = 0.02 for "something else,
// not in these tables",
//
//	plausibility_i = w_i / (w₀ + Σ_k w_k)
//
// so the plausibilities of all readings sum to less than one. The
// weights are judgement (common practice, no source): use the order and the
// reasons, not the third digit. The zero [Hint] means nothing is known.
//
// # Safety
//
// Where a part reversed or replaced by the wrong one can burst, burn or
// kill, the reading carries a caution in words. See [Polarity] for what
// the bar or band on a two-legged part means.
//
// # Failure
//
// Read returns an error with a sentence when no reading exists at all, never a
// guess; the Decode functions likewise. No input panics or gives NaN.
//
// # References
//
// IEC 60062:2016 (colour code, letter-and-digit code, date codes); IEC 60063:2015
// (preferred values); IEC 60127-1 (fuse-link marking), IEC 60384-14 (suppression classes),
// IEC 60691 (thermal-links), EIA-198 (ceramic codes). Each [Reading] carries its own
// source and mark of trust; the last four standards are used from memory.
package marking
