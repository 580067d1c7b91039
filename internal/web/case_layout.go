package web

import (
	"strings"

	"fettler/internal/casework"
)

// How much is shown before "more".
const (
	suspectsShown = 6
	suspectsMore  = 24
	asksShown     = 4
	mostOthers    = 8
)

// A SuspectLine is a suspect with its tape.
type SuspectLine struct {
	casework.Suspect
	Unknown bool
}

// suspectLines are the suspects in order, the unknown fault among them.
func suspectLines(v *casework.View) (first, more []SuspectLine) {
	var all []SuspectLine
	placed := v.Unknown.Title == ""
	for _, x := range v.Suspects {
		if !placed && v.Unknown.Now >= x.Now {
			all = append(all, unknownLine(v))
			placed = true
		}
		all = append(all, SuspectLine{Suspect: x})
	}
	if !placed {
		all = append(all, unknownLine(v))
	}
	n := min(suspectsShown, len(all))
	return all[:n], all[n:min(len(all), n+suspectsMore)]
}

func unknownLine(v *casework.View) SuspectLine {
	return SuspectLine{Suspect: casework.Suspect{Chance: v.Unknown}, Unknown: true}
}

// A KnownGroup is what one event told.
type KnownGroup struct {
	Entry *casework.Entry
	Event int
	From  string
	Items []casework.Observed
	Stale bool // all of it stands no more
}

// knownGroups gathers what is known by the event that told it, latest first.
func knownGroups(v *casework.View) []KnownGroup {
	var out []KnownGroup
	for i := len(v.Known) - 1; i >= 0; i-- {
		k := v.Known[i]
		if k.Implied {
			continue // nobody looked
		}
		if n := len(out); n == 0 || out[n-1].Event != k.Event {
			out = append(out, KnownGroup{Entry: entryOf(v, k.Event), Event: k.Event, From: k.From, Stale: true})
		}
		g := &out[len(out)-1]
		g.Items = append([]casework.Observed{k}, g.Items...)
		g.Stale = g.Stale && k.Earlier
	}
	return out
}

// A FieldAsk is a free question with its form.
type FieldAsk struct {
	FieldForm
	Q casework.Question
}

func asks(v *casework.View) (first, more []FieldAsk) {
	for _, q := range v.Ask {
		a := FieldAsk{FieldForm: newField(q.Field), Q: q}
		if len(first) < asksShown {
			first = append(first, a)
		} else {
			more = append(more, a)
		}
	}
	return first, more
}

// A Line is a move in a list.
type Line struct {
	casework.Card
	Where string // where it is recorded
	Best  bool   // it is the ticket's
}

// line makes a list's line of a card.
func line(v *casework.View, c casework.Card) Line {
	l := Line{Card: c, Where: moveURL(v.Header.Case, c.Kind, c.ID)}
	l.Best = v.Next != nil && v.Next.Kind == c.Kind && v.Next.ID == c.ID
	return l
}

// otherMoves are the ranked moves behind the ticket's, at most n.
func otherMoves(v *casework.View, n int) []Line {
	var out []Line
	for _, c := range v.Ranking {
		if l := line(v, c); !l.Best && c.Blocked == "" && len(out) < n {
			out = append(out, l)
		}
	}
	return out
}

// unitBeside is the block of a step, unless its title names it already.
func unitBeside(s casework.Step) string {
	if strings.HasPrefix(s.Title, s.Unit) {
		return ""
	}
	return s.Unit
}

// moveURL is where a move is recorded.
func moveURL(id, kind, move string) string {
	switch kind {
	case "check", "repair":
		return casePath(id, kind, move)
	case "test":
		return casePath(id, "test")
	}
	return casePath(id, "close")
}
