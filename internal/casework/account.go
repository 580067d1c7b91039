package casework

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fettler/internal/belief"
	"fettler/internal/note"
	"fettler/internal/soak"
)

// An Account is a case told for others: what it did, what was checked and why, what
// was done and what it was. What people are called, the label, and what anybody
// wrote in their own words are left out unless asked for; who worked on it, how to
// reach the owner and where things are kept are never told.
type Account struct {
	Title    string    `json:"title"`           // the device's; the label if asked for
	Owner    string    `json:"owner,omitempty"` // name, if asked for
	Kind     string    `json:"kind"`
	Device   string    `json:"device"` // note ID
	Category string    `json:"category"`
	Age      float64   `json:"age"` // years, 0 not known
	Demo     bool      `json:"demo"`
	State    State     `json:"state"`
	Verdict  Verdict   `json:"verdict"`
	Barrier  string    `json:"barrier"`
	Began    time.Time `json:"began"`
	Ended    time.Time `json:"ended"` // zero if it is open
	Hazards  []Caution `json:"hazards"`

	Symptoms []string      `json:"symptoms"` // it showed
	NotThere []string      `json:"notThere"` // looked for and not there
	Words    []string      `json:"words"`    // said and remarked, if asked for
	First    []Chance      `json:"first"`    // suspects when only the symptoms were known
	Steps    []AccountStep `json:"steps"`
	Was      []Chance      `json:"was"` // which fault it was, likeliest first
	Unknown  float64       `json:"unknown"`
	Stated   bool          `json:"stated"`             // the repairer's word, not reckoned
	Proof    string        `json:"proof"`              // how it was proved to be fixed, "" if it was not
	Untested string        `json:"untested,omitempty"` // closed as fixed, and nothing shows that it works: says so
	Tried    []TestPoint   `json:"tried"`              // points of the test list done
	Remark   string        `json:"remark"`             // for the next one of its kind, with the closing; if asked for

	Currency string        `json:"currency"`
	Saved    Saved         `json:"saved"`
	Kg       float64       `json:"kg"`
	Photos   []PhotoInfo   `json:"photos"`
	Marks    []AccountMark `json:"marks"` // on the photos
}

// AccountMark is a designator on a photo, with what is to be said of it.
type AccountMark struct {
	TagInfo
	Say string `json:"say"` // "C7, back side, the stripe (minus) left"
}

// AccountStep is one thing that was done.
type AccountStep struct {
	Event    int       `json:"event"`
	Kind     string    `json:"kind"` // "check", "repair", "test" or "soak"
	ID       string    `json:"id"`   // of the check or repair, "" if the note does not know it
	Title    string    `json:"title"`
	How      string    `json:"how"`
	With     []string  `json:"with"`
	Open     string    `json:"open"` // how far the device is opened for it
	Cautions []Caution `json:"cautions"`
	Why      string    `json:"why"`
	Found    []string  `json:"found"`
	Meant    string    `json:"meant"` // what it changed: "bridge short: 30 % before, 96 % after"
	Parts    []Item    `json:"parts"`
	Minutes  float64   `json:"minutes"`
	Money    float64   `json:"money"`
	Old      bool      `json:"old"` // test of a part taken out before
	Works    bool      `json:"works"`
}

// Telling says what of an account is told besides what happened to the device.
type Telling struct {
	Label   bool // what is written on its tag
	Words   bool // what was said and remarked
	Private bool // whose it is, and remarks marked private
}

// Account tells a case.
func (b *Bench) Account(ctx context.Context, caseID string, t Telling) (*Account, error) {
	_, events, err := b.read(ctx, caseID)
	if err != nil {
		return nil, err
	}
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if caseID == BenchCase {
		return nil, fail(NotFound, "name a case", "the bench itself is no case")
	}
	a := &Account{Title: c.kind(), Kind: c.kind(), Device: c.Opened.Device, Category: c.category(), Age: c.Opened.Age, Demo: c.Opened.Demo, State: c.state(), Began: c.Since,
		Hazards: []Caution{}, Symptoms: []string{}, NotThere: []string{}, Words: []string{}, First: []Chance{}, Steps: []AccountStep{}, Was: []Chance{}, Tried: []TestPoint{},
		Currency: c.Settings.Currency, Photos: append([]PhotoInfo{}, c.rework.photos...), Marks: []AccountMark{}}
	for _, x := range c.rework.tags {
		a.Marks = append(a.Marks, AccountMark{x, placeWords(x)})
	}
	if t.Label {
		a.Title = c.title()
	}
	if t.Private && c.Opened.Private != nil {
		a.Owner = c.Opened.Private.Name
	}
	for _, p := range c.testList() {
		if p.Result != "" {
			if !t.Words {
				p.Words = ""
			}
			a.Tried = append(a.Tried, p)
		}
	}
	a.end(c, t)
	a.proof(c)
	if c.Model != nil {
		a.Hazards = cautions(c.Model.Hazards)
	}
	w := &teller{ctx: ctx, b: b, c: c, a: a, t: t, eff: effects(events)}
	return a, w.tell(events)
}

func (a *Account) end(c *Case, t Telling) {
	p := c.Closed
	if p == nil {
		a.Saved = c.saved("")
		return
	}
	a.Verdict, a.Ended, a.Unknown, a.Stated, a.Kg, a.Barrier, a.Saved = p.Verdict, c.ClosedAt, p.Unknown, p.Stated, p.Kg, p.Barrier, c.saved(p.Verdict)
	a.Untested = c.untested()
	if t.Words {
		a.Remark = p.Remark
	}
	for _, x := range p.Because {
		ch := Chance{Mode: x.Mode, Title: x.Mode, Now: x.P, Before: x.P}
		if i, ok := c.names.modes[x.Mode]; ok {
			ch.Title = c.Model.Modes[i].Title
		}
		if x.P >= 0.02 {
			a.Was = append(a.Was, ch)
		}
	}
}

// proof says in a sentence how the last soak went.
func (a *Account) proof(c *Case) {
	k := c.soakNow()
	if k == nil || len(k.events) == 0 {
		return
	}
	still := assumedStill
	if k.plan.Still != nil {
		still = *k.plan.Still
	}
	t, err := soak.Follow(k.plan.question(still), k.events, k.events[len(k.events)-1].At)
	if err != nil || t.State == soak.Failed || t.Counted == 0 {
		return
	}
	a.Proof = fmt.Sprintf("before the repair it showed %s; afterwards it ran clean for %s in all, switched on %s", k.plan.SoakHistory.Words(), span(t.OnMin), times(t.Starts))
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// A teller walks the journal.
type teller struct {
	ctx context.Context
	b   *Bench
	c   *Case
	a   *Account
	t   Telling
	eff []effect

	k    *knowledge
	e    *belief.Engine
	last *belief.Belief // before the event that is told
}

func (w *teller) tell(events []Event) error {
	// By the note alone: what other cases teach later must not change the story.
	if w.k = w.b.plain(w.c.Opened.Device); w.k != nil && w.c.Model != nil {
		var err error
		if w.e, err = w.k.engine(); err != nil {
			w.k = nil // figures out of range: the story without its chances
		}
	}
	w.symptoms()
	if err := w.first(); err != nil {
		return err
	}
	for i, e := range events {
		if w.eff[i].void {
			continue
		}
		if err := w.event(e, w.eff[i].data); err != nil {
			return err
		}
	}
	return nil
}

// symptoms gathers what was seen from outside before the first repair.
func (w *teller) symptoms() {
	if w.c.Model == nil {
		return
	}
	for _, i := range w.c.standing() {
		o := w.c.Evidence.Seen[i]
		f := &w.c.Model.Findings[o.Finding]
		if o.Epoch > 0 || f.Check >= 0 {
			continue
		}
		l := w.c.Looks[i]
		if l.Value.denied() {
			w.a.NotThere = append(w.a.NotThere, f.Title)
		} else {
			w.a.Symptoms = append(w.a.Symptoms, l.Value.phrase(f.Title))
		}
	}
}

// first reckons the suspects when only what can be seen from outside was known.
func (w *teller) first() error {
	if w.k == nil {
		return nil
	}
	var ev belief.Evidence
	for i, o := range w.c.Evidence.Seen {
		if f := w.c.Looks[i].From; o.Epoch == 0 && (f == "said" || f == "noticed") {
			ev.Seen = append(ev.Seen, o)
		}
	}
	bl, err := w.e.Posterior(w.ctx, ev)
	if err != nil {
		return err
	}
	w.last = bl
	w.a.First = w.tops(bl, 5)
	return nil
}

// tops are the likeliest faults there now.
func (w *teller) tops(bl *belief.Belief, most int) []Chance {
	out := []Chance{}
	for i, p := range bl.Now {
		if p >= 0.02 {
			out = append(out, Chance{Mode: w.c.Model.Modes[i].ID, Title: w.c.Model.Modes[i].Title, Now: p, Before: p})
		}
	}
	slices.SortStableFunc(out, func(a, b Chance) int { return cmpDown(a.Now, b.Now) })
	return out[:min(len(out), most)]
}

func (w *teller) event(e Event, data []byte) error {
	entry := w.c.Timeline[e.Seq-1]
	s := AccountStep{Event: e.Seq, With: []string{}, Cautions: []Caution{}, Found: []string{}, Parts: []Item{}, Minutes: entry.Minutes, Money: entry.Money}
	switch e.Kind {
	case KindSaid, KindRemarked:
		if w.t.Words && !entry.Private || w.t.Private && entry.Private {
			said, _, _ := strings.Cut(entry.Words, saidReadAs)
			w.a.Words = append(w.a.Words, said)
		}
		return nil
	case KindChecked:
		p, err := decode[Checked](e, data)
		if err != nil {
			return err
		}
		w.check(&s, p)
	case KindRepaired:
		p, err := decode[Repaired](e, data)
		if err != nil {
			return err
		}
		w.repair(&s, p)
	case KindTested:
		p, err := decode[Tested](e, data)
		if err != nil {
			return err
		}
		s.Kind, s.Title, s.Works = "test", "Try the whole device", p.Works
		s.Found = append(s.Found, "it works")
		if !p.Works {
			s.Found[0] = joined(": ", "still wrong", w.c.valueWords(p.Values))
		}
	case KindSoaked:
		p, err := decode[Soaked](e, data)
		if err != nil || p.What != string(soak.Recurred) {
			return err
		}
		s.Kind, s.Title, s.Found = "soak", "It came back while it was watched", []string{w.c.valueWords(p.Values)}
	default:
		return nil
	}
	if err := w.meant(&s, e.Seq); err != nil {
		return err
	}
	w.a.Steps = append(w.a.Steps, s)
	return nil
}

func (w *teller) check(s *AccountStep, p Checked) {
	s.Kind, s.ID, s.Title, s.Old = "check", p.Check, w.c.checkTitle(p.Check), p.Before > 0
	for _, v := range p.Values {
		if f, ok := w.c.names.findings[v.Finding]; ok {
			s.Found = append(s.Found, v.phrase(w.c.Model.Findings[f].Title))
		}
	}
	n, ok := w.c.names.checks[p.Check]
	if !ok {
		s.ID = ""
		return
	}
	x := &w.c.Model.Checks[n]
	s.How, s.With, s.Open, s.Cautions = x.How, append(s.With, x.With...), w.c.Model.Access[x.Access].Title, cautionsIn(w.hazards(x.Hazards, x.Live), keptShut(w.c.Model.Hazards))
	if w.k == nil {
		return
	}
	var about []string
	for _, ch := range w.tops(w.last, 6) {
		mode := w.c.names.modes[ch.Mode]
		if slices.ContainsFunc(w.k.tells()[mode], func(t telling) bool { return t.check == n }) && len(about) < 3 {
			about = append(about, fmt.Sprintf("%s (%s)", ch.Title, percent(ch.Now)))
		}
	}
	if len(about) > 0 {
		s.Why = "it tells of " + strings.Join(about, ", ")
	}
	if s.Old {
		s.Why = joined("; ", "the part that was taken out still tells which fault it was", s.Why)
	}
}

// hazards are those of a step; what is done live has the device's own as well.
func (w *teller) hazards(own []note.Hazard, live bool) []note.Hazard {
	out := slices.Clone(own)
	if !live {
		return out
	}
	for _, h := range w.c.Model.Hazards {
		if !slices.ContainsFunc(out, func(x note.Hazard) bool { return x.Kind == h.Kind }) {
			out = append(out, h)
		}
	}
	return out
}

func (w *teller) repair(s *AccountStep, p Repaired) {
	s.Kind, s.ID, s.Title = "repair", p.Repair, joined(": ", w.c.repairTitle(p.Repair), p.What)
	n, ok := w.c.names.repairs[p.Repair]
	if !ok {
		s.ID = ""
		return
	}
	x := &w.c.Model.Repairs[n]
	s.How, s.With, s.Open, s.Cautions = x.How, append(s.With, x.With...), w.c.Model.Access[x.Access].Title, cautionsIn(w.hazards(x.Hazards, x.Live), keptShut(w.c.Model.Hazards))
	for _, i := range x.Buys {
		s.Parts = append(s.Parts, Item{What: i.What, Count: i.Count, Price: i.Price})
	}
	if w.k == nil {
		return
	}
	var cures []string
	for _, ch := range w.tops(w.last, 6) {
		mode := w.c.names.modes[ch.Mode]
		if slices.ContainsFunc(x.Clears, func(c note.Clear) bool { return c.Mode == mode }) {
			cures = append(cures, fmt.Sprintf("%s (%s)", ch.Title, percent(ch.Now)))
		}
	}
	if len(cures) > 0 {
		s.Why = "it cures " + strings.Join(cures, ", ")
	}
}

// meant says what an event changed, and goes on from there.
func (w *teller) meant(s *AccountStep, seq int) error {
	if w.k == nil {
		return nil
	}
	bl, err := w.e.Posterior(w.ctx, w.c.until(seq+1))
	if err != nil {
		return err
	}
	before := w.last
	w.last = bl
	if s.Kind == "repair" {
		return nil
	}
	was, is := before.Now, bl.Now
	if s.Old {
		was, is = before.First, bl.First
	}
	type move struct {
		mode int
		by   float64
	}
	var moves []move
	for i := range is {
		if d := is[i] - was[i]; d > 0.02 || d < -0.02 {
			moves = append(moves, move{i, max(d, -d)})
		}
	}
	slices.SortStableFunc(moves, func(a, b move) int { return cmpDown(a.by, b.by) })
	var words []string
	for _, m := range moves[:min(len(moves), 3)] {
		words = append(words, fmt.Sprintf("%s: %s before, %s after", w.c.Model.Modes[m.mode].Title, percent(was[m.mode]), percent(is[m.mode])))
	}
	s.Meant = strings.Join(words, "; ")
	return nil
}
