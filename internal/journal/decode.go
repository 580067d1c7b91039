package journal

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"fettler/internal/failure"
)

// Decode reads a payload. Fields it does not know stay in the event untouched.
func Decode[T any](e Event, data json.RawMessage) (T, error) {
	var p T
	if err := json.Unmarshal(data, &p); err != nil {
		return p, &failure.Error{Code: failure.StoreFail, Text: fmt.Sprintf("event %d of case %q cannot be read", e.Seq, e.Case), Next: "restore the file from a copy", Err: err}
	}
	return p, nil
}

// Failed is an error of a store as the bench reads it; that somebody gave up waiting stays as it is.
func Failed(err error) error {
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return &failure.Error{Code: failure.StoreFail, Text: "the journal could not be read or written", Next: "see that the disk has room and the file can be written, then try again", Err: err}
}
