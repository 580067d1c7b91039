package casework

import (
	"fmt"
	"math"
	"strings"

	"fettler/internal/failure"
)

// Bounds on what is written down; beyond them it is a slip of the hand.
const (
	maxLabel   = 200    // bytes
	maxText    = 10_000 // bytes
	maxMinutes = 100_000
	maxMoney   = 1e9
	maxDays    = 3650
	maxAge     = 300
)

// text tidies what was typed.
func text(s string, most int, what string) (string, error) {
	return failure.Text(s, most, what)
}

// oneLine is a short text for a tag or a list: line breaks and runs of blanks become one blank.
func oneLine(s, what string) (string, error) {
	return text(strings.Join(strings.Fields(s), " "), maxLabel, what)
}

// figure is the number given, or the usual one if none is.
func figure(given *float64, usual float64, what string, most float64) (float64, error) {
	if given == nil {
		return usual, nil
	}
	if math.IsNaN(*given) || *given < 0 || *given > most {
		return 0, fail(BadInput, fmt.Sprintf("give a figure from 0 to %.0f", most), "%s cannot be %v", what, *given)
	}
	return *given, nil
}

// open refuses work on a closed case.
func (c *Case) open() error {
	if c.Closed == nil {
		return nil
	}
	return fail(Closed, "reopen it first", "this case was closed: %s", c.Closed.Verdict)
}

// needNote refuses what only a note can give a meaning.
func (c *Case) needNote() error {
	if c.Model != nil {
		return nil
	}
	if c.Opened.Device == "" {
		return fail(NoNote, "write it down as a remark, or correct the opening with a device", "this case has no bench note, so nothing can be reckoned from it")
	}
	return fail(NoNote, "mend the note or write it down as a remark", "the bench note %q cannot be used", clip(c.Opened.Device))
}

// repairEvent checks that event seq is a repair that counts; 0 is none.
func (c *Case) repairEvent(seq int) error {
	if seq == 0 {
		return nil
	}
	for _, a := range c.Acts {
		if a == seq {
			return nil
		}
	}
	return fail(NotFound, "give the number of the event at which the part was taken out", "event %d is no repair of this case", seq)
}
