// Package school keeps what closed cases teach up to date: it reads every case that was
// written to since it last did, puts what each teaches into a ledger's book, adds what other
// benches have seen, and has the ledger draw the lessons.
//
// Start at New; School.Lessons is what one reasons with, School.Open shows the book behind
// it. What the events of a case mean the school does not know: it asks its Cases. A Lesson
// stands in the event that closed a case.
//
// # What is kept between processes
//
// The lessons and the book are kept beside the journal (journal.Larder, keep.go), so that a
// new process reads only what has happened since; from the lessons alone where no closed
// case was touched. They are sealed jars that say at which event of the journal they were
// made (jar.go). What is damaged, of another form or from another journal is thrown away and
// made anew: the journal alone is the truth.
//
// # Between benches
//
// WriteBook and ReadBook are the file that one bench gives to another: docs/exchange.md.
package school
