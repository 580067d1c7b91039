package casework

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/plan"
	"fettler/internal/quantity"
	"fettler/internal/shelf"
)

// moves fills in what to do next.
func (s *sheet) moves(v *View) {
	if s.advice == nil {
		return
	}
	for _, r := range s.advice.Ranking {
		v.Ranking = append(v.Ranking, s.card(r))
	}
	for i := range v.Ranking {
		c := &v.Ranking[i]
		switch {
		case c.Blocked != "":
		case v.Next == nil:
			v.Next = c
		case v.RunnerUp == nil && !s.idle(i):
			v.RunnerUp = c
		}
	}
	if v.Next == nil {
		v.NoNext = "nothing that is known helps any further"
		return
	}
	v.Next.Why = s.whyNext(v.Next, v.RunnerUp)
	v.Outlook = &Outlook{Success: s.advice.Success, Money: s.advice.Money, Minutes: s.advice.Minutes, Gain: s.advice.Gain, StopAt: s.stopAt(v.Next), Depth: s.advice.Depth, Further: s.further, Goes: s.goes(s.advice.Going)}
	s.together(v.Next)
}

// idle says that the move at index i is a look after which the best one is made
// anyway: no other way to go on.
func (s *sheet) idle(i int) bool {
	next, ok := s.advice.Ranking[i].Follows()
	return ok && next == s.advice.Best.Move
}

func (s *sheet) card(r plan.Ranked) Card {
	c := Card{Kind: r.Kind.String(), Expect: r.Total, Behind: r.Behind, Blocked: r.Blocked, Cures: r.Cures, Total: r.Cost.Minutes + r.Cost.Access, Results: []Result{}, Further: []Ref{}}
	switch r.Kind {
	case plan.Check:
		c.Step = s.check(r.Index)
	case plan.Repair:
		c.Step = s.repair(r.Index)
	case plan.Test:
		c.Step = s.trial(r)
	default:
		c.Step = s.stop()
	}
	if c.Blocked != "" && s.forTrained(r.Move) {
		c.Blocked = "only hands trained on such a device may open it"
	}
	rate := s.c.Settings.Rate
	c.Cost = Cost{Money: r.Cost.Money, Time: c.Total / 60 * rate, Days: r.Cost.Days, Hazard: r.Cost.Hazard, Harm: r.Cost.Harm, Total: r.Cost.Total}
	for i, x := range r.Results {
		res := s.result(r.Kind, s.moveTitle(r.Move), x)
		if !x.Works {
			res.Then = s.then(r.Move, i, x.Next)
		}
		c.Results = append(c.Results, res)
	}
	c.Pays = s.pays(r.Move, r.Pays)
	c.Why = s.plainWhy(&c)
	return c
}

func (s *sheet) trial(r plan.Ranked) Step {
	at := trialLevel(s.k.m, s.c.Access, s.c.Settings.shut())
	x := Step{Title: "Try the whole device", Minutes: r.Cost.Minutes, Access: s.c.level(at), Live: true, With: []string{}, First: []Level{}, Back: s.someLevels(pathBack(s.k.m, s.c.Access, at)), Shelf: []shelf.Pick{}, Partly: []shelf.Pick{}, Donors: []shelf.Pick{},
		Fields: []Field{}, Buys: []Item{}, Clears: []Chance{},
		How: "Put it together as far as it takes, power it up, and look for every symptom it came with and for new ones."}
	if len(x.Back) > 0 {
		x.How = "Power it up, and look for every symptom it came with and for new ones."
	}
	s.caution(&x, nil, at)
	showed := s.c.showed()
	for f := range s.k.m.Findings {
		if s.k.m.Findings[f].Check < 0 && showed[f] {
			x.Fields = append(x.Fields, s.field(f))
		}
	}
	return x
}

func (s *sheet) stop() Step {
	x := Step{Title: "Leave off", How: "Pass it on to somebody who wants it, keep it for parts, or take it to a collection point. Write down how far you came.", Shelf: []shelf.Pick{}, Partly: []shelf.Pick{}, Donors: []shelf.Pick{},
		With: []string{}, First: []Level{}, Back: []Level{}, Cautions: []Caution{}, Around: cautions(s.k.m.Hazards), Fields: []Field{}, Buys: []Item{}, Clears: []Chance{}, Been: true}
	if s.limits().Sealed { // whoever takes it over must know
		x.Cautions, x.Around = x.Around, []Caution{}
	}
	if s.c.Access < len(s.k.m.Access) {
		x.Access = s.c.level(s.c.Access)
	}
	return x
}

// result is one way that a move of that kind and title can come out.
func (s *sheet) result(kind plan.Kind, title string, x plan.Result) Result {
	out := Result{P: x.P, Then: s.moveTitle(x.Next), Works: x.Works, Told: []Told{}}
	switch kind {
	case plan.Check:
		for _, v := range x.Values {
			out.Told = append(out.Told, s.told(v))
		}
		out.Words = s.outcomesUnder(title, x.Values)
	case plan.Test:
		out.Words = "still wrong"
		if x.Works {
			out.Words, out.Then = "it works", "close the case"
		}
	default:
		out.Words = "done"
	}
	out.Tops = s.tops(x.Tops)
	if !x.Works {
		out.Means = means(out.Tops)
	}
	return out
}

// tops names what one would then believe, beside what one believes now.
func (s *sheet) tops(list []plan.Suspect) []Chance {
	out := []Chance{}
	for _, t := range list {
		out = append(out, Chance{Mode: s.k.m.Modes[t.Mode].ID, Title: s.k.m.Modes[t.Mode].Title, Now: t.P, Before: s.now.Now[t.Mode]})
	}
	return out
}

// means says what one would then believe.
func means(tops []Chance) string {
	if len(tops) == 0 {
		return "then no fault known here is left"
	}
	t := tops[0]
	now, before := percent(t.Now), percent(t.Before)
	if now == before {
		return fmt.Sprintf("then still %s (%s)", t.Title, now)
	}
	return fmt.Sprintf("then most likely %s (%s, now %s)", t.Title, now, before)
}

func (s *sheet) moveTitle(m plan.Move) string {
	switch {
	case m.Kind == plan.Check && m.Index >= 0 && m.Index < len(s.k.m.Checks):
		return s.k.m.Checks[m.Index].Title
	case m.Kind == plan.Repair && m.Index >= 0 && m.Index < len(s.k.m.Repairs):
		return s.k.m.Repairs[m.Index].Title
	case m.Kind == plan.Test:
		return "try the whole device"
	}
	return "leave off"
}

// succeeds says how often a repair works out where it is the right one, if that is
// short of nearly always: else its chance beside the suspects' is hard to understand.
func (s *sheet) succeeds(c *Card) string {
	r := slices.IndexFunc(s.k.m.Repairs, func(r note.Repair) bool { return r.ID == c.ID })
	if r < 0 {
		return ""
	}
	most := 0.0
	for _, x := range s.k.m.Repairs[r].Clears {
		most = max(most, x.Success)
	}
	if most == 0 || most > 0.97 {
		return ""
	}
	return fmt.Sprintf(" (done where it is the right one, it succeeds in %.0f of 100)", 100*most)
}

// plainWhy says in a sentence what a move is good for.
func (s *sheet) plainWhy(c *Card) string {
	effort := minutesWords(c.Total)
	if c.Cost.Money > 0 {
		effort += " and " + s.price(c.Cost.Money)
	}
	switch c.Kind {
	case "check":
		return fmt.Sprintf("It takes %s%s.", effort, s.telling(c))
	case "repair":
		return fmt.Sprintf("By itself it clears all that is wrong with a chance of %s%s and takes %s.%s", percent(c.Cures), s.succeeds(c), effort, fromShelfWords(c.Shelf))
	case "test":
		works := 0.0
		for _, r := range c.Results {
			if r.Works {
				works += r.P
			}
		}
		return fmt.Sprintf("It works with a chance of %s; trying takes %s.", percent(works), effort)
	}
	return s.stopWhy()
}

// telling says how the likeliest results of a check part the suspects.
func (s *sheet) telling(c *Card) string {
	if len(c.Results) == 0 {
		return ""
	}
	words := ""
	for _, r := range c.Results[:min(2, len(c.Results))] {
		words += fmt.Sprintf("; “%s” (%s): %s", r.Words, percent(r.P), r.Means)
	}
	return words
}

// whyNext is plainWhy with what speaks for the move against the runner-up.
func (s *sheet) whyNext(c, other *Card) string {
	if c.Kind == "stop" {
		if len(s.advice.Ranking) == 1 {
			return "Nothing else can be done with what this bench has and the note knows."
		}
		return c.Why
	}
	if why := s.preferredWhy(); why != "" {
		return c.Why + " " + why
	}
	if other == nil {
		return c.Why
	}
	than := "leaving off"
	if other.Kind != "stop" {
		than = "“" + other.Title + "” first"
	}
	near := other.Behind < s.minute()
	switch {
	case near && c.Kind == "test":
		return c.Why // whatever else could be done is no reason to put off trying it
	case near:
		return fmt.Sprintf("%s All told %s would come to nearly the same.", c.Why, than)
	}
	return fmt.Sprintf("%s All told it is expected to come %s cheaper than %s.", c.Why, s.coins(other.Behind), than)
}

// price is what is to be paid: to the hundredth.
func (s *sheet) price(v float64) string {
	return quantity.Format(math.Round(v*100)/100, s.c.Settings.Currency, 6)
}

// stopsMost is how many repairs are named before the rest is counted.
const stopsMost = 3

// stopAt says in advance when to stop.
func (s *sheet) stopAt(next *Card) string { return s.stopAfter(next.Kind == "stop") }

func (s *sheet) stopAfter(now bool) string {
	var titles []string
	for _, r := range s.advice.StopAfter {
		if t := "“" + s.k.m.Repairs[r].Title + "”"; !slices.Contains(titles, t) {
			titles = append(titles, t)
		}
	}
	if n := len(titles) - stopsMost; n > 1 {
		titles = append(titles[:stopsMost], fmt.Sprintf("%d more repairs", n))
	}
	switch {
	case now:
		return "Stop now."
	case len(titles) == 0:
		return "Stop if this tells nothing new: replacing parts untested does not pay here."
	}
	return "If it still fails after " + strings.Join(titles, ", then ") + " and nothing else was learnt, stop: going on costs more than it is worth."
}

func minutesWords(m float64) string {
	switch {
	case m < 1:
		return "under a minute"
	case m < 1.5:
		return "a minute"
	}
	return fmt.Sprintf("%.0f minutes", m)
}
