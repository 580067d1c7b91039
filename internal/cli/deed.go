package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"fettler/internal/casework"
)

// A deedCmd is a command that writes one deed down, and that "correct" can put
// in the place of an earlier one.
type deedCmd interface {
	command
	// aim is the case it names, "" if it names none.
	aim() (string, error)
	// deed is what is to be written; it looks at the case only if it must.
	deed(ctx context.Context, s *session, look lookup) (casework.Deed, error)
}

// A lookup looks at the case as it stands, which takes longest of all.
type lookup func() (*casework.View, error)

// noted looks at a case whose note is needed to name things.
func (l lookup) noted() (*casework.View, error) {
	v, err := l()
	if err == nil && v.Source.Trouble != "" {
		return nil, &casework.Error{Code: casework.NoNote, Text: v.Source.Trouble, Next: "mend the note, or write it down as a remark"}
	}
	return v, err
}

func (s *session) lookup(ctx context.Context, id string) lookup {
	return func() (*casework.View, error) { return s.opened.View(ctx, id) }
}

// do finds the case and writes the deed.
func (s *session) do(ctx context.Context, c deedCmd) (answer, error) {
	name, err := c.aim()
	if err != nil {
		return nil, err
	}
	_, closing := c.(*reopenCmd)
	id, err := s.find(ctx, name, closing)
	if err != nil {
		return nil, unquoted(err, c)
	}
	d, err := c.deed(ctx, s, s.lookup(ctx, id))
	if err != nil {
		return nil, s.caseAlone(ctx, c, err)
	}
	if said, ok := d.(casework.Saying); ok {
		return s.hear(ctx, id, said)
	}
	r, err := s.record(ctx, id, d)
	if err != nil {
		return nil, s.tryAgain(err, id)
	}
	return s.done(ctx, r, 1)
}

// caseAlone says, where the only word names nothing of the note but a case, that
// the other word is missing.
func (s *session) caseAlone(ctx context.Context, c deedCmd, err error) error {
	l, ok := c.(interface {
		lone() (word, what, how string)
	})
	if !ok || casework.CodeOf(err) != casework.NotFound {
		return err
	}
	word, what, how := l.lone()
	if word == "" {
		return err
	}
	list, e := s.opened.List(ctx)
	if e != nil || !slices.ContainsFunc(list, func(l casework.Listed) bool { return l.Case == word || strings.EqualFold(l.Title, word) }) {
		return err
	}
	return &usageError{text: fmt.Sprintf("%q is a case; no %s was named", word, what), next: "type it as: fettler " + how}
}

// loneOf is the word of a command that has no more than one.
func loneOf(args []string) string {
	if plain, _ := split(args); len(plain) == 1 {
		return plain[0]
	}
	return ""
}

// unquoted adds, where a case before a text cannot be found, the command with
// both words as the text.
func unquoted(err error, c deedCmd) error {
	t, ok := c.(interface{ whole() []string })
	if !ok || len(t.whole()) < 3 {
		return err
	}
	out := &tryError{err, []string{line([]string{t.whole()[0], strings.Join(t.whole()[1:], " ")})}}
	var more *tryError
	if errors.As(err, &more) {
		out.err, out.try = more.err, append(out.try, more.try...)
	}
	return out
}

// record writes a deed.
func (s *session) record(ctx context.Context, id string, d casework.Deed) (casework.Receipt, error) {
	b := s.opened
	switch d := d.(type) {
	case casework.Noticing:
		return b.Notice(ctx, id, d)
	case casework.Checking:
		return b.RecordCheck(ctx, id, d)
	case casework.OpeningUp:
		return b.OpenUp(ctx, id, d)
	case casework.Repairing:
		return b.RecordRepair(ctx, id, d)
	case casework.Testing:
		return b.RecordTest(ctx, id, d)
	case casework.Ordering:
		return b.Order(ctx, id, d)
	case casework.Arriving:
		return b.Arrive(ctx, id, d)
	case casework.Remarking:
		return b.Remark(ctx, id, d)
	case casework.Removing:
		return b.Remove(ctx, id, d)
	case casework.Refitting:
		return b.Refit(ctx, id, d)
	case casework.Stepping:
		return b.Step(ctx, id, d)
	case casework.Orienting:
		return b.Orient(ctx, id, d)
	case casework.Tagging:
		return b.Tag(ctx, id, d)
	case casework.Settling:
		return b.Settle(ctx, id, d)
	case casework.Closing:
		return b.Close(ctx, id, d)
	case casework.Reopening:
		return b.Reopen(ctx, id, d)
	}
	return casework.Receipt{}, fmt.Errorf("nothing writes a %T", d)
}

// tryAgain adds the command that settles what hindered a deed.
func (s *session) tryAgain(err error, id string) error {
	switch casework.CodeOf(err) {
	case casework.Closed:
		return &tryError{err, []string{line([]string{"reopen", id})}}
	case casework.Doubtful:
		return &tryError{err, []string{line(append(slices.Clone(s.Args), "--sure"))}}
	case casework.Changed:
		return &tryError{err, []string{line([]string{"show", id})}}
	}
	return err
}

// done is what a deed answers: what was written, and how the case stands now.
type done struct {
	Case     string              `json:"case"`
	Recorded []recorded          `json:"recorded"`
	Heard    *heard              `json:"heard,omitempty"`
	Job      *casework.ReworkJob `json:"job,omitempty"` // that a step was ticked of
	Way      *casework.Polar     `json:"way,omitempty"` // of the part whose way round was noted
	Now      brief               `json:"now"`
}

// recorded is an event that was written.
type recorded struct {
	Event int    `json:"event"`
	Words string `json:"words"`
}

// done looks at the case after so many events have been written from r on.
func (s *session) done(ctx context.Context, r casework.Receipt, events int) (*done, error) {
	v, err := s.opened.View(ctx, r.Case)
	if err != nil {
		return nil, err
	}
	d := &done{Case: r.Case, Recorded: []recorded{}, Now: briefOf(v)}
	for _, e := range v.Timeline {
		if e.Event >= r.Seq && e.Event < r.Seq+events {
			d.Recorded = append(d.Recorded, recorded{e.Event, e.Words})
		}
	}
	return d, nil
}

func (d *done) text(p *page) {
	p.head("%s (%s)", d.Now.Title, d.Case)
	for _, r := range d.Recorded {
		p.para(fmt.Sprintf("%4d  ", r.Event), r.Words)
	}
	if d.Heard != nil {
		d.Heard.text(p)
	}
	if d.Job != nil {
		p.para("      ", jobWords(*d.Job))
	}
	if d.Way != nil {
		p.para("      ", wayOf(*d.Way))
	}
	p.gap()
	d.Now.text(p)
}

// A brief is how a case stands, in short.
type brief struct {
	Title    string            `json:"title"`
	State    casework.State    `json:"state"`
	Verdict  casework.Verdict  `json:"verdict,omitempty"`
	Seq      int               `json:"seq"` // last event; hand it back as --seen
	Money    float64           `json:"money"`
	Currency string            `json:"currency"`
	Minutes  float64           `json:"minutes"`
	Suspects []casework.Chance `json:"suspects"` // the likeliest
	Unknown  casework.Chance   `json:"unknown"`
	Next     *move             `json:"next"`
	NoNext   string            `json:"noNext,omitempty"`
	Warnings []string          `json:"warnings,omitempty"`
	Strain   string            `json:"strain,omitempty"`
	Trouble  string            `json:"trouble,omitempty"` // why there is no note
}

// A move is what to do next, in short.
type move struct {
	Kind    string  `json:"kind"`
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Minutes float64 `json:"minutes"`
	Money   float64 `json:"money"`
	Total   float64 `json:"-"`
}

// briefSuspects is how many suspects a brief names.
const briefSuspects = 4

func briefOf(v *casework.View) brief {
	h := v.Header
	b := brief{Title: h.Title, State: h.State, Verdict: h.Verdict, Seq: h.Seq, Money: h.Money, Currency: h.Currency, Minutes: h.Minutes,
		Suspects: []casework.Chance{}, Unknown: v.Unknown, NoNext: v.NoNext, Trouble: v.Source.Trouble}
	for _, s := range v.Suspects[:min(len(v.Suspects), briefSuspects)] {
		b.Suspects = append(b.Suspects, s.Chance)
	}
	if c := v.Next; c != nil {
		b.Next = &move{Kind: c.Kind, ID: c.ID, Title: c.Title, Minutes: c.Total, Money: c.Money}
	}
	for _, w := range v.Pressing() {
		b.Warnings = append(b.Warnings, w.Text)
	}
	if o := v.Outcome; o != nil && o.Untested != "" {
		b.Warnings = append(b.Warnings, o.Untested+". Once it has been tried: "+line([]string{"reopen", h.Case})+", "+line([]string{"test", h.Case, "works"})+", "+line([]string{"close", h.Case, "fixed"}))
	}
	for _, w := range []string{v.Leftover(), v.Backwards()} {
		if w != "" {
			b.Warnings = append(b.Warnings, w)
		}
	}
	if v.Strain != nil {
		b.Strain = v.Strain.Text
	}
	return b
}

func (b brief) text(p *page) {
	for _, c := range b.Suspects {
		p.para(chance(c), c.Title)
	}
	if len(b.Suspects) > 0 && b.Unknown.Now >= 0.01 {
		p.para(chance(b.Unknown), "a fault the note does not know")
	}
	if b.Strain != "" {
		p.para("  doubt: ", b.Strain)
	}
	for _, w := range b.Warnings {
		p.para("  warning: ", w)
	}
	switch {
	case b.State == casework.Done:
		p.para("  closed: ", string(b.Verdict))
	case b.Next != nil:
		p.para("  next: ", b.Next.words(b.Currency))
	case b.NoNext != "":
		p.para("  next: ", b.NoNext)
	}
	if b.Trouble != "" {
		p.para("  note: ", b.Trouble)
	}
}

// chance is a suspect's chance now and before, as the head of a line.
func chance(c casework.Chance) string {
	was := ""
	if now := percent(c.Now); now != percent(c.Before) {
		was = "was " + percent(c.Before)
	}
	return fmt.Sprintf("%6s  %-9s  ", percent(c.Now), was)
}

func (m move) words(currency string) string {
	switch m.Kind {
	case "stop":
		return m.Title
	case "test":
		return fmt.Sprintf("%s (%s)", m.Title, minutes(m.Minutes))
	}
	return fmt.Sprintf("%s %s: %s (%s%s)", m.Kind, m.ID, m.Title, minutes(m.Minutes), comma(m.Money, currency))
}

func comma(m float64, currency string) string {
	if m == 0 {
		return ""
	}
	return ", " + money(m, currency)
}

// split takes arguments apart: plain words first, then finding=value.
func split(args []string) (plain []string, answers []casework.Answer) {
	for _, a := range args {
		if f, v, ok := strings.Cut(a, "="); ok {
			answers = append(answers, casework.Answer{Finding: strings.TrimSpace(f), Text: v})
		} else {
			plain = append(plain, a)
		}
	}
	return plain, answers
}

// caseThen reads plain words that are an optional case and then one word.
func caseThen(plain []string, what, how string) (name, word string, err error) {
	switch len(plain) {
	case 0:
		return "", "", &usageError{text: "no " + what + " was named", next: "type it as: fettler " + how}
	case 1:
		return "", plain[0], nil
	case 2:
		return plain[0], plain[1], nil
	}
	return "", "", &usageError{text: fmt.Sprintf("%q is one word too many", plain[2]), next: "type it as: fettler " + how + "; put quotes around what belongs together"}
}

// onlyCase reads plain words that are an optional case and nothing else.
func onlyCase(args []string, how string) (string, error) {
	if len(args) > 1 {
		return "", &usageError{text: fmt.Sprintf("%q is one word too many", args[1]), next: "type it as: fettler " + how + "; put quotes around what belongs together"}
	}
	if len(args) == 1 {
		return args[0], nil
	}
	return "", nil
}
