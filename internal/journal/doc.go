// Package journal is what a bench keeps: for each case a list of events to which one only
// ever adds, and files that events name. It says what a store must be able to do, and knows
// no event's meaning; that is package casework's.
//
// Start at Journal. A store that can do more says so by what else it implements: Tracker,
// to tell what has changed; Finder and Larder, to keep beside the events what was worked
// out from them and may be thrown away.
//
// The package storetest holds what every implementation must pass.
package journal
