package casework

import (
	"cmp"
	"context"
	"maps"
	"slices"
	"time"

	"fettler/internal/ledger"
	"fettler/internal/school"
)

// A Learnt is what closed cases have taught, for a face to show.
type Learnt struct {
	On       bool     `json:"on"`       // it is reckoned with
	Bench    string   `json:"bench"`    // name this bench goes by elsewhere, "" if it has none yet
	Cases    int      `json:"cases"`    // that count
	Others   int      `json:"others"`   // of these, from other benches
	Informed int      `json:"informed"` // with an idea of what it was
	Trouble  string   `json:"trouble"`  // what of it could not be used
	Files    []Shared `json:"files"`    // taken over from other benches

	Devices     []LearntDevice `json:"devices"`     // what has moved, most cases first
	Calibration []Calibrated   `json:"calibration"` // how far stated chances can be trusted
	Costs       []CostMiss     `json:"costs"`
	Savings     Savings        `json:"savings"`
}

// Shared is a file taken over.
type Shared struct {
	Event int       `json:"event"` // undo it to take it out again
	At    time.Time `json:"at"`
	Words string    `json:"words"`
	Lost  bool      `json:"lost"` // it cannot be read any more
}

// LearntDevice is what has moved in one note.
type LearntDevice struct {
	Device string        `json:"device"`
	Title  string        `json:"title"`
	Cases  int           `json:"cases"`
	Odds   []LearntOdds  `json:"odds"`   // of faults, furthest from 1 first
	Others []LearntOther `json:"others"` // chances of signs and successes of repairs
}

// LearntOdds is by how much the odds of a fault differ from the note's.
type LearntOdds struct {
	Mode  string  `json:"mode"`
	Title string  `json:"title"`
	Mean  float64 `json:"mean"`
	Low   float64 `json:"low"` // nine of ten are between low and high
	High  float64 `json:"high"`
	Words string  `json:"words"` // "from 9 cases here: ×1.8"
}

// LearntOther is a chance that has moved.
type LearntOther struct {
	Kind  string  `json:"kind"` // "chance of a sign" or "success of a repair"
	Title string  `json:"title"`
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Words string  `json:"words"`
}

// Calibrated says how far one sort of stated chances can be trusted. Brier is
// their mean squared error; Skill is what share of the error of always stating the
// base rate they spare.
type Calibrated struct {
	About       string          `json:"about"`
	N           int             `json:"n"`
	BaseRate    float64         `json:"baseRate"`
	Brier       float64         `json:"brier"`
	Skill       float64         `json:"skill"`
	Reliability float64         `json:"reliability"`
	Resolution  float64         `json:"resolution"`
	Bins        []CalibratedBin `json:"bins"`
}

// CalibratedBin is a point of the diagram: chances stated as about Stated came true
// with frequency Came, for which so few allow Low to High.
type CalibratedBin struct {
	N      int     `json:"n"`
	Stated float64 `json:"stated"`
	Came   float64 `json:"came"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
}

// CostMiss compares what was foretold with what it took, in one currency.
type CostMiss struct {
	Currency string `json:"currency"`
	Money    Miss   `json:"money"`
	Minutes  Miss   `json:"minutes"`
}

// A Miss is real less foretold.
type Miss struct {
	N       int        `json:"n"`
	Bias    float64    `json:"bias"`    // mean
	Error   float64    `json:"error"`   // standard error of the bias
	Ratio   float64    `json:"ratio"`   // all that was spent over all that was foretold; 0 if nothing was
	InRange int        `json:"inRange"` // cases within the range stated for nine of ten
	Ranges  int        `json:"ranges"`  // cases with such a range
	Pairs   []MissPair `json:"pairs"`   // in the order of closing
}

// A MissPair is one case: foretold and real.
type MissPair struct {
	Foretold float64 `json:"foretold"`
	Real     float64 `json:"real"`
}

// Savings are what the closed cases have brought.
type Savings struct {
	Cases     int          `json:"cases"`
	Fixed     int          `json:"fixed"`
	Hours     float64      `json:"hours"` // of work
	Kg        float64      `json:"kg"`    // kept from landfill
	CO2       float64      `json:"co2"`   // kg of CO₂ equivalent; 0 without a sourced factor
	CO2Source string       `json:"co2Source"`
	Money     []SavedMoney `json:"money"`
	Months    []SavedMonth `json:"months"` // running totals
}

// SavedMoney is per currency: worth and parts less what was spent.
type SavedMoney struct {
	Currency string  `json:"currency"`
	Worth    float64 `json:"worth"`
	Scrap    float64 `json:"scrap"`
	Spent    float64 `json:"spent"`
	Net      float64 `json:"net"`
}

// SavedMonth is the running total at the end of a month.
type SavedMonth struct {
	Month time.Time  `json:"month"`
	Fixed int        `json:"fixed"`
	Hours float64    `json:"hours"`
	Kg    float64    `json:"kg"`
	Net   []NetMoney `json:"net"`
}

// NetMoney is what was saved in one currency.
type NetMoney struct {
	Currency string  `json:"currency"`
	Net      float64 `json:"net"`
}

// Learnt returns what closed cases have taught, also if it is not reckoned with.
func (b *Bench) Learnt(ctx context.Context) (*Learnt, error) {
	bench, err := b.events(ctx, BenchCase)
	if err != nil {
		return nil, err
	}
	c, err := project(nil, namesOf(nil), nil, bench)
	if err != nil {
		return nil, err
	}
	v := &Learnt{On: c.Settings.Learn, Bench: benchName(bench), Devices: []LearntDevice{}}
	others := takenOver(bench)
	err = b.school.Open(ctx, v.Bench, others, func(r school.Report) error {
		v.Trouble, v.Files = r.Trouble, sharedFiles(c.Timeline, others, r.Missing)
		counting := r.Book.Counting()
		v.Cases = len(counting)
		for _, x := range counting {
			if x.Bench != r.Bench {
				v.Others++
			}
		}
		if r.Lessons != nil {
			v.Informed = r.Lessons.Informed
			v.Devices = b.learntDevices(r, counting)
		}
		if v.Calibration, err = calibrated(r.Book); err != nil {
			return err
		}
		v.Costs = costMisses(r.Book)
		v.Savings, err = savings(r.Book, ledger.Carbon{KgPerKg: c.Settings.Carbon, Source: c.Settings.CarbonSource})
		return err
	})
	if err != nil {
		return nil, err
	}
	return v, nil
}

func sharedFiles(timeline []Entry, others, missing []string) []Shared {
	out := []Shared{}
	n := 0
	for _, e := range timeline {
		if e.Kind != KindTakenOver || e.Void {
			continue
		}
		s := Shared{Event: e.Event, At: e.At, Words: e.Words}
		if n < len(others) {
			s.Lost = slices.Contains(missing, others[n])
		}
		n++
		out = append(out, s)
	}
	return out
}

// learntDevices lists what has moved in the notes of which there are cases.
func (b *Bench) learntDevices(r school.Report, counting []ledger.Record) []LearntDevice {
	count := map[string]int{}
	device := map[string]string{}
	for _, s := range r.Book.Sheets() {
		device[s.Key()] = s.Device
	}
	for _, x := range counting {
		if d := device[x.Sheet]; d != "" {
			count[d]++
		}
	}
	out := []LearntDevice{}
	for id, n := range count {
		m, err := b.notes.Model(id)
		if err != nil {
			continue
		}
		d := LearntDevice{Device: id, Title: m.Title, Cases: n, Odds: []LearntOdds{}, Others: []LearntOther{}}
		m = distinct(m)
		titles := namesOf(m)
		for _, c := range r.Lessons.Changes(m) {
			if c.Kind == ledger.OddsChange {
				title := m.Modes[titles.modes[c.ID]].Title
				d.Odds = append(d.Odds, LearntOdds{Mode: c.ID, Title: title, Mean: c.Factor.Mean, Low: c.Factor.Low, High: c.Factor.High, Words: c.Words()})
				continue
			}
			d.Others = append(d.Others, LearntOther{Kind: string(c.Kind), Title: c.Title, From: c.From, To: c.To, Words: c.Words()})
		}
		far := func(o LearntOdds) float64 { return max(o.Mean, 1/max(o.Mean, 1e-9)) }
		slices.SortStableFunc(d.Odds, func(a, b LearntOdds) int { return cmp.Or(-cmp.Compare(far(a), far(b)), cmp.Compare(a.Mode, b.Mode)) })
		out = append(out, d)
	}
	slices.SortFunc(out, func(a, b LearntDevice) int {
		return cmp.Or(cmp.Compare(b.Cases, a.Cases), cmp.Compare(a.Device, b.Device))
	})
	return out
}

func calibrated(book *ledger.Book) ([]Calibrated, error) {
	out := []Calibrated{}
	for _, about := range []string{AboutFault, AboutWorks} {
		c, err := book.Calibration(about, 10)
		if err != nil {
			return nil, err
		}
		if c.N == 0 {
			continue
		}
		x := Calibrated{About: about, N: c.N, BaseRate: c.BaseRate, Brier: c.Brier, Skill: c.Skill, Reliability: c.Reliability, Resolution: c.Resolution, Bins: []CalibratedBin{}}
		for _, b := range c.Bins {
			x.Bins = append(x.Bins, CalibratedBin{N: b.N, Stated: b.Stated, Came: b.Came, Low: b.Low, High: b.High})
		}
		out = append(out, x)
	}
	return out, nil
}

func costMisses(book *ledger.Book) []CostMiss {
	out := []CostMiss{}
	miss := func(m ledger.Misses) Miss {
		x := Miss{N: m.N, Bias: m.Bias, Error: m.BiasError, Ratio: m.Ratio, InRange: m.InRange, Ranges: m.Ranges, Pairs: []MissPair{}}
		for _, p := range m.Foretold {
			x.Pairs = append(x.Pairs, MissPair{p.X, p.Y})
		}
		return x
	}
	for _, c := range book.Costs() {
		out = append(out, CostMiss{Currency: c.Currency, Money: miss(c.Money), Minutes: miss(c.Minutes)})
	}
	return out
}

func savings(book *ledger.Book, carbon ledger.Carbon) (Savings, error) {
	s, err := book.Savings(carbon)
	if err != nil {
		return Savings{}, err
	}
	out := Savings{Cases: s.Cases, Fixed: s.Fixed, Hours: s.Hours, Kg: s.Kg, CO2: s.CO2Kg, CO2Source: s.CO2Source, Money: []SavedMoney{}, Months: []SavedMonth{}}
	for _, m := range s.Money {
		out.Money = append(out.Money, SavedMoney(m))
	}
	for _, m := range s.Series {
		x := SavedMonth{Month: m.Month, Fixed: m.Fixed, Hours: m.Hours, Kg: m.Kg, Net: []NetMoney{}}
		for _, c := range slices.Sorted(maps.Keys(m.Net)) {
			x.Net = append(x.Net, NetMoney{c, m.Net[c]})
		}
		out.Months = append(out.Months, x)
	}
	return out, nil
}
