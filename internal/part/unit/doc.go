// Package unit reads and prints quantities as the repair bench writes them on
// parts: "4k7", "100n", "2n2", "1/4 W", "3,15 A", beside what package quantity reads.
//
// It is a thin layer over fettler/internal/quantity: Parse brings the bench's
// short forms to a number and a full unit and lets quantity read them; Format prints with
// the prefixes parts are sold by (1000 µF, not 1 mF; 12.5 mm).
//
// The unit wanted is always said by the caller, so "5m" is five milliohms where
// ohms are wanted and five metres where metres are. Values are plain float64
// in the unit itself (Ω, F, H, V, A, W, Hz, s, J, m, K, °C, h); "%" is held as a
// fraction (0.05 for 5 %).
//
// Parse(Format(x)) gives x back to the digits printed. Neither function ever
// gives NaN or infinity: Parse returns an error with a sentence, Format prints
// "not a number".
package unit
