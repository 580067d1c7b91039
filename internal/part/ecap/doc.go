// Package ecap knows how aluminium electrolytic capacitors age, what they may
// measure when new, and how to judge one that was measured.
//
// Start at [Life.Expect] for expected life, [MaxESR] for the limit when new, [Judge] for a
// measured one, [Compare] for what a better part buys.
//
// # Equations
//
//	life   L = L0 · 2^((T0 − Ta)/10) · K_ripple · K_voltage
//	ripple K = 2^(−ΔT/5), or 2^((ΔT0 − ΔT)/5) when L0 was stated with ripple
//	rise   ΔT = I²·ESR / (β·S),  S = (π/4)·D·(D + 4·L)
//	ESR    = tan δ / (2π·f·C)
//
// Temperatures are in °C, rises in kelvin, life in hours, all else SI. The ten-degree rule is
// good from 35 °C to the rated temperature, best between 70 and 90 °C; below
// 35 °C the life at 35 °C is given. No more than 15 years is ever stated, because the seal ages too.
//
// # Judging a measurement
//
// See [Judge]: a documented likelihood ratio on ESR and on capacitance, with
// the prior as an argument.
//
// # Failure
//
// Figures that are not finite, negative or beyond what the equation covers are
// an error with a sentence. What is merely doubtful is a note in the result.
//
// # References
//
// Makers' life notes (ten-degree law, ripple factor, can surface), IEC 60384-4 (limits and
// end-of-life criteria), a maker's data sheet for ESR = tan δ/(2πfC). Constants from memory are marked
// where they stand.
package ecap
