// Package house holds tests over the whole repository, so that habits stay
// alive: who may import whom and why (rooms_test.go), one package comment for
// each package, files that a person reads in one go, no path of the machine it
// was written on, documents whose commands exist, tests that are not skipped,
// reference data that names its source. There is nothing else in it.
package house
