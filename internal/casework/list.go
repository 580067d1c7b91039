package casework

import (
	"context"
	"strings"
	"time"

	"fettler/internal/journal"
)

// A line is a listed case kept until its journal moves on.
type line struct {
	seq   int
	shown Listed
}

// List returns all cases, last changed first. A case that cannot be read is among them
// and says so.
func (b *Bench) List(ctx context.Context) ([]Listed, error) {
	heads, err := b.journal.Heads(ctx)
	if err != nil {
		return nil, storeError(err)
	}
	out := make([]Listed, 0, len(heads))
	without := map[string]string{} // what is wrong with the note of a device
	for _, h := range heads {
		l, err := b.line(ctx, h)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			l = unreadable(h, err)
		} else if l.Device != "" {
			wrong, known := without[l.Device]
			if !known {
				wrong = b.noteless(l.Device)
				without[l.Device] = wrong
			}
			l.Wrong = wrong
		}
		out = append(out, l)
	}
	return out, nil
}

// noteless is what is wrong with the note of a device and how to get on, "" nothing.
func (b *Bench) noteless(device string) string {
	wrong := b.trouble(device)
	if wrong != "" {
		wrong += "; what was written down is kept. Put the note back or mend it, or correct the opening with another device"
	}
	return wrong
}

// unreadable is what is listed of a case whose journal is damaged.
func unreadable(h journal.Head, err error) Listed {
	return Listed{Case: h.Case, Title: h.Case, State: Unreadable, Opened: h.First, Changed: h.Changed,
		Wrong: err.Error() + ". The other cases are as they were"}
}

func (b *Bench) line(ctx context.Context, h journal.Head) (Listed, error) {
	b.mu.Lock()
	old, ok := b.listed[h.Case]
	b.mu.Unlock()
	if ok && old.seq == h.Seq {
		return old.shown, nil
	}
	events, err := b.events(ctx, h.Case)
	if err != nil {
		return Listed{}, err
	}
	c, err := b.project(nil, events)
	if err != nil {
		return Listed{}, err
	}
	l := c.listed()
	b.mu.Lock()
	b.listed[h.Case] = line{c.Seq, l}
	b.mu.Unlock()
	return l, nil
}

func (c *Case) listed() Listed {
	l := Listed{Case: c.ID, Title: c.title(), Device: c.Opened.Device, Kind: c.kind(), State: c.state(), Demo: c.Opened.Demo,
		Money: c.Money, Minutes: c.Minutes, Opened: c.Since, Changed: c.Last}
	if c.Closed != nil {
		l.Verdict = c.Closed.Verdict
	}
	for i := len(c.Timeline) - 1; i >= 0; i-- {
		if e := c.Timeline[i]; !e.Void && e.Kind != KindUndone {
			l.Latest = e.Words
			break
		}
	}
	return l
}

// title is what the case goes by.
func (c *Case) title() string {
	if label := strings.Join(strings.Fields(c.Opened.Label), " "); label != "" { // older journals have labels of several lines
		return label
	}
	return c.kind()
}

// kind is what sort of device it is.
func (c *Case) kind() string {
	switch {
	case c.Model != nil:
		return c.Model.Title
	case c.Opened.Category != "":
		return c.Opened.Category
	}
	return c.Opened.Device
}

func (c *Case) state() State {
	switch {
	case c.Closed != nil:
		return Done
	case c.Pending:
		return ToTest
	case len(c.Orders) > 0:
		return Waiting
	}
	return OnBench
}

// FindCase resolves what a user typed to the ID of a case: an ID, the beginning
// of one, a label or part of it; "" is the case last worked on that is not closed.
func (b *Bench) FindCase(ctx context.Context, text string) (string, error) {
	list, err := b.List(ctx)
	if err != nil {
		return "", err
	}
	typed := strings.TrimSpace(text)
	text = strings.ToLower(typed)
	if text == "" {
		for _, l := range list {
			if l.Open() {
				return l.Case, nil
			}
		}
		return "", fail(NotFound, "open one", "no case is open")
	}
	for _, fits := range []func(l Listed) bool{
		func(l Listed) bool { return l.Case == text },
		func(l Listed) bool { return strings.EqualFold(l.Title, text) },
		func(l Listed) bool { return strings.HasPrefix(l.Case, text) },
		func(l Listed) bool { return strings.Contains(strings.ToLower(l.Title), text) },
	} {
		var hits []Choice
		for _, l := range list {
			if fits(l) {
				hits = append(hits, Choice{ID: l.Case, Title: l.Title, About: string(l.State) + ", opened " + b.day(l.Opened, time.DateOnly)})
			}
		}
		switch len(hits) {
		case 0:
			continue
		case 1:
			return hits[0].ID, nil
		}
		return "", &Error{Code: Ambiguous, Text: `several cases fit "` + clip(typed) + `"`, Next: "say which", Choices: hits}
	}
	return "", fail(NotFound, "look at the list of cases", "no case fits %q", clip(typed))
}
