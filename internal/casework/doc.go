// Package casework is the case on the bench: its journal, what the journal
// amounts to, and the use-cases that write to it. The faces (command line, web)
// call it and render what it returns; no rule of the trade is in them.
//
// Start at New and Bench.Open; Bench.View is everything a face shows of a case. What is
// asked without a case is answered elsewhere: packages partdesk and heatdesk.
//
// # Where to look
//
//	event, rework_event, soak_event   what can be written down
//	effect, project, case             what it amounts to
//	deed*, record, undo, close        how it is written down
//	view, sheet*, words, timeline     how it is shown
//	ahead, foretell, rehearse, whatif what may come of it
//	soak*, rework*, power_up          proof, work at the board, first power
//	shelf*, offer*, basket, shopping  parts
//	closing, lesson*, learnt          what it teaches
//	search*, pack, account, open_data finding again and giving away
//
// # The journal is the truth
//
// A case is an append-only list of events (package journal; which there are: event.go): opened, said, noticed,
// checked, opened up, repaired, tested, ordered, arrived, remarked,
// photographed, settled, closed, reopened, and corrected and undone, which say
// something of an earlier event. Work at the board has its own: rework_event.go;
// a part fitted otherwise than it sat is warned about (View.Backwards) until it is put right or a repair says it is meant so.
// The case-less journal BenchCase holds the settings of the bench. Everything shown is a function of events and bench note:
// Project. Undoing and correcting are events like any other, so nothing is ever
// lost, and an undoing can be undone. Payloads name things by the notes' stable
// IDs; what a newer note does not know any more is listed as ignored. Fields a
// newer version wrote are kept.
//
// # What an event does to the evidence
//
// A repair begins an epoch (package belief). What was noticed, checked or tested
// is an observation in the epoch of its event, or, with Before, in the epoch that
// the repair named there ended: the test of a part that was taken out. A later
// look at the same finding in the same epoch stands instead of the earlier. That
// the whole works denies every symptom it ever showed, and no other: nobody looked.
// Only where no complaint was written down, it denies all that do not come and go by
// themselves, and these looks are marked as implied.
//
// Money and minutes are those written down, plus the note's minutes for opening
// and closing what a step needs open or closed; a case closed as fixed is put together.
//
// # Writing
//
// A use-case takes a deed (deed.go), puts it to the case as it is, and appends.
// If another writer was faster, it projects again and retries, unless what the
// deed rests on has changed (a repair, a closing, another device; for Close and
// for an Undo of the latest any event at all): then the error's code is Changed. By.Seen extends
// this to what a page showed minutes ago.
//
// # Cost
//
// A view costs one posterior, one leave-one-out posterior per observation (both
// at once, on two processors) and one advice; it is kept until the journal, the bench's settings or
// the note change, and a remark or a picture takes over what was thought. See BenchmarkView.
//
// View gives the answer at once, from one move of looking ahead. Ponder begins to
// look further in the background, with a bound on the work and not on the time, and
// to lay the plan out to its ends; View and Ahead give the better answer once it is
// there, until the case moves on. Further and Rehearse wait for it.
//
// # What is put first
//
// The planner's figures are good to a few minutes of work. Where moves come to nearly the
// same, the sheet puts the careful one first and says why (sheet_prefer.go): the
// trial after a repair that has most likely done it; what follows a look whatever it
// shows; and, until somebody has said that this bench works inside with the power on,
// what is unplugged. What only trained hands may open (guard.go) is barred until the bench
// has said that its hands are. Cautions stand once, the step's own before the
// device's (caution.go). A reading that is hard to believe is asked about (doubt.go).
//
// # Proof
//
// A soak (soak_event.go) is planned and followed by events, so that it goes on while
// nobody writes; Bench.Soak says how far it is now. How likely the fault is still
// there is the chance of those candidates that would show again what the device came
// with. That it comes back is a symptom like any other. The test list is with it.
//
// # Learning
//
// Closing a case writes down what it teaches (lesson.go), reckoned by the note alone.
// Package school keeps the lessons of all closed cases, and of files taken over from other
// benches (lesson_share.go), up to date; unless the bench's setting
// Learn is off, every note is reasoned with as they have moved it. So a view
// depends on closed cases too, and on nothing that is not in a journal or a file it names.
//
// # The shelf and buying
//
// What the shelf is, is package shelf's; here are the deeds that write to it. For which
// repairs of a case everything is there is worked out when the case is (shelf_case.go):
// the planner reckons those parts with no money and no days. A repair says in its own event what it took, and followShelf
// brings the shelf in line with it, also when it is undone. What can be bought for a
// case is one event (offer.go); Basket puts the planner's choice into words. Shopping
// asks the planner, per open case, what having the parts of a repair here is worth.
//
// # Finding again and giving away
//
// Search and Like ask the store's index (journal.Finder), which is made from the journals and
// may be thrown away. Account tells a case for others; Pack and Unpack carry everything,
// OpenRecords and ImportOpenData records of the open repair data standard: docs/exchange.md.
// Of 100,000 closed cases the first view of a process reads only what they teach, the page
// of lessons reads them short (package school, BenchmarkManyCases).
//
// # Failure
//
// Whatever a user or a note can cause is an *Error with a code, a sentence and a
// next step. Without a note, or with a broken one, a case can be kept all the
// same; its View says why nothing is reckoned.
//
// # Private
//
// The payload key "private" holds the owner, and remarks marked private; Public and
// Export leave it out, Account unless asked for.
package casework
