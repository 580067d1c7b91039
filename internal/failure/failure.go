package failure

import (
	"errors"
	"fmt"
)

// Code says what sort of failure an Error is; faces map it to an exit code or a page.
type Code string

const (
	BadInput  Code = "bad-input"  // what was given makes no sense; Next says what would
	Doubtful  Code = "doubtful"   // it is hard to believe; whoever gave it may say that it is so all the same
	NotFound  Code = "not-found"  // no such case, device, check, event …
	Ambiguous Code = "ambiguous"  // several fit; Choices lists them
	Changed   Code = "changed"    // it is not as it was a moment ago: look again, then decide
	Closed    Code = "closed"     // the case is closed; reopen it first
	NoNote    Code = "no-note"    // the device's note is missing or broken
	StoreFail Code = "store-fail" // what is kept could not be read or written
)

// An Error is a failure with a sentence for the bench and what to do about it.
type Error struct {
	Code    Code
	Text    string   // what is wrong, one sentence without a full stop
	Next    string   // what to do, may be empty
	Choices []Choice // Ambiguous: what could have been meant
	Err     error    // the cause, for the log; may be nil
}

// A Choice is one thing that could have been meant.
type Choice struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	About string `json:"about,omitempty"`
}

// New is a failure with a sentence made as by fmt.Sprintf.
func New(code Code, next, format string, args ...any) *Error {
	return &Error{Code: code, Text: fmt.Sprintf(format, args...), Next: next}
}

// Error is the sentence and the next step.
func (e *Error) Error() string {
	if e.Next == "" {
		return e.Text
	}
	return e.Text + "; " + e.Next
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// CodeOf returns the code of err, or "" if it carries none.
func CodeOf(err error) Code {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return ""
}
