// Package discharge says what a charged capacitor holds, how dangerous that is,
// and how to empty it: through which resistor, for how long.
//
// Start at [Make], which turns capacitance and voltage into a [Plan]; or use the plain
// equations.
//
// # Equations
//
//	E = ½·C·V²     v(t) = V0·e^(−t/RC)     t = RC·ln(V0/V)
//	peak current V0/R, peak power V0²/R, energy into the resistor ½·C·(V0² − V²)
//
// SI units throughout. All results are finite or an error with a sentence.
//
// # Trust
//
// Every limit carries its source and how far to trust it ([Limit]). Most touch limits of
// the standards are from memory here: they are a reason for care, not a permission to
// touch. Measure, always, and measure again: dielectric absorption brings back up to about a tenth of the
// voltage.
//
// # Safety
//
// Above 1000 V (microwave ovens, picture tubes, flash tubes in series) no procedure
// is given: that is trained hands' work.
//
// # References
//
// IEC 62368-1 tables 4 and 5; IEC 60335-1 clause 22.5; NFPA 70E article 360; a laboratory leaflet on the discharge
// of capacitors (0.1, 0.25 and 10 J). Marks of trust stand at each figure.
package discharge
