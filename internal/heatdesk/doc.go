// Package heatdesk answers the question at the board: how hot, how long, and what the
// parts beside it see. It takes the question in bench words (a package, hot air or an
// iron, a can 6 mm away), makes of it a job for package heat, and puts the advice into
// words, figures and a picture in time. It needs no case.
//
// Start at Reckon for one answer, here and now. A Desk takes questions in turn, since an
// answer occupies a processor for seconds, and remembers the latest; Desk.Soon says how
// far one is, so that a page need not wait. Usual is what a form begins with, Vocabulary
// the words it may use, AlloysAndLimits the tables behind it all.
//
// What a user can cause is a *failure.Error.
package heatdesk
