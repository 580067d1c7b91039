package journal

import (
	"encoding/json"
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
