// Package quantity reads and prints the values of the bench: a number with a
// unit, as it stands on a part, on a meter or in a note.
//
//	4.7 kΩ    470 µF    -12 V    12 min    3.20 EUR    7.5 kg    35 %
//	30 V .. 42 V    30 .. 42 V    over 1 MΩ    under 2 V
//
// Start at Parse for one value, ParseIn when only one dimension makes sense,
// ParseRange for a range, and Quantity.String or Format to print.
//
// # What is accepted
//
// A value is a decimal number with a point (not a comma), an optional sign and
// an optional exponent, then a unit with or without a space. A unit may carry
// an SI prefix from p to T where the trade uses one. Micro is written µ, μ or
// u; ohm is written Ω (either code point) or ohm. A value without a unit has
// the unit "". Spelling is exact: mV and MV are different things.
//
// Values are kept in the base unit of their dimension, named by Quantity.Unit:
// V, A, Ω, F, H, Hz, W, J, s, kg, m, l, °C, %, and so on (unit.go).
// Every currency is a dimension of its own, because no rate of exchange is known here.
//
// # Failure
//
// Nothing here panics and no result is NaN or infinite. An error is a sentence
// that says what was found and what was expected.
package quantity
