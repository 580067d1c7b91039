package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/quantity"
)

// nextCmd shows what to do next.
type nextCmd struct {
	Args []string `arg:"" optional:""`
	All  bool     `name:"all"`
}

// advice is the next move of a case, and what else could be done.
type advice struct {
	Case     string             `json:"case"`
	Title    string             `json:"title"`
	Currency string             `json:"currency"`
	Rate     float64            `json:"rate"` // money that an hour of own time counts as
	Next     *casework.Card     `json:"next"`
	NoNext   string             `json:"noNext"`
	RunnerUp *casework.Card     `json:"runnerUp"`
	Outlook  *casework.Outlook  `json:"outlook"`
	Strain   *casework.Strain   `json:"strain"`
	Warnings []casework.Warning `json:"warnings"`
	Ranking  []casework.Card    `json:"ranking"` // empty unless --all
	Limits   casework.Limits    `json:"limits"`
	Write    []string           `json:"write"` // commands that write down how it came out

	settings casework.Settings
}

func (c *nextCmd) run(ctx context.Context, s *session) (answer, error) {
	v, err := s.view(ctx, c.Args, "next [CASE]")
	if err != nil {
		return nil, err
	}
	laid, err := s.opened.LaidOut(ctx, v.Header.Case)
	if err != nil {
		return nil, err
	}
	v.Outlook = laid.Outlook // the move stays the one that every other command shows
	if n := laid.Next; n != nil && v.Next != nil && n.Kind == v.Next.Kind && n.ID == v.Next.ID {
		next := *v.Next
		next.Results, v.Next = n.Results, &next // what follows each result is as it will be advised
	}
	h := v.Header
	a := &advice{Case: h.Case, Title: h.Title, Currency: h.Currency, Rate: v.Settings.Rate, Next: v.Next, NoNext: v.NoNext, RunnerUp: v.RunnerUp, Outlook: v.Outlook,
		Strain: v.Strain, Warnings: v.Pressing(), Ranking: []casework.Card{}, Limits: v.Limits, Write: writes(v), settings: v.Settings}
	before, err := s.wayFirst(ctx, v)
	if err != nil {
		return nil, err
	}
	a.Write = append(before, a.Write...)
	if c.All {
		a.Ranking = v.Ranking
	}
	return a, nil
}

func (a *advice) no() bool { return a.Next == nil }

// writes are the commands that write down how the next move came out.
func writes(v *casework.View) []string {
	if v.Next == nil {
		return []string{}
	}
	switch v.Next.Kind {
	case "check":
		return []string{template(v.Next.Step)}
	case "repair":
		return []string{line([]string{"repair", v.Next.ID})}
	case "test":
		still := []string{"test", "still"}
		for _, o := range v.Known {
			if o.Denied || o.Earlier {
				continue
			}
			for _, f := range v.Symptoms {
				if f.Finding == o.Finding {
					still = append(still, f.Finding+"=yes/no")
				}
			}
		}
		return []string{"fettler test works", line(still)}
	case "stop":
		return []string{"fettler close not-worth-it", "fettler close passed-on", "fettler close kept-for-parts"}
	}
	return []string{}
}

// wayFirst are the commands that note, before a repair, how its polarised parts sit.
func (s *session) wayFirst(ctx context.Context, v *casework.View) ([]string, error) {
	out := []string{}
	if v.Next == nil || v.Next.Kind != "repair" {
		return out, nil
	}
	list, err := s.opened.Polarised(ctx, v.Header.Case, v.Next.ID)
	for _, x := range list {
		if x.Before == nil {
			out = append(out, line([]string{"way", x.Mark, "up/right/down/left"}))
		}
	}
	return out, err
}

func (a *advice) text(p *page) {
	p.head("%s (%s): what to do next", a.Title, a.Case)
	if a.Next == nil {
		p.para("  ", a.NoNext)
		return
	}
	if a.Strain != nil {
		p.para("  Doubt: ", a.Strain.Text)
	}
	for _, w := range a.Warnings {
		p.para("  Warning: ", w.Text)
	}
	a.card(p)
	if len(a.Next.Results) > 0 {
		p.gap()
		p.head("How it may come out")
		results, others, together := a.Next.Read()
		for _, r := range results {
			p.para(fmt.Sprintf("%6s  ", percent(r.P)), r.Words)
			p.para("          ", means(r))
		}
		if others > 0 {
			p.para("        ", fmt.Sprintf("and %d more, together %s", others, percent(together)))
		}
	}
	p.gap()
	p.head("Write it down")
	for _, w := range a.Write {
		p.line("  " + w)
	}
	a.limits(p)
	if r := a.RunnerUp; r != nil {
		p.gap()
		p.para("Runner-up: ", (move{Kind: r.Kind, ID: r.ID, Title: r.Title, Minutes: r.Total, Money: r.Money}).words(a.Currency)+behind(r.Behind, a.Rate, a.Currency))
	}
	if o := a.Outlook; o != nil {
		p.gap()
		p.para("Going on: ", fmt.Sprintf("of 100 such cases about %.0f work in the end; on average %s and %s are still to spend.", 100*o.Success, casework.Coins(o.Money, a.Currency), minutes(o.Minutes)))
		p.para("          ", o.StopAt)
		if o.Goes != "" && o.Goes != a.Next.Pays {
			p.para("          ", o.Goes)
		}
		p.para("          ", fmt.Sprintf("An hour of your time is counted as %s (change it: fettler settings rate=N). fettler rehearse says how far it may go, fettler map shows the way.", money(a.Rate, a.Currency)))
	}
	a.ranking(p)
}

func means(r casework.Result) string {
	out := r.Means
	if r.Then == "" {
		return out
	}
	if out != "" {
		out += "; "
	}
	return out + "next: " + r.Then
}

// limits says what the bench leaves alone, and how to change it.
func (a *advice) limits(p *page) {
	var say []string
	switch x := a.Limits; {
	case x.Live == casework.LiveNotSaid:
		say = append(say, "it has not been said whether this bench works inside with the power on; until then nothing inside is done with the power on (fettler settings no-live=yes for never, no-live=no for trained and equipped for it)")
	case x.Live == casework.LiveNever:
		say = append(say, "unplugged only, except trying the whole (fettler settings no-live=no changes it)")
	}
	if a.Limits.Sealed && !a.Limits.Trained {
		say = append(say, "only trained hands may open it (fettler settings trained=yes if yours are)")
	}
	if len(say) > 0 {
		p.gap()
		p.para("Limits: ", strings.Join(say, "; "))
	}
}

// behind says how much dearer another move is, in words.
func behind(v, rate float64, currency string) string {
	if v < max(rate/60, 0.05) { // a minute of one's own time
		return "; it comes to nearly the same"
	}
	return "; about " + casework.Coins(v, currency) + " dearer in all"
}

func dot(s string) string {
	if s == "" {
		return ""
	}
	return ". " + s
}

// cautions prints what can hurt at a step; what the device as a whole has is only
// counted where it was said before.
func cautions(p *page, x casework.Step) {
	for _, c := range x.Cautions {
		caution(p, "  ", c)
	}
	if !x.Been {
		for _, c := range x.Around {
			caution(p, "  ", c)
		}
		return
	}
	if len(x.Around) > 0 {
		kinds := make([]string, len(x.Around))
		for i, c := range x.Around {
			kinds[i] = c.Kind
		}
		p.para("  CAUTION ", fmt.Sprintf("still true in there: %s (fettler show says what to do)", strings.Join(kinds, ", ")))
	}
}

// card prints the move itself.
func (a *advice) card(p *page) {
	c := a.Next
	p.gap()
	p.head("%s%s", strings.ToUpper(c.Kind), space(c.ID))
	p.para("  ", c.Title)
	cost := minutes(c.Total)
	if c.Total > c.Minutes {
		cost += " with opening and closing"
	}
	cost += comma(c.Money, a.Currency)
	if c.Days > 0 {
		cost += ", " + daysFor(c.Days, len(c.Buys) > 0)
	}
	if c.Live {
		cost += ", with the power on"
	}
	p.para("  ", cost)
	cautions(p, c.Step)
	if len(c.Back) > 0 {
		titles := make([]string, len(c.Back))
		for i, l := range c.Back {
			titles[i] = l.Title
		}
		p.para("  First: ", "close up what was opened: "+strings.Join(titles, ", "))
	}
	for _, l := range c.First {
		p.para("  First: ", l.Title+dot(l.How))
	}
	if len(c.With) > 0 {
		p.para("  With: ", strings.Join(c.With, ", "))
	}
	for _, t := range c.Tools() {
		p.para("  ", "No "+t+" here? "+line([]string{"settings", a.Case, "lacks=" + strings.Join(a.settings.Without(t), ",")}))
	}
	if c.How != "" {
		p.para("  How: ", c.How)
	}
	for _, b := range c.Buys {
		p.para("  Part: ", fmt.Sprintf("%d × %s, %s each", b.Count, b.What, money(b.Price, a.Currency)))
	}
	fromShelf(p, c.Step)
	if c.Harm > 0 {
		p.para("  Risk: ", "it breaks something with "+percent(c.Harm))
	}
	if c.Why != "" {
		p.para("  Why: ", c.Why)
	}
	if c.Pays != "" {
		p.para("  What decided: ", c.Pays)
	}
	if c.Batch != "" {
		p.para("  Not alone: ", c.Batch)
		for _, x := range c.Further {
			p.para("    ", x.ID+"  "+x.Title)
		}
	}
}

func space(s string) string {
	if s == "" {
		return ""
	}
	return " " + s
}

func (a *advice) ranking(p *page) {
	if len(a.Ranking) == 0 {
		return
	}
	p.gap()
	p.head("All moves, by what they make the whole cost more")
	for _, c := range a.Ranking {
		words := (move{Kind: c.Kind, ID: c.ID, Title: c.Title, Minutes: c.Total, Money: c.Money}).words(a.Currency) + shelfAt(c.Step)
		if c.Blocked != "" {
			p.para("                  ", words+"; cannot be done: "+c.Blocked)
			continue
		}
		p.para(fmt.Sprintf("  %14s  ", casework.Coins(c.Behind, a.Currency)), words)
	}
}

// daysFor is how long a repair waits, for its parts or for something to dry.
func daysFor(days float64, parts bool) string {
	words := quantity.Days(days)
	if parts {
		return words + " for the parts"
	}
	return words + " of waiting"
}
