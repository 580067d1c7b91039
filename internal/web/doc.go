// Package web is the bench's face in a browser: server-rendered pages over
// package casework. Start reading at routes.go, which is the index: one use, one
// file, named as the route's handler. case_show.go is the page most time is spent on.
//
// # Rules of the house
//
// Pages hold no rule of the trade. What to do next, why, what hurts, what each
// outcome would mean: all of it comes in words and numbers from casework.View;
// here it is only laid out. Everything works without JavaScript: plain forms, a
// POST that succeeds answers with a redirect, one that fails shows the same page
// with what was entered and one message. The script (static/bench.js) adds the
// key "/" for the say-box and keeps a form from being sent twice, nothing else; where a note is written,
// static/notes.js looks at it while one types, by the same look that the button asks for.
// On the pages of work at the board static/rework.js shows the moments of heat one
// at a time, lays the board after over the board before, and fits a picture to the screen.
//
// Nothing is fetched from elsewhere, and the Content-Security-Policy says so:
// no inline style or script, no foreign image or font. Bars are SVG in the page.
// POSTs from other sites are refused (net/http.CrossOriginProtection), and so are
// requests under host names that could be somebody else's (see guard.go), because
// the bench usually listens on a loopback address without a password.
//
// # How it looks
//
// The screen is a bench mat with paper on it. Words of this look, used as class
// names in static/bench.css and as template names in pages/:
//
//   - mat: the page's ground, a faint square grid; nothing is written on it.
//   - sheet: a piece of paper that lies on the mat; one subject each.
//   - ticket: the one thing to do now. It has a punched hole, the steps in order,
//     the cautions at the step where they matter, and at its foot the stubs. There
//     is never more than one ticket on a page.
//   - stub: a tear-off at the ticket's foot, one per outcome, as wide and tall as
//     a thumb needs; beside the answer stands how likely it is and what it would
//     mean. Tearing one off records it. Yes and no are drawn alike: which of them
//     is good news depends on the question.
//   - tape: a chance drawn as a length on a measure marked in quarters. The filled
//     part is the chance now; the small open triangle is where it stood before the
//     latest news. The figure and the chance in words stand beside it, so that
//     neither colour nor length carries anything alone.
//   - tag: a label tied to something: state, access, designator.
//   - striped edge: a caution. It is the only thing with stripes.
//
// Targets are at least 48 px high, text is 18 px, the focus ring is 3 px and never
// hidden. Colours are chosen for AA contrast in light and dark; print drops the
// mat, the forms and the colours.
//
// The texts speak of the device, not of the program, in the repairer's words.
package web
