// Package stock reads parts as people write them on drawers, lists and order
// forms ("electrolytic 470 µF 25 V 105 °C", "resistor 4k7 1/4 W 5 %"), and whole
// lists of them as CSV.
//
// Start at Read for one line, at Open for a list.
//
// # What is read
//
// A kind of part by its usual names; figures with their units, each taken for
// the parameter that the unit stands for on that kind (275 V on a relay is its
// coil, on an electrolytic its rating); words such as X7R, low ESR, time-lag,
// TO-220. When no kind is named the line is put to package marking, and its
// reading is taken if it is clearly the most plausible. What nothing accounts for is in
// Part.Rest: Part.Whole says that there is none.
//
// # When a text says enough
//
// Requirement turns a text into what a part must satisfy (package fit), or
// says why it cannot: a word not understood, a figure missing that safety or
// function depends on, or a kind of which more must match than a line says (a
// transistor's pins). Then only the same words are the same part.
//
// # Lists
//
// A list is CSV by RFC 4180 with a line of headings, separated by commas,
// semicolons or tabs. Guess proposes what each column holds. Every line that
// cannot be taken is reported with its number and a sentence; the others are
// taken. At most MostLines lines and MostBytes bytes.
//
// References: RFC 4180 (CSV). The names of kinds and words are the trade's,
// common practice, no source.
package stock
