// Package note reads bench notes: YAML files that say what can be wrong with a
// device, what each fault does, what one can see or measure, and what can be
// done. docs/notes.md is the language.
//
// Start at Load, which reads layers of notes (the shipped ones, then a folder
// of one's own) into a Library; Library.Devices lists what there is, and
// Library.Model puts one device together. A Model is what everything else in
// the program works on; nothing in it refers to YAML any more.
//
// # How a note becomes a model
//
//	file → tree (tree.go)      nodes that know file, line and column; plain YAML is read
//	                           by quick.go, all else by the YAML library, with the same tree
//	tree → definition          driven by the key tables in keys_*.go, which also make Schema
//	definition → model         compose*.go: blocks changed and joined, names resolved, order settled
//	model → priors             prior.go, temper.go
//	model → lint               what is right by the letter but cannot be meant
//
// A block that a device changes is merged as a tree and read again, so that an
// error names the file and line that is to blame, the block's or the device's.
//
// # What holds for every Model
//
//   - Conditions stand after all that is upstream of them, modes after all that brings them about.
//   - Every part has a condition, States[0] "sound"; the first effect of a mode is on it.
//   - Every row of a Table adds up to 1, no entry is below 0.001; a Leak is at least 0.001, a chance at most 0.999.
//   - Σ ln(1+Odds) over the modes is 0.26 (see prior.go).
//   - Modes, findings, checks and repairs have IDs, each unique among its sort.
//   - The same notes give the same Model, to the last bit.
//
// # Failure
//
// All that is wrong in a file is reported at once, as Problems with place, what
// is wrong and what was expected. A broken note costs the device or block it
// describes and nothing else. A warning costs nothing. No input makes this package panic; files over 1 MB are refused.
//
// # Cost
//
// Reading is linear in the size of the files and runs on all processors;
// putting a device together takes well under a millisecond and happens when its
// Model is first asked for. BenchmarkLibrary measures both, BenchmarkTree the two
// ways of making a tree: the quick one takes about a fifth of the time.
package note
