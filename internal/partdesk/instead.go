package partdesk

import (
	"context"
	"slices"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
	"fettler/internal/part/unit"
	"fettler/internal/quantity"
)

// An InsteadAsk is an old part for which another is wanted.
type InsteadAsk struct {
	Text    string // "electrolytic 470 µF 25 V", or a marking
	Kind    string // if the text does not say it
	Duty    string // what it does; "" not known
	Working string // voltage it really sees, "" not known
	Pieces  int    // 0: 1
	Case    string // whose offers are looked at too; "" none
	Have    string // parts that might do, one a line or parted by semicolons: "2 × electrolytic 470 µF 35 V"
	Refused bool   // show refused ones too
}

// Duties lists what a part can do in its circuit.
func Duties() []string {
	return []string{string(fit.Smoothing), string(fit.SwitchMode), string(fit.AfterLinear), string(fit.Timing), string(fit.Coupling)}
}

// Instead is what a part must satisfy to do for another, and what there is.
type Instead struct {
	Title       string       `json:"title"`
	Old         string       `json:"old"` // as it was read
	Kind        string       `json:"kind"`
	Figures     []fit.Stated `json:"figures"` // of the old part
	Unread      []string     `json:"unread"`  // words of the text nothing was made of
	Pieces      int          `json:"pieces"`
	LikeForLike bool         `json:"likeForLike"` // safety part
	Asks        []Demand     `json:"asks"`
	Polarity    *Pole        `json:"polarity"` // which end its mark shows; null for a part without
	Typed       []Candidate  `json:"typed"`    // those that were typed, refused ones too
	Cautions    []string     `json:"cautions"`
	Shelf       []Candidate  `json:"shelf"`  // on the shelf, best first
	Boards      []Candidate  `json:"boards"` // still on a board
	Offers      []Candidate  `json:"offers"` // of the case
	Counts      []Tally      `json:"counts"` // lines of the shelf per verdict
	Trust       string       `json:"trust"`
}

// A Demand is one inequality with its reason.
type Demand struct {
	Words  string `json:"words"`
	Why    string `json:"why"`
	Safety bool   `json:"safety"` // no near miss
}

// A Candidate is a part that may do instead.
type Candidate struct {
	Line    string   `json:"line"` // of the shelf; "" for an offer
	Name    string   `json:"name"`
	Place   string   `json:"place"` // drawer, board or seller
	From    string   `json:"from"`
	Count   int      `json:"count"`
	Price   float64  `json:"price"`
	Verdict string   `json:"verdict"` // "accepted", "not proven", "near miss" or "refused"
	Checks  []Held   `json:"checks"`
	Risks   []string `json:"risks"`
	Short   int      `json:"short"`  // pieces missing
	Unread  []string `json:"unread"` // words of it nothing was made of
}

// A Held is one inequality held against a candidate.
type Held struct {
	Verdict string `json:"verdict"`
	Words   string `json:"words"`
}

// A Tally is how many lines met a verdict.
type Tally struct {
	Verdict string `json:"verdict"`
	Lines   int    `json:"lines"`
}

// Instead says what will do instead of an old part.
func (d *Desk) Instead(ctx context.Context, a InsteadAsk) (*Instead, error) {
	old, p, err := a.old()
	if err != nil {
		return nil, err
	}
	req, err := fit.For(old)
	if err != nil {
		return nil, &failure.Error{Code: failure.BadInput, Text: err.Error(), Next: "write it as in: " + examples[old.Kind], Err: err}
	}
	out := &Instead{Title: req.Title, Old: p.Text, Kind: string(old.Kind), Figures: fit.InWords(old.Figures, old.Words), Unread: list(p.Rest), Pieces: max(1, req.Pieces), LikeForLike: req.LikeForLike,
		Asks: []Demand{}, Cautions: list(req.Cautions), Shelf: []Candidate{}, Boards: []Candidate{}, Typed: []Candidate{}, Offers: []Candidate{}, Polarity: poleOf(old.Kind), Trust: "limits are common practice, no source, unless the reason names one"}
	for _, q := range req.Inequalities {
		out.Asks = append(out.Asks, Demand{q.String(), q.Why, q.Safety})
	}
	out.Asks = append(out.Asks, unstated(old)...)
	if err := out.judgeTyped(a.Have, req); err != nil {
		return nil, err
	}
	res, err := d.search(ctx, req, a.Refused, out)
	if err != nil {
		return nil, err
	}
	for v, n := range map[fit.Verdict]int{fit.Accepted: res.Accepted, fit.Unproven: res.Unproven, fit.NearMiss: res.NearMiss, fit.Refused: res.Refused} {
		out.Counts = append(out.Counts, Tally{v.String(), n})
	}
	slices.SortFunc(out.Counts, func(a, b Tally) int { return verdictRank(a.Verdict) - verdictRank(b.Verdict) })
	if a.Case != "" {
		return out, d.judgeOffers(ctx, a, req, out)
	}
	return out, nil
}

// unstated are the conditions of an electrolytic that its text does not give figures
// for, so that nothing can be held against them. Common practice, no source.
func unstated(old fit.Old) []Demand {
	out := []Demand{}
	if old.Kind != part.Electrolytic {
		return out
	}
	ask := func(p fit.Param, words, why string) {
		if _, ok := old.Figures[p]; !ok {
			out = append(out, Demand{Words: "not stated: " + words, Why: why})
		}
	}
	ask(fit.Diameter, "diameter, measure the old can", "a wider one touches its neighbours")
	ask(fit.Height, "height, measure the old can", "a taller one does not go under the lid")
	ask(fit.Pitch, "lead pitch, measure between the holes", "spread leads strain the seal and the pads")
	_, esr := old.Figures[fit.ESR]
	if old.Words[fit.Series] == "" && !esr {
		out = append(out, Demand{Words: "not stated: low ESR or not, look the series up or take low ESR where a switching supply uses it", Why: "a general-purpose one heats up and fails early there"})
	}
	ask(fit.Ripple, "ripple current, look it up by the series and hold the new one against it", "ripple current heats it from inside")
	return out
}

func verdictRank(v string) int {
	for _, k := range []fit.Verdict{fit.Accepted, fit.Unproven, fit.NearMiss, fit.Refused} {
		if k.String() == v {
			return int(k)
		}
	}
	return 9
}

// old reads the old part.
func (a InsteadAsk) old() (fit.Old, stock.Part, error) {
	typed, err := failure.Text(a.Text, stock.MostText, "the part")
	if err == nil && typed == "" {
		err = failure.New(failure.BadInput, "write it as in: electrolytic 470 µF 25 V 105 °C", "nothing says which part it is")
	}
	if err != nil {
		return fit.Old{}, stock.Part{}, err
	}
	p := stock.Read(typed)
	if a.Kind != "" {
		k, err := part.ParseKind(a.Kind)
		if err != nil {
			return fit.Old{}, p, &failure.Error{Code: failure.BadInput, Text: err.Error(), Err: err}
		}
		if p.Kind != k {
			p = stock.Read(string(k) + " " + typed)
			p.Text = typed
		}
	}
	if a.Kind == "" {
		if err := notReckoned(typed, p.Kind); err != nil {
			return fit.Old{}, p, err
		}
	}
	if p.Kind == part.Unknown {
		return fit.Old{}, p, failure.New(failure.BadInput, "say it in front, as in: electrolytic 470 µF 25 V; or choose it", "%q does not say what kind of part it is", failure.Clip(typed))
	}
	if err := failure.OneOf(a.Duty, Duties(), true, "duty"); err != nil {
		return fit.Old{}, p, err
	}
	if a.Pieces < 0 || a.Pieces > stock.MostCount {
		return fit.Old{}, p, failure.New(failure.BadInput, "give a whole number", "%d is no number of pieces", a.Pieces)
	}
	old := p.Old()
	old.Duty, old.Pieces = fit.Duty(a.Duty), a.Pieces
	if strings.TrimSpace(a.Working) != "" {
		if old.WorkingVolts, err = unit.Parse(a.Working, "V"); err != nil || old.WorkingVolts <= 0 {
			return fit.Old{}, p, failure.New(failure.BadInput, "write it as in: 12 V", "%q is no voltage", failure.Clip(a.Working))
		}
	}
	return old, p, nil
}

// mostInstead bounds the candidates shown of each sort.
const mostInstead = 12

// search looks through the shelf, and through what is still on boards.
func (d *Desk) search(ctx context.Context, req fit.Requirement, refused bool, out *Instead) (fit.Result, error) {
	var sum fit.Result
	for _, boards := range []bool{false, true} {
		res, lines, err := d.bench.SearchShelf(ctx, boards, req, fit.Options{Limit: mostInstead, ShowRefused: refused})
		if err != nil {
			return sum, err
		}
		sum.Accepted += res.Accepted
		sum.Unproven += res.Unproven
		sum.NearMiss += res.NearMiss
		sum.Refused += res.Refused
		for i, j := range res.Judgements {
			l := lines[i]
			c := candidateOf(j)
			c.Line, c.Name, c.Place, c.From, c.Count = l.ID, l.Name, l.Place, l.From, l.Count
			if l.From != stock.New && stock.FittedNew(l.Kind, l.Name) {
				c.Verdict = fit.Refused.String()
				c.Checks = append(c.Checks, Held{fit.Refused.String(), "it has been in use: a safety part is fitted new"})
			}
			if boards {
				c.Place = joined("on the board "+l.Board, l.Place)
				out.Boards = append(out.Boards, c)
			} else {
				out.Shelf = append(out.Shelf, c)
			}
		}
	}
	return sum, nil
}

func candidateOf(j fit.Judgement) Candidate {
	c := Candidate{Name: j.Candidate.Name, Place: j.Candidate.Place, From: j.Candidate.Source, Count: j.Candidate.Quantity, Verdict: j.Verdict.String(), Checks: []Held{}, Risks: list(j.Risks), Short: j.Short, Unread: []string{}}
	for _, k := range j.Checks {
		c.Checks = append(c.Checks, Held{k.Verdict.String(), k.Words})
	}
	return c
}

// judgeOffers holds the offers of the case against the requirement.
func (d *Desk) judgeOffers(ctx context.Context, a InsteadAsk, req fit.Requirement, out *Instead) error {
	all, err := d.bench.OfferedParts(ctx, a.Case)
	if err != nil {
		return err
	}
	for _, o := range all {
		if o.Kind == part.Unknown {
			continue
		}
		x := candidateOf(req.Judge(fit.Candidate{Name: o.Text, Kind: o.Kind, Figures: o.Figures, Words: o.Words, Quantity: o.Count, Place: o.Seller, Source: "offer"}))
		if x.Verdict == fit.Refused.String() && !a.Refused {
			continue
		}
		x.Price = o.Price
		x.Place = joined(o.Seller, quantity.Days(o.Days))
		out.Offers = append(out.Offers, x)
	}
	sortCandidates(out.Offers)
	return nil
}

func sortCandidates(all []Candidate) {
	slices.SortStableFunc(all, func(a, b Candidate) int { return verdictRank(a.Verdict) - verdictRank(b.Verdict) })
}
