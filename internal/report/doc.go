// Package report writes up a case so that others can follow it: as a web page in
// one file, as Markdown, as PDF, and as the beginning of a bench note. Start at
// [New]; what is told and what is left out is casework's to say (Account).
//
// Designators that were tapped on a photo are drawn on it (marks.go), and said in
// words below it.
//
// [DrawHeat] draws the heat of rework for the page, [HeatSVG] a moment of it as a file.
//
// # Forms
//
//   - HTML: one file with its pictures inside, no script, nothing from elsewhere;
//     readable on a phone, on paper, in the dark.
//   - Markdown: CommonMark for a forum or a wiki, by itself or in a zip file with
//     the pictures beside it.
//   - PDF: A4, core fonts in Windows-1252. What that code page lacks is spelt out
//     (Ω as ohm, ≥ as >=); letters of other scripts become question marks.
//   - Starter: YAML of a bench note for the device, which loads: its symptoms, its
//     faults with what they showed, the repairs done.
//     It is a beginning: every chance in it is a guess to be replaced.
//
// # Cost and failure
//
// Linear in the account. A picture that cannot be read is left out and counted.
// Nothing here can fail but the writer and the pictures' store.
package report
