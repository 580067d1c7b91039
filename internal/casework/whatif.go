package casework

import (
	"context"
	"slices"
	"strings"
)

// A WhatIf is the case as it would be. Nothing of it is written down.
type WhatIf struct {
	Case  string   `json:"case"`
	If    []string `json:"if"`    // what is supposed, in words
	Was   *Card    `json:"was"`   // what is advised as things are; nil if nothing is
	Now   *Outlook `json:"now"`   // of the case as it is, reckoned as that of Would is; nil if nothing is advised
	Would *View    `json:"would"` // the case if it were so; Before of a chance is what it is now
}

// supposeMost bounds how many deeds can be supposed at once.
const supposeMost = 20

// WhatIf returns the case as it would be had the deeds been done. They are put to the
// case as if they were to be written down, with the same checks; the journal is
// not touched. What is advised, now and then, has looked further ahead.
func (b *Bench) WhatIf(ctx context.Context, caseID string, deeds ...Deed) (*WhatIf, error) {
	if len(deeds) == 0 || len(deeds) > supposeMost {
		return nil, fail(BadInput, "suppose an answer or two", "%d things cannot be supposed at once", len(deeds))
	}
	now, err := b.look(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if err := now.s.canSuppose(); err != nil {
		return nil, err
	}
	if now, err = b.lookFurther(ctx, caseID, now); err != nil {
		return nil, err
	}
	bench, events, err := b.read(ctx, caseID)
	if err != nil {
		return nil, err
	}
	past := len(events)
	events = slices.Clip(events)
	for _, d := range deeds {
		if events, err = b.suppose(ctx, caseID, bench, events, d); err != nil {
			return nil, err
		}
	}
	s, err := b.newSheet(ctx, now.s.k, now.thought, bench, events)
	if err != nil {
		return nil, err
	}
	s.before = now.thought.now
	out := &WhatIf{Case: caseID, If: []string{}, Was: now.view.Next, Now: now.view.Outlook}
	if now.quick != nil {
		out.Now = now.quick
	}
	for _, e := range s.c.Timeline[past:] {
		out.If = append(out.If, once(e.Words))
	}
	would := &kept{thought: s.thought, s: s}
	if would.view, err = s.view(); err != nil {
		return nil, err
	}
	if would, err = would.further(ctx); err != nil {
		return nil, err
	}
	out.Would = would.view
	return out, nil
}

// once drops a check's title before a finding of the same title.
func once(words string) string {
	title, rest, _ := strings.Cut(words, ": ")
	if strings.HasPrefix(rest, title+": ") {
		return rest
	}
	return words
}

func (s *sheet) canSuppose() error {
	if err := s.c.open(); err != nil {
		return err
	}
	return s.c.needNote()
}

// suppose adds the event of a deed to a copy of the journal.
func (b *Bench) suppose(ctx context.Context, caseID string, bench, events []Event, d Deed) ([]Event, error) {
	c, err := b.project(bench, events)
	if err != nil {
		return nil, err
	}
	kind, p, err := d.draft(ctx, scene{b, c})
	if err != nil {
		return nil, err
	}
	e, err := b.event(caseID, len(events)+1, "", kind, p)
	if err != nil {
		return nil, err
	}
	return append(events, e), nil
}

// Suppose makes deeds of answers to any findings of a case, as many as it takes: those to
// symptoms are noticed, the others are what their checks showed.
func Suppose(v *View, answers []Answer) []Deed {
	var out []Deed
	left := slices.Clone(answers)
	take := func(fields []Field) []Answer {
		var some []Answer
		left = slices.DeleteFunc(left, func(a Answer) bool {
			mine := slices.ContainsFunc(fields, func(f Field) bool { return f.Finding == a.Finding })
			if mine {
				some = append(some, a)
			}
			return mine
		})
		return some
	}
	if some := take(v.Symptoms); len(some) > 0 {
		out = append(out, Noticing{Answers: some})
	}
	for _, c := range v.Checks {
		if some := take(c.Fields); len(some) > 0 {
			out = append(out, Checking{Check: c.ID, Answers: some})
		}
	}
	if len(left) > 0 { // let the bench say what is wrong with them
		out = append(out, Noticing{Answers: left})
	}
	return out
}
