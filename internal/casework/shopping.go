package casework

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"fettler/internal/note"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
	"fettler/internal/plan"
	"fettler/internal/quantity"
	"fettler/internal/shelf"
)

// Shopping is what all open cases may need, merged.
type Shopping struct {
	Lines []ShopLine `json:"lines"` // what is most worth having first
	Cases int        `json:"cases"` // open cases looked at
	More  int        `json:"more"`  // open cases left out
	Twice []Wanted   `json:"twice"` // on the shelf, but not enough for all cases that reckon with it
	About string     `json:"about"` // how the worth comes about
}

// A ShopLine is one thing to buy.
type ShopLine struct {
	What     string       `json:"what"`
	Count    int          `json:"count"` // for all cases
	Price    float64      `json:"price"` // of one
	Currency string       `json:"currency"`
	Worth    float64      `json:"worth"` // to all cases; 0 if they reckon in different currencies
	Pays     bool         `json:"pays"`  // to some case it is worth more now than it costs
	For      []ShopFor    `json:"for"`
	Boards   []shelf.Pick `json:"boards"` // could be taken off these boards
}

// A Wanted is a line of the shelf that more than one case reckons with, and that will not do for all of them.
type Wanted struct {
	Line  string   `json:"line"`
	Name  string   `json:"name"`
	Place string   `json:"place"`
	Count int      `json:"count"` // there are
	Need  int      `json:"need"`  // the cases may need in all
	Cases []string `json:"cases"` // titles
	Words string   `json:"words"`
}

// Short is how many are missing if all cases need them.
func (w Wanted) Short() int { return w.Need - w.Count }

// A ShopFor is a case that may need it.
type ShopFor struct {
	Case     string   `json:"case"`
	Title    string   `json:"title"`
	Repair   string   `json:"repair"`
	Name     string   `json:"name"`  // of the repair
	Count    int      `json:"count"` // pieces
	Cures    float64  `json:"cures"` // chance that the repair alone cures it
	Worth    float64  `json:"worth"` // expected cost without the repair's parts at hand less that with them
	Costs    float64  `json:"costs"` // all parts of the repair
	Currency string   `json:"currency"`
	With     []string `json:"with"` // the other parts of the repair: the worth is that of all together
	Pays     bool     `json:"pays"` // having them is worth more than they cost
	Words    string   `json:"words"`
}

const (
	mostShopCases   = 12   // open cases looked at, last changed first
	mostShopRepairs = 6    // repairs of one case, likeliest to cure first
	leastCures      = 0.01 // less likely ones are left out
)

// worths is what the parts of a case's repairs are worth, as long as its thought holds.
type worths struct {
	of    *thought
	worth map[int]float64 // by repair
	cures map[int]float64
}

// Shopping lists what the open cases may need. What each is worth is one look ahead of
// the planner per repair; it is kept until the case changes.
func (b *Bench) Shopping(ctx context.Context) (*Shopping, error) {
	list, err := b.List(ctx)
	if err != nil {
		return nil, err
	}
	out := &Shopping{Lines: []ShopLine{}, Twice: []Wanted{}, About: "Worth: what the case is expected to cost without the parts in the house, less what it is expected to cost with them, both decided one move ahead. " +
		"It is more than the price only where waiting or a second postage counts, or the part is almost sure to be needed."}
	at, wants := map[string]int{}, map[string]*Wanted{}
	for _, l := range list {
		if !l.Open() {
			continue
		}
		if out.Cases == mostShopCases {
			out.More++
			continue
		}
		out.Cases++
		k, err := b.look(ctx, l.Case)
		if err != nil {
			return nil, err
		}
		w, err := b.worthOf(ctx, l.Case, k)
		if err != nil {
			return nil, err
		}
		out.add(k, w, at)
		k.wants(wants)
	}
	if err := out.contest(ctx, b, wants); err != nil {
		return nil, err
	}
	for i := range out.Lines {
		x := &out.Lines[i]
		slices.SortStableFunc(x.For, func(a, b ShopFor) int { return cmpDown(a.Worth, b.Worth) })
	}
	slices.SortStableFunc(out.Lines, func(a, b ShopLine) int {
		if a.Pays != b.Pays {
			if a.Pays {
				return -1
			}
			return 1
		}
		return cmp.Or(cmpDown(a.Worth, b.Worth), strings.Compare(a.What, b.What))
	})
	return out, nil
}

// worthOf reckons what it would save to have the parts of each likely repair here.
func (b *Bench) worthOf(ctx context.Context, caseID string, k *kept) (*worths, error) {
	s := k.s
	if s.k == nil || s.advice == nil {
		return &worths{}, nil
	}
	b.mu.Lock()
	old := b.shopped[caseID]
	b.mu.Unlock()
	if t := s.thought; old != nil && old.of.m == t.m && sameEvidence(old.of.ev, t.ev) && reflect.DeepEqual(old.of.sit, t.sit) && reflect.DeepEqual(old.of.set, t.set) {
		return old, nil
	}
	p, err := plan.New(s.e, s.set)
	if err != nil {
		return nil, err
	}
	base, err := p.Advise(ctx, s.now, s.sit)
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return &worths{}, nil // the case says why nothing can be advised
	}
	w := &worths{of: s.thought, worth: map[int]float64{}, cures: map[int]float64{}}
	for _, r := range s.c.worthBuying(base) {
		sit := s.sit
		sit.AtHand = maps.Clone(sit.AtHand)
		if sit.AtHand == nil {
			sit.AtHand = map[int]bool{}
		}
		sit.AtHand[r.Index] = true
		with, err := p.Advise(ctx, s.now, sit)
		if err != nil {
			return nil, err
		}
		w.worth[r.Index], w.cures[r.Index] = max(0, base.Best.Total-with.Best.Total), r.Cures
	}
	b.mu.Lock()
	if b.shopped == nil {
		b.shopped = map[string]*worths{}
	}
	b.shopped[caseID] = w
	b.mu.Unlock()
	return w, nil
}

// worthBuying lists the repairs that need parts that are neither here nor on order,
// likeliest to cure first.
func (c *Case) worthBuying(a *plan.Advice) []plan.Ranked {
	ordered := map[string]bool{}
	for _, o := range c.Orders {
		for _, id := range c.orders[o].Repairs {
			ordered[id] = true
		}
	}
	var out []plan.Ranked
	for _, r := range a.Ranking {
		if r.Kind == plan.Repair && r.Blocked == "" && r.Cures >= leastCures && slices.ContainsFunc(c.Model.Repairs[r.Index].Buys, func(x note.Item) bool { return !service(x.What) }) && !c.atHand(r.Index) && !ordered[c.Model.Repairs[r.Index].ID] {
			out = append(out, r)
		}
	}
	slices.SortStableFunc(out, func(a, b plan.Ranked) int { return cmpDown(a.Cures, b.Cures) })
	return out[:min(len(out), mostShopRepairs)]
}

// add puts a case's needs on the list; equal parts become one line.
func (out *Shopping) add(k *kept, w *worths, at map[string]int) {
	c, v := k.s.c, k.view
	for _, r := range slices.Sorted(maps.Keys(w.worth)) {
		x := &c.Model.Repairs[r]
		for i, it := range x.Buys {
			count := max(it.Count, 1)
			if l := c.lacks[r]; i < len(l) { // some of them may be on the shelf
				count = l[i]
			}
			if count == 0 || service(it.What) {
				continue
			}
			f := ShopFor{Case: v.Header.Case, Title: v.Header.Title, Repair: x.ID, Name: x.Title, Count: count, Cures: w.cures[r], Worth: w.worth[r], Costs: x.Price, Currency: v.Settings.Currency, With: []string{}, Pays: w.worth[r] > x.Price+0.005}
			for j, other := range x.Buys {
				if j != i {
					f.With = append(f.With, other.What)
				}
			}
			f.Words = f.sentence()
			key := partKey(it.What)
			n, ok := at[key]
			if !ok {
				n = len(out.Lines)
				at[key] = n
				out.Lines = append(out.Lines, ShopLine{What: it.What, Currency: f.Currency, For: []ShopFor{}, Boards: []shelf.Pick{}})
			}
			out.Lines[n].merge(it.What, it.Price, f, c.Donors[r])
		}
	}
}

func (x *ShopLine) merge(what string, price float64, f ShopFor, donors []shelf.Pick) {
	x.Count += f.Count
	x.Price = max(x.Price, price)
	x.Pays = x.Pays || f.Pays
	x.For = append(x.For, f)
	if f.Currency == x.Currency {
		x.Worth += f.Worth
	} else {
		x.Currency, x.Worth = "", 0
	}
	for _, d := range donors {
		if shelf.SameName(d.Item) == shelf.SameName(what) && !slices.ContainsFunc(x.Boards, func(b shelf.Pick) bool { return b.Line == d.Line }) {
			x.Boards = append(x.Boards, d)
		}
	}
}

func (f ShopFor) sentence() string {
	m := func(v float64) string { return quantity.Format(v, f.Currency, 6) }
	parts := "it"
	if len(f.With) > 0 {
		parts = "it with " + strings.Join(f.With, " and ")
	}
	return fmt.Sprintf("having %s here is worth %s to %s; it costs %s", parts, m(f.Worth), f.Title, m(f.Costs))
}

// partKey is the same for texts that say the same part.
func partKey(what string) string {
	if _, err := stock.Requirement(what); err != nil {
		return shelf.SameName(what)
	}
	p := stock.Read(what)
	key := string(p.Kind)
	for _, f := range fit.InWords(p.Figures, p.Words) {
		key += "|" + f.Name + "=" + f.Text
	}
	return key
}

// Text is the list as plain text, to print or to send: what pays first.
func (out *Shopping) Text() string {
	var b strings.Builder
	last := true
	for i, x := range out.Lines {
		if i == 0 && x.Pays {
			b.WriteString("Worth having now\n")
		} else if last && !x.Pays {
			b.WriteString("Only when their repair comes up\n")
		}
		last = x.Pays
		fmt.Fprintf(&b, "[ ] %d × %s", x.Count, x.What)
		if x.Price > 0 && x.Currency != "" {
			b.WriteString(", about " + quantity.Format(x.Price, x.Currency, 6) + " each")
		}
		b.WriteString("\n")
		for _, f := range x.For {
			fmt.Fprintf(&b, "      %d for %s (%s): %s\n", f.Count, f.Title, f.Case, f.Name)
		}
		for _, d := range x.Boards {
			fmt.Fprintf(&b, "      or take it off %s\n", joined(", ", d.Board, d.Place))
		}
	}
	for i, w := range out.Twice {
		if i == 0 {
			b.WriteString("On the shelf, but not for all\n")
		}
		b.WriteString("[ ] " + w.Words + "\n")
	}
	if len(out.Lines)+len(out.Twice) == 0 {
		b.WriteString("Nothing to buy.\n")
	}
	return b.String()
}

// wants adds what a case reckons to take from the shelf, the most that any one repair of it takes.
func (k *kept) wants(all map[string]*Wanted) {
	if k.s.k == nil || k.s.advice == nil {
		return
	}
	c, most := k.s.c, map[string]int{}
	for _, r := range k.s.advice.Ranking {
		if r.Kind != plan.Repair || r.Blocked != "" || r.Cures < leastCures || c.AtHand[r.Index] {
			continue
		}
		takes := map[string]int{}
		for _, p := range c.Shelf[r.Index] {
			takes[p.Line] += p.Count
		}
		for line, n := range takes {
			most[line] = max(most[line], n)
		}
	}
	for line, n := range most {
		if all[line] == nil {
			all[line] = &Wanted{Line: line}
		}
		all[line].Need += n
		all[line].Cases = append(all[line].Cases, k.view.Header.Title)
	}
}

// contest keeps the lines that will not do for all.
func (out *Shopping) contest(ctx context.Context, b *Bench, wants map[string]*Wanted) error {
	s, _, err := b.shelf(ctx)
	if err != nil {
		return err
	}
	for _, line := range slices.Sorted(maps.Keys(wants)) {
		w, l := wants[line], s.At(line)
		if l == nil || len(w.Cases) < 2 || w.Need <= l.Count {
			continue
		}
		w.Name, w.Place, w.Count = l.Name, l.Place, l.Count
		w.Words = fmt.Sprintf("%d × %s is there, and %s may need %d: who repairs first has it", w.Count, joined(", ", w.Name, w.Place), strings.Join(w.Cases, " and "), w.Need)
		out.Twice = append(out.Twice, *w)
	}
	return nil
}

var reService = regexp.MustCompile(`(?i)\b(?:repair|work|service|servicing|job|mending) (?:by|done by|at)\b|\blabour\b`)

// service tells what is paid for but is no part.
func service(what string) bool { return reService.MatchString(what) }
