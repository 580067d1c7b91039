package failure_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"fettler/internal/failure"
)

func TestAFailureSaysWhatToDo(t *testing.T) {
	cause := errors.New("disk full")
	e := &failure.Error{Code: failure.StoreFail, Text: "the shelf was not written", Next: "make room", Err: cause}
	wrapped := fmt.Errorf("closing: %w", e)
	if got := e.Error(); got != "the shelf was not written; make room" {
		t.Error(got)
	}
	if failure.CodeOf(wrapped) != failure.StoreFail || !errors.Is(wrapped, cause) {
		t.Errorf("code %q of %v", failure.CodeOf(wrapped), wrapped)
	}
	if failure.CodeOf(cause) != "" || failure.CodeOf(nil) != "" {
		t.Error("what carries no code has one")
	}
	if got := failure.New(failure.NotFound, "", "there is no %q", "x").Error(); got != `there is no "x"` {
		t.Error(got)
	}
}

func TestWhatWasTyped(t *testing.T) {
	long := strings.Repeat("µ", 100)
	if got := failure.Clip(" " + long + "\xff"); got != strings.Repeat("µ", 60)+"…" {
		t.Error(got)
	}
	if got, err := failure.Text(" a\xff ", 200, "the label"); got != "a\uFFFD" || err != nil {
		t.Errorf("%q, %v", got, err)
	}
	if _, err := failure.Text(long, 199, "the label"); failure.CodeOf(err) != failure.BadInput || err.Error() != "the label is too long; keep it under 199 characters" {
		t.Error(err)
	}
	sides := []string{"left", "right"}
	for s, mayBeEmpty := range map[string]bool{"left": false, "": true} {
		if err := failure.OneOf(s, sides, mayBeEmpty, "side"); err != nil {
			t.Error(err)
		}
	}
	for _, s := range []string{"", "up"} {
		if err := failure.OneOf(s, sides, false, "side"); failure.CodeOf(err) != failure.BadInput || !strings.Contains(err.Error(), "left, right") {
			t.Errorf("%q: %v", s, err)
		}
	}
}
