package casework

import "fettler/internal/failure"

// What a call of the bench fails with. The names are those of package failure; they
// stand here too, for whoever only calls the bench.
type (
	Error  = failure.Error
	Code   = failure.Code
	Choice = failure.Choice
)

const (
	BadInput  = failure.BadInput
	Doubtful  = failure.Doubtful // By.Really says that it is so all the same
	NotFound  = failure.NotFound
	Ambiguous = failure.Ambiguous
	Changed   = failure.Changed // somebody else wrote to the case meanwhile
	Closed    = failure.Closed
	NoNote    = failure.NoNote
	StoreFail = failure.StoreFail
)

// CodeOf returns the code of err, or "" if it carries none.
func CodeOf(err error) Code { return failure.CodeOf(err) }

func fail(code Code, next, format string, args ...any) *Error {
	return failure.New(code, next, format, args...)
}

func clip(s string) string { return failure.Clip(s) }
