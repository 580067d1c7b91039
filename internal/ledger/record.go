package ledger

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// A Record is what one closed case teaches. Seal it before adding it to a Book.
//
// All chances are those of the belief at the end of the case. It carries no
// name of a person; Bench and Case are whatever identifies them.
type Record struct {
	Bench     string    `json:"bench"`
	Case      string    `json:"case"`
	Revision  int       `json:"revision,omitempty"`  // a case that was corrected has a higher one; the highest counts
	Withdrawn bool      `json:"withdrawn,omitempty"` // the case no longer counts
	Closed    time.Time `json:"closed"`
	Sheet     string    `json:"sheet,omitempty"` // key of the note's Sheet; empty for a device without a note
	Fixed     bool      `json:"fixed,omitempty"`

	Because []Share `json:"because,omitempty"` // which faults were there when the device came
	Sets    []Set   `json:"sets,omitempty"`    // the same as candidates, if known; they then stand for Because
	Unknown float64 `json:"unknown,omitempty"` // chance that it was a fault the note does not know
	Looks   []Look  `json:"looks,omitempty"`   // signs looked for before the first repair
	Tries   []Try   `json:"tries,omitempty"`   // repairs whose effect was seen

	Said []Saying `json:"said,omitempty"` // chances stated during the case, and what came
	Cost Cost     `json:"cost"`
	Gain Gain     `json:"gain"`

	Hash string `json:"hash"` // of all the above
}

// A Share is a fault mode and the chance that it was there. Factor is the factor
// on its odds by which the ledger had already moved them when P was computed; 0
// stands for 1. It is taken out again, so that the ledger does not teach itself.
type Share struct {
	Mode   string  `json:"mode"`
	P      float64 `json:"p"`
	Factor float64 `json:"factor,omitempty"`
}

// A Set is one candidate: faults that were there together, with the chance of
// just these. With several faults it says more than the shares of each. Factor is
// that by which the ledger had moved the candidate's weight; 0 stands for 1.
type Set struct {
	Modes  []string `json:"modes"`
	P      float64  `json:"p"`
	Factor float64  `json:"factor,omitempty"`
}

// A Look is a sign that was looked for Of times and was there Shown times; Of 0 stands for 1.
type Look struct {
	Finding string `json:"finding"`
	Shown   int    `json:"shown"`
	Of      int    `json:"of,omitempty"`
}

// A Try is a repair that meant to clear Mode, which was There with a chance, and
// if so was Cleared by it with a chance.
type Try struct {
	Repair  string  `json:"repair"`
	Mode    string  `json:"mode"`
	There   float64 `json:"there"`
	Cleared float64 `json:"cleared"`
}

// A Saying is a chance that was stated, and whether it came true.
type Saying struct {
	About string  `json:"about,omitempty"` // what sort of thing: "fault", "repair works", …
	P     float64 `json:"p"`
	Came  bool    `json:"came"`
}

// Cost is what a case was expected to cost when it began, and what it did cost.
// The interval is the one of 90 % that was stated; both ends 0 for none.
type Cost struct {
	Currency  string  `json:"currency,omitempty"`
	Money     float64 `json:"money"`
	Minutes   float64 `json:"minutes"`
	Foretold  bool    `json:"foretold,omitempty"` // the expected figures below were stated
	MoneyMean float64 `json:"moneyMean,omitempty"`
	MoneyLow  float64 `json:"moneyLow,omitempty"`
	MoneyHigh float64 `json:"moneyHigh,omitempty"`
	MinMean   float64 `json:"minMean,omitempty"`
	MinLow    float64 `json:"minLow,omitempty"`
	MinHigh   float64 `json:"minHigh,omitempty"`
}

// Gain is what the end of the case is worth.
type Gain struct {
	Worth float64 `json:"worth,omitempty"` // of the working device, if fixed
	Scrap float64 `json:"scrap,omitempty"` // of the parts kept or sold, if not
	Kg    float64 `json:"kg,omitempty"`    // kept from landfill
}

// Seal checks a record, puts its lists in order and fills in its hash.
func Seal(r Record) (Record, error) {
	if err := r.check(); err != nil {
		return Record{}, err
	}
	r = r.inOrder()
	hash, err := r.hash()
	if err != nil {
		return Record{}, err
	}
	r.Hash = hash
	return r, nil
}

// inOrder returns a copy whose hash does not depend on the order of its lists.
func (r Record) inOrder() Record {
	r.Closed = r.Closed.UTC().Round(0).Truncate(time.Microsecond)
	r.Sets = slices.Clone(r.Sets)
	for i := range r.Sets {
		r.Sets[i].Modes = slices.Sorted(slices.Values(r.Sets[i].Modes))
	}
	slices.SortFunc(r.Sets, func(a, b Set) int { return cmp.Or(slices.Compare(a.Modes, b.Modes), cmp.Compare(a.P, b.P)) })
	r.Because, r.Looks, r.Tries, r.Said = slices.Clone(r.Because), slices.Clone(r.Looks), slices.Clone(r.Tries), slices.Clone(r.Said)
	slices.SortFunc(r.Because, func(a, b Share) int { return cmp.Compare(a.Mode, b.Mode) })
	slices.SortFunc(r.Looks, func(a, b Look) int {
		return cmp.Or(cmp.Compare(a.Finding, b.Finding), cmp.Compare(a.Of, b.Of), cmp.Compare(a.Shown, b.Shown))
	})
	slices.SortFunc(r.Tries, func(a, b Try) int {
		return cmp.Or(cmp.Compare(a.Repair, b.Repair), cmp.Compare(a.Mode, b.Mode), cmp.Compare(a.There, b.There), cmp.Compare(a.Cleared, b.Cleared))
	})
	return r
}

func (r Record) hash() (string, error) {
	r.Hash = ""
	data, err := json.Marshal(r)
	if err != nil {
		return "", fmt.Errorf("ledger: %s cannot be written down: %w", r.place(), err)
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:]), nil
}

// tells says whether the record has an idea of what it was.
func (r Record) tells() bool { return len(r.Because) > 0 || len(r.Sets) > 0 }

func (r Record) place() string { return fmt.Sprintf("case %q of bench %q", r.Case, r.Bench) }

const maxMoney = 1e9

func (r Record) check() error {
	c := &checker{where: r.place()}
	c.name("the bench", r.Bench, false)
	c.name("the case", r.Case, false)
	c.name("the sheet", r.Sheet, true)
	c.in("the revision", float64(r.Revision), 0, 1e9)
	if y := r.Closed.Year(); y < 1900 || y > 9999 {
		c.fail("the day it was closed", "missing or out of range", "a date from 1900 on")
	}
	c.in("the chance of an unknown fault", r.Unknown, 0, 1)
	r.checkShares(c)
	r.checkSets(c)
	c.atMost("the signs looked for", len(r.Looks), 5000)
	for _, l := range r.Looks {
		c.name("a finding", l.Finding, false)
		c.in("how often "+l.Finding+" was looked for", float64(l.Of), 0, 1e6)
		c.in("how often "+l.Finding+" was there", float64(l.Shown), 0, float64(max(l.Of, 1)))
	}
	c.atMost("the repairs", len(r.Tries), 5000)
	for _, t := range r.Tries {
		c.name("a repair", t.Repair, false)
		c.name("the fault a repair was for", t.Mode, false)
		c.in("the chance that "+t.Mode+" was there", t.There, 0, 1)
		c.in("the chance that "+t.Mode+" was cleared", t.Cleared, 0, 1)
	}
	c.atMost("the chances stated", len(r.Said), 5000)
	for _, s := range r.Said {
		c.name("what a chance was about", s.About, true)
		c.in("a chance stated", s.P, 0, 1)
	}
	r.checkMoney(c)
	return c.err
}

func (r Record) checkShares(c *checker) {
	c.atMost("the faults", len(r.Because), 2000)
	seen := make(map[string]bool, len(r.Because))
	for _, s := range r.Because {
		c.name("a fault", s.Mode, false)
		c.in("the chance of "+s.Mode, s.P, 0, 1)
		if s.Factor != 0 {
			c.in("the factor on "+s.Mode, s.Factor, 1e-6, 1e6)
		}
		if seen[s.Mode] {
			c.fail("the fault "+s.Mode, "there twice", "it once")
		}
		seen[s.Mode] = true
	}
	if r.tells() && r.Sheet == "" {
		c.fail("the sheet", "missing", "the sheet of the note that names the faults")
	}
}

func (r Record) checkSets(c *checker) {
	c.atMost("the candidates", len(r.Sets), 2000)
	sum := 0.0
	for _, s := range r.Sets {
		if len(s.Modes) == 0 || len(s.Modes) > 100 {
			c.fail("a candidate", fmt.Sprintf("a set of %d faults", len(s.Modes)), "1 to 100")
		}
		for i, m := range s.Modes {
			c.name("a fault", m, false)
			if slices.Contains(s.Modes[:i], m) {
				c.fail("the fault "+m, "twice in a candidate", "it once")
			}
		}
		c.in("the chance of a candidate", s.P, 0, 1)
		if s.Factor != 0 {
			c.in("the factor on a candidate", s.Factor, 1e-12, 1e12)
		}
		sum += s.P
	}
	if sum > 1+1e-6 {
		c.fail("the sum of the candidates' chances", num(sum), "at most 1: they exclude one another")
	}
}

func (r Record) checkMoney(c *checker) {
	c.name("the currency", r.Cost.Currency, true)
	c.in("the money spent", r.Cost.Money, -maxMoney, maxMoney)
	c.in("the minutes spent", r.Cost.Minutes, 0, 1e7)
	for _, v := range []float64{r.Cost.MoneyMean, r.Cost.MoneyLow, r.Cost.MoneyHigh} {
		c.in("the money foretold", v, -maxMoney, maxMoney)
	}
	for _, v := range []float64{r.Cost.MinMean, r.Cost.MinLow, r.Cost.MinHigh} {
		c.in("the minutes foretold", v, 0, 1e7)
	}
	if r.Cost.MoneyLow > r.Cost.MoneyHigh || r.Cost.MinLow > r.Cost.MinHigh {
		c.fail("the range foretold", "upside down", "its lower end first")
	}
	c.in("the worth of the device", r.Gain.Worth, 0, maxMoney)
	c.in("the worth of the parts", r.Gain.Scrap, -maxMoney, maxMoney)
	c.in("the mass", r.Gain.Kg, 0, 1e5)
}
