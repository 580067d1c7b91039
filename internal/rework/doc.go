// Package rework holds the rules of taking a part off a board and putting one
// on: which steps in which order, which way round, and how to give the whole its
// first power afterwards. It is data and small functions; it keeps nothing.
//
// # Where to start
//
// [Families] lists the families of packages and [Steps] the ordered steps of
// one, each with its cautions. [WayRound] says by which mark a kind of part shows
// its polarity or its pin 1, [Direction] is where such a mark points, and
// [Designators] takes a note's "C1, C2" or "D1…D4" apart. [FirstPower] sizes the
// series lamp or the limited supply for one device and says what to expect; [FeedOf] is
// how a device is fed by its note.
//
// # Equations
//
// A lamp of P watts for U volts has a hot resistance of U²/P, and about a
// twelfth of it cold (a tenth to a fifteenth); with a dead short behind it flows
// P/U. A heating element between the plug's pins has U²/P, a little less cold. A supply's first limit is a tenth of the device's own current P/U, and no
// less than 50 mA.
//
// # Units and ranges
//
// Volts, watts, amperes, ohms. Powers from 0.1 W to 20 kW, mains from 90 V to
// 260 V, direct voltages from 0.5 V to 120 V; anything else is an error with a
// sentence. Directions are as one sees the side of the board they are told of.
//
// # Trust
//
// The steps are common practice without a single source, and say so; where a
// step rests on a standard, [Step.Source] names it and says how far the figure
// was checked. The reminders are no training: local rules and the limits of
// one's licence come first.
//
// # References
//
// J-STD-020 and J-STD-033 (bodies, moisture), quoted in data sheets; see package heat.
package rework
