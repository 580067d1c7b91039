// Package demo holds the invented case a new bench starts with, in mid-repair,
// so that there is something to look at before the first device of one's own is
// on the table. Start at Install. The device, its owner and all that is said of
// it are made up, and the case says so.
package demo

import (
	"context"
	"errors"
	"fmt"

	"fettler/internal/casework"
)

// Case is the name of the demonstration case.
const Case = "demo"

// device is the bench note the case is about.
const device = "powered-loudspeaker"

// Install puts the demonstration case into a journal that has no case yet, and
// says whether it did. Where there are cases already, or somebody else is
// putting it there at the same moment, it does nothing.
func Install(ctx context.Context, b *casework.Bench) (bool, error) {
	cases, err := b.List(ctx)
	if err != nil {
		return false, err
	}
	if len(cases) > 0 {
		return false, nil
	}
	_, err = b.Open(ctx, opening(), story()...)
	var e *casework.Error
	switch {
	case err == nil:
		return true, nil
	case errors.As(err, &e) && e.Code == casework.Changed:
		return false, nil
	}
	return false, fmt.Errorf("the demonstration case could not be put on the bench: %w", err)
}

func opening() casework.Opening {
	worth := 80.0
	return casework.Opening{
		By: casework.By{Who: who}, ID: Case, Device: device, Label: "Hall loudspeaker, left (invented)", Age: 14, Worth: &worth, Demo: true,
	}
}

const who = "demonstration"

// story is the evening so far: the hall's caretaker has brought the left one of a pair.
func story() []casework.Deed {
	by := casework.By{Who: who}
	rate := 6.0
	return []casework.Deed{
		casework.Remarking{By: by, Text: "This case is invented, to show what a case looks like. A repair evening in a community hall: the caretaker " +
			"brings the left one of the hall's two powered loudspeakers. Undo, correct or go on with it as you like."},
		casework.Settling{By: by, Settled: casework.Settled{Rate: &rate}},
		casework.Saying{By: by, Text: "It hums loudly all the time. Sounds distorted when the choir sings. No burning smell."},
		casework.Checking{By: by, Check: "inputs.no-cable", Answers: []casework.Answer{{Finding: "inputs.no-cable.quiet", Text: "no"}}},
		casework.OpeningUp{By: by, Access: "open"},
		casework.Checking{By: by, Check: "supply.look", Answers: []casework.Answer{
			{Finding: "supply.look.bulged", Text: "no"},
			{Finding: "supply.look.burnt", Text: "no"},
			{Finding: "supply.look.ring", Text: "no"},
		}},
	}
}
