// Package part names what a repairer holds in the hand: the kinds of
// electronic part, and how far a figure about them may be trusted.
//
// It is the small common ground of a family of rooms, each one idea:
//
//   - unit reads and prints quantities the way the trade writes them (4k7, 100n, 35 V);
//   - eseries holds the preferred values of IEC 60063;
//   - marking reads what is printed or painted on a part, however worn;
//   - fit says whether another part will do instead, and why not;
//   - ecap knows how aluminium electrolytics age and how to judge one measured;
//   - combine reaches a value and a rating with the parts at hand;
//   - discharge says what a charged capacitor holds and how to empty it.
//
// Start at marking.Read when there is a part with a marking, at fit.For when
// the old part's value is known.
//
// All the rooms are pure: no input, no output, no clock, no globals but
// immutable tables. Quantities are float64 in SI units (farad, ohm, volt,
// metre, second) unless the name of the field says otherwise: temperatures are in
// degrees Celsius (…C), life in hours (…Hours), tolerances are fractions.
package part
