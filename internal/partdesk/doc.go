// Package partdesk answers what one asks with a part in the hand: what its marking may
// mean and which end the bar marks (ReadMarking), what will do instead (Desk.Instead),
// whether a measured electrolytic is bad and how long one lasts (Desk.JudgeCap, CapLife),
// how to make a value from what is there (Desk.Combine), how to empty a charged one
// (Discharge). It takes figures as they are typed, lets the packages below part reckon,
// and puts what comes out into words and numbers, each with its source.
//
// None of it needs a case. Where a shelf or a case is looked at, the desk asks a Bench
// for just that.
//
// What a user can cause is a *failure.Error.
package partdesk
