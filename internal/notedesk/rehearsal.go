package notedesk

import (
	"context"
	"time"

	"fettler/internal/failure"
	"fettler/internal/note"
	"fettler/internal/notecraft"
)

// A Rehearsal is what following the advice against a note's own faults has shown.
type Rehearsal struct {
	Device   string   `json:"device"`
	Title    string   `json:"title"`
	Currency string   `json:"currency"`
	Faults   int      `json:"faults"`  // of the note
	Drawn    int      `json:"drawn"`   // so many of them were rehearsed
	Cured    float64  `json:"cured"`   // share that ends cured, by how often they happen
	Named    float64  `json:"named"`   // share that is the first suspect at some time
	Money    float64  `json:"money"`   // mean
	Minutes  float64  `json:"minutes"` // mean
	Moves    float64  `json:"moves"`   // mean
	Missed   []Missed `json:"missed"`  // those that were not cured
	Twins    []Alike  `json:"twins"`   // faults that nothing in the note tells apart
	Unraised []string `json:"unraised"`
	Silent   []string `json:"silent"` // faults that show in no symptom
	Idle     []string `json:"idle"`   // checks that were never worth it
	Unused   []string `json:"unused"` // repairs that were never advised
	Words    string   `json:"words"`
}

// A Missed fault is one that following the advice did not cure.
type Missed struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	End     string  `json:"end"` // "hidden", "stopped", "lost" or "silent"
	Moves   int     `json:"moves"`
	Minutes float64 `json:"minutes"`
	Money   float64 `json:"money"`
}

// Alike are faults with the same effect on every finding.
type Alike struct {
	Titles []string `json:"titles"`
	Shared []string `json:"shared"` // repairs that clear them all
}

// RehearseNow rehearses a model and returns when it is done. Most bounds the
// number of faults; 0 is all of them.
func RehearseNow(ctx context.Context, m *note.Model, most int, seed uint64) (*Rehearsal, error) {
	r, err := notecraft.Rehearse(ctx, m, notecraft.Options{Most: most, Seed: seed})
	if err != nil {
		return nil, err
	}
	return rehearsalOf(m, r), nil
}

func rehearsalOf(m *note.Model, r *notecraft.Report) *Rehearsal {
	k := r.Mark(m)
	out := &Rehearsal{Device: m.ID, Title: m.Title, Currency: m.Currency, Faults: len(m.Modes), Cured: r.Ended[notecraft.Cured], Named: r.Named,
		Money: k.Money, Minutes: k.Minutes, Moves: k.Moves, Words: r.Words(m),
		Missed: []Missed{}, Twins: []Alike{}, Unraised: []string{}, Silent: []string{}, Idle: []string{}, Unused: []string{}}
	drawn := map[int]bool{}
	for _, x := range r.Runs {
		drawn[x.Mode] = true
		if x.End != notecraft.Cured && x.End != notecraft.Silent {
			out.Missed = append(out.Missed, Missed{m.Modes[x.Mode].ID, m.Modes[x.Mode].Title, x.End.String(), len(x.Moves), x.Minutes, x.Money})
		}
	}
	out.Drawn = len(drawn)
	for _, t := range r.Twins {
		var a Alike
		for _, i := range t.Modes {
			a.Titles = append(a.Titles, m.Modes[i].Title)
		}
		for _, i := range t.Shared {
			a.Shared = append(a.Shared, m.Repairs[i].Title)
		}
		out.Twins = append(out.Twins, a)
	}
	for _, i := range r.Unraised {
		out.Unraised = append(out.Unraised, m.Findings[i].Title)
	}
	for _, i := range r.Silent {
		out.Silent = append(out.Silent, m.Modes[i].Title)
	}
	for _, i := range r.Idle {
		out.Idle = append(out.Idle, m.Checks[i.Check].Title)
	}
	for _, i := range r.IdleRepairs {
		out.Unused = append(out.Unused, m.Repairs[i].Title)
	}
	return out
}

// rehearsing is a rehearsal under way.
type rehearsing struct {
	m     *note.Model
	since time.Time
}

// A Progress tells how far the rehearsal of a device is.
type Progress struct {
	Done    *Rehearsal
	Failed  string // why the last one came to nothing
	Going   bool   // this one is under way
	Busy    string // another device is being rehearsed
	Minutes float64
}

const (
	drawnInPages = 24               // so many faults are drawn, as for the table of the library
	rehearsalEnd = 40 * time.Minute // then it is given up
)

// Rehearsed tells how far the rehearsal of a device is.
func (d *Desk) Rehearsed(m *note.Model) Progress {
	w := d.of(m)
	d.mu.Lock()
	defer d.mu.Unlock()
	p := Progress{Done: w.rehearsal, Failed: w.failed}
	if g := d.going; g != nil {
		p.Going, p.Minutes = g.m == m, time.Since(g.since).Minutes()
		if !p.Going {
			p.Busy = g.m.Title
		}
	}
	return p
}

// Rehearse begins a rehearsal in the background, on one processor, so that the
// bench stays quick. One at a time: another is refused.
func (d *Desk) Rehearse(m *note.Model) error {
	w := d.of(m)
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.going != nil {
		if d.going.m == m {
			return nil
		}
		return failure.New(failure.BadInput, "wait until it is done; that takes some minutes", "“%s” is being rehearsed", d.going.m.Title)
	}
	d.going = &rehearsing{m: m, since: time.Now()}
	go func() {
		ctx, cancel := context.WithTimeout(context.Background(), rehearsalEnd)
		defer cancel()
		r, err := notecraft.Rehearse(ctx, m, notecraft.Options{Most: drawnInPages, Workers: 1})
		d.mu.Lock()
		defer d.mu.Unlock()
		d.going = nil
		if err != nil {
			w.failed = err.Error()
			return
		}
		w.rehearsal, w.failed = rehearsalOf(m, r), ""
	}()
	return nil
}
