// Package words finds which findings of a bench note a person's own words
// state or deny: "wont turn on", "humming but no music", "no smell, lamp
// flickers". Start at [NewIndex] and [Index.Read]; [General] is the list of
// symptoms for a device without a note.
//
// # What it does
//
// A text is cut into words, sentences and clauses. Contractions are opened
// ("wont" is "will not"), spellings unified, endings taken off (Porter2), a
// word nobody knows is read as the known word one slip away. Runs of words that
// are one idea of the trade become a concept ("comes on", "powers up": @on),
// some of them denied from birth ("dead": @on, denied). A negator denies the
// concepts it reaches, up to one that denies by itself: in "no display no sound
// dead" the last is not denied once more, and a light, a sound or a picture that is
// not there says nothing beside "dead". What "used to" be so is left out. A part
// takes over what is said of it: in "display does not come on" the display is
// denied, and the device is not called dead.
//
// A phrase of an entry goes through the same mill once, and becomes a set of
// concepts C with a polarity each. Against one sentence its score is
//
//	s = 0.96 · k² · g · q,   k = Σ w(c) found / Σ w(c),   w(c) = ln(1 + (N+1)/(n(c)+½))
//
// N entries, n(c) of them using c (Spärck Jones's inverse document frequency,
// smoothed for short lists); g falls with words between and with clauses
// crossed, q with slips of spelling, guesses ("maybe"), stated causes
// ("needs new battery") and concepts that were said about something else.
// An entry scores as its best phrase.
//
// What says too little, or is spoken against by the rest, is asked back rather
// than assumed: that some light is on, "dead" of a device one of whose lights is
// on, a statement put together from two clauses each of which is one by itself,
// a slip that may be either of two words. A part named without a predicate does
// not stand for a phrase with one ("light" for "light is on"), nor what is normal
// for what will not end ("boils" for "keeps boiling"). Words that one entry stated
// elsewhere may mean as well do not state another ("dead, no light").
//
// A phrase without a negation is denied where any of its concepts is ("no
// smell"). One with a negation ("does not heat") is denied where the concept is
// affirmed without limit ("heats fine", not "heats slowly", not "when it heats").
//
// # What it promises
//
// Deterministic; no panic on any input, valid UTF-8 or not; every span lies
// within the text; scores are in (0, 1]. Of a text beyond 2000 words the rest
// is Unread. Read costs tens of microseconds for a
// sentence. An Index is immutable and safe for concurrent use. Scores are
// ordered sensibly and calibrated only roughly: see the test's table.
//
// # What it does not do
//
// It knows English only, no grammar, and no device: "the belt sings" is read
// only by an entry that says so. What it could not place is in Reading.Unread.
//
// # References
//
//   - M. F. Porter, English (Porter2) stemming algorithm, snowballstem.org.
//   - K. Spärck Jones, A statistical interpretation of term specificity and its
//     application in retrieval, J. Documentation 28 (1972) 11–21.
//   - F. J. Damerau, A technique for computer detection and correction of
//     spelling errors, Comm. ACM 7 (1964) 171–176: one slip is one letter wrong,
//     missing or too many, or two swapped.
//   - W. W. Chapman et al., A simple algorithm for identifying negated findings
//     and diseases in discharge summaries, J. Biomed. Inform. 34 (2001) 301–310:
//     negators with a reach of a few words, ended by terms such as "but".
package words
