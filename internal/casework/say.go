package casework

import (
	"context"
	"slices"

	"fettler/internal/note"
	"fettler/internal/words"
)

func (d Saying) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	t, err := text(d.Text, maxText, "the text")
	if err != nil {
		return "", nil, err
	}
	if t == "" {
		return "", nil, fail(BadInput, "write what it does or does not do", "nothing was said")
	}
	h := s.hear(t)
	for _, f := range d.Except {
		if s.c.Model == nil || !slices.ContainsFunc(s.c.Model.Findings, func(x note.Finding) bool { return x.ID == f }) {
			return "", nil, fail(NotFound, "take one of those it was read as", "this device's note knows no symptom %q", clip(f))
		}
	}
	h = h.Without(d.Except)
	p := Said{Text: t, Unread: h.Unread, Not: d.Except}
	for _, r := range h.Read {
		p.Read = append(p.Read, r.value())
	}
	for _, g := range h.Doubtful {
		for _, r := range g {
			p.Doubt = append(p.Doubt, r.Finding)
		}
	}
	return KindSaid, p, nil
}

// value is the heed as evidence. "Sometimes" is kept in the text only: it gives no count.
func (h Heed) value() Value {
	shows := 1
	if h.Denied {
		shows = 0
	}
	return Value{Finding: h.Finding, Shows: &shows}
}

// hear reads a text against the symptoms of the case's device.
func (s scene) hear(t string) Heard {
	h := Heard{Read: []Heed{}, Doubtful: [][]Heed{}}
	k := s.b.knowledge(s.c.Opened.Device)
	if k == nil || k.index() == nil {
		h.Unread = []string{t}
		return h
	}
	r := k.index().Read(t)
	for _, m := range r.Matches {
		h.Read = append(h.Read, k.heed(t, m))
	}
	for _, g := range r.Doubtful {
		var alts []Heed
		for _, m := range g {
			alts = append(alts, k.heed(t, m))
		}
		h.Doubtful = append(h.Doubtful, alts)
	}
	h.Blamed, h.Unread = spans(t, r.Causes), k.unnamed(spans(t, r.Unread), h)
	return s.apart(k, h)
}

func (k *knowledge) heed(t string, m words.Match) Heed {
	f := &k.m.Findings[k.names.findings[m.ID]]
	return Heed{Finding: m.ID, Title: f.Title, Ask: f.Ask, Denied: m.Denied, Comes: m.Intermittent, Sure: m.Score, Text: t[m.Start:m.End]}
}

func spans(t string, list []words.Span) []string {
	var out []string
	for _, s := range list {
		if w := t[s.Start:s.End]; !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// Say reads free text. What is sure counts as evidence; what is doubtful is returned to be asked back.
func (b *Bench) Say(ctx context.Context, caseID string, in Saying) (Heard, error) {
	if caseID == BenchCase {
		return Heard{}, fail(NotFound, "name a case", "this belongs to a case")
	}
	var h Heard
	r, err := b.write(ctx, caseID, in.By, func(c *Case, _ []Event) (Kind, any, error) {
		s := scene{b, c}
		kind, p, err := in.draft(ctx, s)
		if err == nil {
			h = s.hear(p.(Said).Text).Without(in.Except)
		}
		return kind, p, err
	}, false)
	if err != nil {
		return Heard{}, err
	}
	h.Receipt = r
	return h, nil
}

// Unsay takes one reading of the text of event seq away: it was not meant. The
// text stays, and is read once more without it.
func (b *Bench) Unsay(ctx context.Context, caseID string, seq int, finding string, by By) (Receipt, error) {
	events, err := b.events(ctx, caseID)
	if err != nil {
		return Receipt{}, err
	}
	if seq < 1 || seq > len(events) || events[seq-1].Kind != KindSaid {
		return Receipt{}, fail(NotFound, "take one that says what somebody said", "event %d of this case is no saying", seq)
	}
	p, err := decode[Said](events[seq-1], effects(events)[seq-1].data)
	if err != nil {
		return Receipt{}, err
	}
	not := slices.Clone(p.Not)
	if !slices.Contains(not, finding) {
		not = append(not, finding)
	}
	return b.Correct(ctx, caseID, seq, Saying{By: by, Text: p.Text, Except: not})
}

// Hear is Say without writing anything down.
func (b *Bench) Hear(ctx context.Context, caseID, said string) (Heard, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return Heard{}, err
	}
	t, err := text(said, maxText, "the text")
	if err != nil {
		return Heard{}, err
	}
	return scene{b, c}.hear(t), nil
}
