package casework

import (
	"fmt"
	"slices"
)

func (s *sheet) header() Header {
	c := s.c
	h := Header{Case: c.ID, Seq: c.Seq, Title: c.title(), Label: c.Opened.Label, Device: c.Opened.Device, Kind: c.kind(), Category: c.Opened.Category,
		Age: c.Opened.Age, Demo: c.Opened.Demo, State: c.state(), Money: c.Money, Currency: c.Settings.Currency, Minutes: c.Minutes,
		Epoch: len(c.Evidence.Acts), Opened: c.Since, Changed: c.Last, Hazards: []Caution{}}
	if c.Closed != nil {
		h.Verdict = c.Closed.Verdict
	}
	if c.Opened.Private != nil {
		h.Owner = *c.Opened.Private
	}
	if c.Model != nil {
		h.Category, h.Hazards = c.Model.Category, cautions(c.Model.Hazards)
		if len(c.Model.Access) > 0 {
			h.Access = c.level(c.Access)
		}
	}
	return h
}

func (c *Case) level(l int) Level {
	a := c.Model.Access[l]
	x := Level{ID: a.ID, Title: a.Title, How: a.How, Minutes: a.OpenMinutes, Close: a.CloseMinutes}
	for at := c.Access; at >= 0; at = c.Model.Access[at].Behind {
		x.Open = x.Open || at == l
	}
	return x
}

func (s *sheet) levels() []Level {
	out := make([]Level, len(s.k.m.Access))
	for l := range out {
		out[l] = s.c.level(l)
	}
	return out
}

// known lists the observations, earlier looks marked as such.
func (s *sheet) known() []Observed {
	out := make([]Observed, len(s.c.Looks))
	for i, l := range s.c.Looks {
		o := s.c.Evidence.Seen[i]
		f := &s.c.Model.Findings[o.Finding]
		out[i] = Observed{Event: l.Event, At: l.At, Finding: f.ID, Title: f.Title, Value: l.Value.words(), Words: l.Value.phrase(f.Title),
			Denied: l.Value.denied(), Bare: l.Value.Shows == nil && same(l.From, f.Title), From: l.From, Epoch: o.Epoch, Earlier: true, Implied: l.Implied}
	}
	for _, i := range s.c.standing() {
		out[i].Earlier = false
	}
	return out
}

func (s *sheet) source() Source {
	src := Source{Note: s.c.Opened.Device, Trouble: s.b.trouble(s.c.Opened.Device), Ignored: slices.Clone(s.c.Ignored)}
	for _, d := range s.b.notes.Devices() {
		if d.ID == src.Note {
			src.Title, src.Own, src.Generic = d.Title, d.Own, d.Generic
		}
	}
	if s.k == nil {
		return src
	}
	src.Title = s.k.m.Title
	src.LeftOut, src.Bound = s.now.LeftOut, s.now.Bound
	if m := s.k.m.Currency; m != "" && m != s.c.Settings.Currency {
		src.Ignored = append(src.Ignored, fmt.Sprintf("the note's prices are in %s and are taken one for one", m))
	}
	return src
}

func (s *sheet) orders() []Order {
	out := []Order{}
	for _, seq := range s.c.Orders {
		p := s.c.orders[seq]
		o := Order{Event: seq, At: s.c.Timeline[seq-1].At, What: p.What, Money: p.Money, Days: p.Days, Repairs: []Ref{}}
		for _, id := range p.Repairs {
			o.Repairs = append(o.Repairs, Ref{ID: id, Title: s.c.repairTitle(id)})
		}
		out = append(out, o)
	}
	return out
}

func (s *sheet) outcome() *Outcome {
	p := s.c.Closed
	if p == nil {
		return nil
	}
	o := &Outcome{Verdict: p.Verdict, Unknown: p.Unknown, Stated: p.Stated, Kg: p.Kg, Barrier: p.Barrier, Remark: p.Remark, At: s.c.ClosedAt, Because: []Chance{}, Saved: s.c.saved(p.Verdict), Untested: s.c.untested()}
	for _, b := range p.Because {
		ch := Chance{Mode: b.Mode, Title: b.Mode, Now: b.P, Before: b.P}
		if i, ok := s.c.names.modes[b.Mode]; ok {
			ch.Title = s.c.Model.Modes[i].Title
		}
		o.Because = append(o.Because, ch)
	}
	return o
}
