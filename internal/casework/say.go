package casework

import (
	"context"
	"slices"

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
	p := Said{Text: t, Unread: h.Unread}
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
	h.Blamed, h.Unread = spans(t, r.Causes), spans(t, r.Unread)
	return h
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
			h = s.hear(p.(Said).Text)
		}
		return kind, p, err
	}, false)
	if err != nil {
		return Heard{}, err
	}
	h.Receipt = r
	return h, nil
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
