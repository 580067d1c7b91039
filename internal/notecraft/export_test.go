package notecraft

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"
	"text/tabwriter"

	"fettler/internal/note"
	"fettler/internal/quantity"
)

// Empty tells whether nothing has changed that one would notice at the bench.
func (c *Changes) Empty() bool {
	return len(c.Modes.all())+len(c.Findings.all())+len(c.Checks.all())+len(c.Repairs.all())+len(c.Priors)+len(c.Symptoms) == 0
}

func (i Items) all() []string {
	out := slices.Concat(i.Added, i.Removed)
	for _, r := range i.Renamed {
		out = append(out, r.New)
	}
	return out
}

// RaisedWords is the table of what each symptom raises, one suspect a line.
func RaisedWords(m *note.Model, all []Raised) string {
	var b strings.Builder
	for _, r := range all {
		fmt.Fprintf(&b, "%s\n", seenWords(m, r))
		t := tabwriter.NewWriter(&b, 0, 8, 2, ' ', 0)
		for k, s := range r.Suspects {
			if k >= mostRaised || s.Posterior < leastRaised {
				break
			}
			fmt.Fprintf(t, "  %s\tfrom %s\tto %s\n", m.Modes[s.Mode].Title, percent(s.Prior), percent(s.Posterior))
		}
		if r.Unknown >= leastRaised {
			fmt.Fprintf(t, "  something the note does not know\t\tto %s\n", percent(r.Unknown))
		}
		t.Flush()
	}
	return b.String()
}

func seenWords(m *note.Model, r Raised) string {
	f := &m.Findings[r.Seen.Finding]
	switch f.Kind {
	case note.Sign:
		return f.Title
	case note.Pick:
		return f.Title + ": " + f.Answers[r.Seen.Value]
	}
	return f.Title + ": " + quantity.Format(r.Seen.Number, f.Measure, 3)
}

// Shelf writes the table of what is in the library, in Markdown: the devices by
// category, what their notes know, and, where a rehearsal is at hand, how much
// of what can be wrong the advice finds and what that costs. A rehearsal made of
// an earlier state of the note is marked.
func Shelf(ctx context.Context, lib *note.Library, marks []Mark) ([]byte, error) {
	known := map[string]Mark{}
	for _, k := range marks {
		known[k.Device] = k
	}
	var b bytes.Buffer
	b.WriteString(shelfHead)
	byCategory := map[string][]*note.Model{}
	var all Counts
	devices := 0
	for _, d := range lib.Devices() {
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("writing the table of the library: %w", err)
		}
		m, err := lib.Model(d.ID)
		if err != nil {
			return nil, fmt.Errorf("writing the table of the library: %s: %w", d.ID, err)
		}
		byCategory[m.Category] = append(byCategory[m.Category], m)
		c := Count(m)
		all = Counts{all.Modes + c.Modes, all.Symptoms + c.Symptoms, all.Checks + c.Checks, all.Repairs + c.Repairs}
		devices++
	}
	fmt.Fprintf(&b, "%d devices in %d categories know %d faults, %d symptoms, %d checks and %d repairs.\n", devices, len(byCategory), all.Modes, all.Symptoms, all.Checks, all.Repairs)
	for _, c := range sortedCategories(byCategory) {
		fmt.Fprintf(&b, "\n## %s\n\n", c)
		b.WriteString("| device | faults | symptoms | checks | repairs | cured | named | money | minutes |\n|---|--:|--:|--:|--:|--:|--:|--:|--:|\n")
		for _, m := range byCategory[c] {
			shelfRow(&b, m, known[m.ID])
		}
	}
	return b.Bytes(), nil
}

func shelfRow(b *bytes.Buffer, m *note.Model, k Mark) {
	c := Count(m)
	fmt.Fprintf(b, "| %s | %d | %d | %d | %d |", m.Title, c.Modes, c.Symptoms, c.Checks, c.Repairs)
	if k.Device == "" {
		b.WriteString(" – | – | – | – |\n")
		return
	}
	old := ""
	if k.Counts != c {
		old = " †"
	}
	fmt.Fprintf(b, " %.0f %%%s | %.0f %% | %s %.2f | %.0f |\n", 100*k.Cured, old, 100*k.Named, m.Currency, k.Money, k.Minutes)
}

func sortedCategories(by map[string][]*note.Model) []string {
	var out []string
	for c := range by {
		out = append(out, c)
	}
	sort.Strings(out)
	return out
}
