package casework

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"fettler/internal/journal"
	"fettler/internal/openrepair"
)

// OpenData says who gives records to the open repair data. All may be empty.
type OpenData struct {
	Provider string
	Country  string // three letters of ISO 3166-1
	Group    string
}

// OpenRecords returns the closed cases as records of the open repair data standard
// 0.3, oldest first. Invented cases are left out. What anybody wrote in their own
// words is left out as well: the problem is said in the words of the bench note.
func (b *Bench) OpenRecords(ctx context.Context, by OpenData) ([]openrepair.Record, error) {
	heads, err := b.journal.Heads(ctx)
	if err != nil {
		return nil, storeError(err)
	}
	slices.SortFunc(heads, func(a, b journal.Head) int {
		if d := a.First.Compare(b.First); d != 0 {
			return d
		}
		return strings.Compare(a.Case, b.Case)
	})
	out := []openrepair.Record{}
	for _, h := range heads {
		events, err := b.events(ctx, h.Case)
		if err != nil {
			return nil, err
		}
		c, err := b.project(nil, events)
		if err != nil {
			return nil, err
		}
		if r, ok := c.openRecord(by, b.day(c.ClosedAt, time.DateOnly)); ok {
			if err := r.Check(); err != nil {
				return nil, &Error{Code: BadInput, Text: fmt.Sprintf("case %s: %v", c.ID, err), Next: "put that right, then try again", Err: err}
			}
			out = append(out, r)
		}
	}
	return out, nil
}

// statusOf is how an end reads in the standard.
var statusOf = map[Verdict]openrepair.Status{
	Fixed: openrepair.Fixed, PassedOn: openrepair.Repairable, NotWorthIt: openrepair.EndOfLife, KeptForParts: openrepair.EndOfLife,
}

// openRecord is the case, closed on a day, as a record, if it is one for others.
func (c *Case) openRecord(by OpenData, day string) (openrepair.Record, bool) {
	if c.Closed == nil || c.Opened.Demo {
		return openrepair.Record{}, false
	}
	if r := c.Opened.Record; r != nil {
		return *r, true // as it came
	}
	r := openrepair.Record{ID: c.ID, Provider: by.Provider, Country: by.Country, Group: by.Group, PartnerCategory: c.kind(), Category: c.category(),
		Status: statusOf[c.Closed.Verdict], Date: day, Problem: c.problem()}
	if r.Status == openrepair.EndOfLife {
		r.Barrier = c.Closed.Barrier
	}
	if c.Opened.Age > 0 {
		age := c.Opened.Age
		r.Age = &age
	}
	return r, true
}

func (c *Case) category() string {
	category := c.Opened.Category
	if c.Model != nil {
		category = c.Model.Category
	}
	if !slices.Contains(openrepair.Categories(), category) {
		return "Misc"
	}
	return category
}

// likely is from what chance on a fault is named as the one.
const likely = 0.5

// problem is what showed, what it was and what was done, in the note's words.
func (c *Case) problem() string {
	if c.Model == nil {
		return ""
	}
	var showed, was, done []string
	for i := range c.Model.Findings {
		if f := &c.Model.Findings[i]; f.Check < 0 && c.showed()[i] {
			showed = append(showed, f.Title)
		}
	}
	for _, x := range c.Closed.Because {
		if i, ok := c.names.modes[x.Mode]; ok && x.P >= likely {
			was = append(was, c.Model.Modes[i].Title)
		}
	}
	for _, a := range c.Evidence.Acts {
		if a.Repair >= 0 {
			done = append(done, lowered(c.Model.Repairs[a.Repair].Title))
		}
	}
	text := strings.Join(showed, "; ")
	for _, x := range []struct {
		lead  string
		parts []string
	}{{"It was: ", was}, {"Done: ", done}} {
		if len(x.parts) > 0 {
			text = joined(". ", text, x.lead+strings.Join(x.parts, "; "))
		}
	}
	return text
}

// Imported says what came of reading open repair data.
type Imported struct {
	Taken    int                 `json:"taken"`
	Known    int                 `json:"known"` // there already
	Rejected []openrepair.Reject `json:"rejected"`
}

// ImportOpenData takes over records of the open repair data standard as closed
// cases, each on its day. They can be found and given on, but teach nothing and
// count as no saving of this bench. What is there already is passed over.
func (b *Bench) ImportOpenData(ctx context.Context, file io.Reader, by By) (*Imported, error) {
	who, err := oneLine(by.Who, "the name")
	if err != nil {
		return nil, err
	}
	records, rejects, err := openrepair.Read(file)
	if err != nil {
		return nil, &Error{Code: BadInput, Text: err.Error(), Next: "give a CSV file of the open repair data standard 0.3", Err: err}
	}
	out := &Imported{Rejected: append([]openrepair.Reject{}, rejects...)}
	infos := b.notes.Devices()
	var batch []journal.Batch
	for i, r := range records {
		o := Opened{Category: r.Category, Label: shortened(joined(" ", r.Brand, r.PartnerCategory)), Record: &r}
		for _, d := range infos {
			if d.Generic && d.Category == r.Category {
				o.Device = d.ID
			}
		}
		if r.Age != nil {
			o.Age = min(*r.Age, maxAge)
		}
		events, err := b.importEvents(importID(r), who, o, r)
		if err != nil {
			return nil, err
		}
		batch = append(batch, journal.Batch{Case: importID(r), Events: events})
		if len(batch) < importAtOnce && i < len(records)-1 {
			continue
		}
		late, err := b.appendAll(ctx, batch)
		if err != nil {
			return nil, storeError(err)
		}
		out.Taken, out.Known = out.Taken+len(batch)-late, out.Known+late
		batch = batch[:0]
	}
	return out, nil
}

// importAtOnce is how many records are written in one transaction; others can write in between.
const importAtOnce = 500

// appendAll appends to many cases and says how many have moved on.
func (b *Bench) appendAll(ctx context.Context, batches []journal.Batch) (late int, err error) {
	if j, ok := b.journal.(journal.Batcher); ok {
		return j.AppendAll(ctx, batches)
	}
	for _, x := range batches {
		err := b.journal.Append(ctx, x.Case, x.After, x.Events...)
		var conflict *journal.Conflict
		switch {
		case errors.As(err, &conflict):
			late++
		case err != nil:
			return late, err
		}
	}
	return late, nil
}

// shortened is as much of a text as a label holds.
func shortened(s string) string {
	if len(s) <= maxLabel {
		return s
	}
	return strings.ToValidUTF8(s[:maxLabel], "")
}

// importID is the name of the case a record becomes: always the same one.
func importID(r openrepair.Record) string {
	sum := sha256.Sum256([]byte(r.Provider + "\x00" + r.ID))
	return "open-" + hex.EncodeToString(sum[:8])
}

// importEvents are the events of a record taken over, at noon of its day.
func (b *Bench) importEvents(id, who string, o Opened, r openrepair.Record) ([]Event, error) {
	at := b.now().UTC().Truncate(time.Microsecond)
	if day, err := time.Parse(time.DateOnly, r.Date); err == nil {
		at = day.Add(12 * time.Hour)
	}
	verdict := PassedOn
	switch r.Status {
	case openrepair.Fixed:
		verdict = Fixed
	case openrepair.EndOfLife:
		verdict = NotWorthIt
	}
	var out []Event
	add := func(kind Kind, p any) error {
		data, err := json.Marshal(p)
		out = append(out, Event{Case: id, Seq: len(out) + 1, At: at, Kind: kind, Who: who, Version: payloadVersion, Data: data})
		return err
	}
	err := add(KindOpened, o)
	if r.Problem != "" && err == nil {
		err = add(KindRemarked, Remarked{Text: r.Problem})
	}
	if err == nil {
		err = add(KindClosed, ClosedCase{Verdict: verdict, Barrier: r.Barrier})
	}
	if err != nil {
		return nil, fmt.Errorf("record %q cannot be written down: %w", clip(r.ID), err)
	}
	return out, nil
}
