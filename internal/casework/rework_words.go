package casework

import (
	"encoding/json"
	"fmt"

	"fettler/internal/rework"
)

// reworkWords is an event of rework in words.
func reworkWords(e Event, data json.RawMessage) (words string, err error) {
	switch e.Kind {
	case KindStepped:
		err = with(e, data, func(p Stepped) { words = steppedWords(p) })
	case KindRemoved:
		err = with(e, data, func(p Removed) {
			words = "taken off: " + OutItem{Sort: p.Sort, What: p.What, Where: p.Where, Count: p.Count, Left: p.Count}.Words()
		})
	case KindRefitted:
		err = with(e, data, func(p Refitted) { words = fmt.Sprintf("put back: %d of what event %d took off", p.Count, p.Removed) })
	case KindOriented:
		err = with(e, data, func(p Oriented) {
			side := ""
			if p.Side != "" {
				side = p.Side + " side"
			}
			words = joined(", ", p.Mark+" "+whenWords(p.When)+": "+wayWords(p.Sort, p.Points), side, p.Words)
		})
	case KindTagged:
		err = with(e, data, func(p Tagged) {
			words = joined(", ", "on the picture: "+p.Mark, wayWords(p.Sort, p.Points), p.Words)
		})
	}
	return words, err
}

func whenWords(when string) string {
	if when == "after" {
		return "as fitted"
	}
	return "as it was"
}

func steppedWords(p Stepped) string {
	title := p.Step
	if s, ok := rework.StepByID(p.Family, p.Step); ok {
		title = s.Title
	}
	what := p.Part
	if what == "" {
		what = p.Family
	}
	if p.Done {
		return what + ", done: " + lowered(title)
	}
	return what + ", not done after all: " + lowered(title)
}
