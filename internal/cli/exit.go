package cli

import (
	"context"
	"errors"
	"slices"
	"strings"
	"unicode/utf8"

	"fettler/internal/casework"
	"fettler/internal/note"
)

// An Exit is what the program ends with. The numbers do not change.
type Exit int

const (
	OK          Exit = 0   // done
	No          Exit = 1   // done, and the answer is no: a note has faults, there is nothing to advise
	Usage       Exit = 2   // what was typed makes no sense
	NotFound    Exit = 3   // no such case, device, check, event, file
	Conflict    Exit = 4   // somebody else has written to the case meanwhile
	BadNote     Exit = 5   // the bench note is missing or broken
	Ambiguous   Exit = 6   // several things could be meant
	CaseClosed  Exit = 7   // the case is closed
	StoreFailed Exit = 8   // the journal could not be read or written
	Bug         Exit = 70  // a fault of the program
	Interrupted Exit = 130 // stopped by the user
)

// exitOf is the one place where errors become exit codes.
func exitOf(err error) Exit {
	var usage *usageError
	var problems note.Problems
	switch {
	case err == nil:
		return OK
	case errors.Is(err, context.Canceled):
		return Interrupted
	case errors.As(err, &usage):
		return Usage
	}
	switch casework.CodeOf(err) {
	case casework.BadInput, casework.Doubtful:
		return Usage
	case casework.NotFound:
		return NotFound
	case casework.Changed:
		return Conflict
	case casework.NoNote:
		return BadNote
	case casework.Ambiguous:
		return Ambiguous
	case casework.Closed:
		return CaseClosed
	case casework.StoreFail:
		return StoreFailed
	}
	if errors.As(err, &problems) || errors.Is(err, note.ErrNoDevice) {
		return BadNote
	}
	return Bug
}

// A usageError is a command line that cannot be understood. Try is the command
// as it may have been meant, if it can be guessed.
type usageError struct {
	text string
	next string
	try  []string
}

func (e *usageError) Error() string { return e.text }

// A fault is an error as it is shown: the sentence, what to do, and the
// commands that would do it.
type fault struct {
	Code    string            `json:"code"`              // "usage", "bug", "interrupted", "bad-note", or one of casework's
	Exit    Exit              `json:"exit"`              // exit code
	Text    string            `json:"text"`              // what is wrong
	Next    string            `json:"next,omitempty"`    // what to do
	Choices []casework.Choice `json:"choices,omitempty"` // what could have been meant
	Try     []string          `json:"try,omitempty"`     // commands that can be typed as they stand
}

// faultOf turns an error into what is shown of it.
func faultOf(err error) fault {
	f := fault{Exit: exitOf(err), Text: err.Error()}
	var usage *usageError
	var known *casework.Error
	var tried *tryError
	if errors.As(err, &tried) {
		f.Try = tried.try
		f.Text = tried.err.Error()
	}
	switch {
	case errors.As(err, &usage):
		f.Code, f.Next, f.Try = "usage", usage.next, append(f.Try, usage.try...)
	case errors.As(err, &known):
		f.Code, f.Text, f.Next, f.Choices = string(known.Code), known.Text, known.Next, known.Choices
		if known.Code == casework.StoreFail && known.Err != nil && !strings.Contains(f.Text, known.Err.Error()) {
			f.Text += ": " + cause(known.Err)
		}
	case f.Exit == Interrupted:
		f.Code, f.Text = "interrupted", "stopped"
	case f.Exit == BadNote:
		f.Code, f.Next = "bad-note", "mend the note; fettler note lint shows all that is wrong"
	default:
		f.Code, f.Next = "bug", "this is a fault of the program or of the machine; the case is as it was"
	}
	f.Text = shortened(f.Text)
	f.Try = slices.DeleteFunc(f.Try, func(t string) bool { return len(t) > mostTry })
	return f
}

// What was typed comes back in a sentence up to so many characters of a word, and in
// a command up to so many bytes.
const (
	mostWord = 200
	mostTry  = 1000
)

// shortened cuts the words of a sentence that nobody would read to their end.
func shortened(text string) string {
	if utf8.RuneCountInString(text) <= mostWord {
		return text
	}
	words := strings.Split(text, " ")
	for i, w := range words {
		if r := []rune(w); len(r) > mostWord {
			words[i] = string(r[:60]) + "…" + string(r[len(r)-1:])
		}
	}
	return strings.Join(words, " ")
}

// A tryError adds commands that would help to an error.
type tryError struct {
	err error
	try []string
}

func (e *tryError) Error() string { return e.err.Error() }

func (e *tryError) Unwrap() error { return e.err }
