package web

import (
	"slices"

	"fettler/internal/casework"
)

// A Ticket is the next move laid out: steps, then stubs.
type Ticket struct {
	casework.Card
	Where    string      // where it is posted
	Fields   []FieldForm // check
	Stubs    []Stub      // one per outcome, if one press can record it
	AllSigns bool        // check of several signs: "none of these" is one press
	RunnerUp *Line
	CanOrder bool
	First    []casework.Level
	Suppose  []Supposing // see what each outcome would change
}

// A Stub is one outcome as a button.
type Stub struct {
	Label  string
	Name   string // form field and value that the button sends; Link if empty
	Value  string
	Link   string
	Result *casework.Result
}

func newTicket(v *casework.View) *Ticket {
	if v.Next == nil {
		return nil
	}
	t := &Ticket{Card: *v.Next, Where: moveURL(v.Header.Case, v.Next.Kind, v.Next.ID), Fields: newFields(v.Next.Fields), First: v.Next.First}
	if v.RunnerUp != nil {
		l := line(v, *v.RunnerUp)
		t.RunnerUp = &l
	}
	t.Suppose = supposes(v)
	t.CanOrder = t.Kind == "repair" && len(t.Buys) > 0 && !t.AtHand
	switch {
	case t.Kind == "check" && len(t.Fields) == 1:
		t.Stubs = fieldStubs(t.Fields[0], t.Results)
	case t.Kind == "test":
		works := func(want bool) func(casework.Result) bool {
			return func(r casework.Result) bool { return r.Works == want }
		}
		t.Stubs = []Stub{{Label: "It works", Name: "works", Value: "yes", Result: resultOf(t.Results, works(true))},
			{Label: "Something is still wrong", Link: t.Where, Result: resultOf(t.Results, works(false))}}
	}
	t.AllSigns = t.Kind == "check" && len(t.Fields) > 1
	for _, f := range t.Fields {
		t.AllSigns = t.AllSigns && f.Kind == "sign"
	}
	return t
}

// fieldStubs are the answers to a single finding as buttons; a reading is typed instead.
func fieldStubs(f FieldForm, results []casework.Result) []Stub {
	name := "f." + f.Finding
	tells := func(text string) func(casework.Result) bool {
		return func(r casework.Result) bool {
			return len(r.Told) == 1 && r.Told[0].Finding == f.Finding && r.Told[0].Text == text
		}
	}
	switch f.Kind {
	case "sign":
		return []Stub{{Label: "Yes", Name: name, Value: "yes", Result: resultOf(results, tells("yes"))},
			{Label: "No", Name: name, Value: "no", Result: resultOf(results, tells("no"))}}
	case "pick":
		out := make([]Stub, len(f.Answers))
		for i, a := range f.Answers {
			out[i] = Stub{Label: capital(a), Name: name, Value: a, Result: resultOf(results, tells(a))}
		}
		return out
	}
	return nil
}

// resultOf finds the result that is meant, nil if the view lists none.
func resultOf(results []casework.Result, meant func(casework.Result) bool) *casework.Result {
	if i := slices.IndexFunc(results, meant); i >= 0 {
		return &results[i]
	}
	return nil
}

// ShownResults are the results of a move worth listing, and how many others there are.
type ShownResults struct {
	Results []casework.Result
	Others  int
	P       float64 // of the others together
}

func shownResults(c casework.Card) ShownResults {
	var s ShownResults
	s.Results, s.Others, s.P = c.Read()
	return s
}

// tells says that the ticket's own cautions name all these hazards.
func (t *Ticket) tells(hazards []casework.Caution) bool {
	for _, h := range hazards {
		same := func(c casework.Caution) bool { return c.Kind == h.Kind }
		if t == nil || !slices.ContainsFunc(t.Cautions, same) && !slices.ContainsFunc(t.Around, same) {
			return false
		}
	}
	return true
}
