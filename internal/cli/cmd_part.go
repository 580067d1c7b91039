package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fettler/internal/casework"
	"fettler/internal/partdesk"
)

// partCmd groups what one asks about a part.
type partCmd struct {
	Read         partReadCmd         `cmd:"" name:"read"`
	Bands        partBandsCmd        `cmd:"" name:"bands"`
	Instead      partInsteadCmd      `cmd:"" name:"instead"`
	Electrolytic partElectrolyticCmd `cmd:"" name:"electrolytic"`
	Combine      partCombineCmd      `cmd:"" name:"combine"`
	Discharge    partDischargeCmd    `cmd:"" name:"discharge"`
}

// partReadCmd reads a marking in all ways possible.
type partReadCmd struct {
	Text    []string `arg:"" optional:""`
	Kind    string   `name:"kind"`
	Mounted string   `name:"mounted"`
	Burnt   bool     `name:"burnt"`
}

// marksRead is what a marking may mean.
type marksRead struct {
	partdesk.Marks
}

func (c *partReadCmd) run(_ context.Context, s *session) (answer, error) {
	if len(c.Text) == 0 {
		return nil, &usageError{text: "nothing says what is printed on it", next: "type what you can see, with ? for what cannot be made out", try: []string{"fettler part read 4R7"}}
	}
	mounted := c.Mounted
	for _, t := range partdesk.Techs() {
		if mounted != "" && strings.HasPrefix(t, mounted) {
			mounted = t
		}
	}
	return readMarks(s, partdesk.MarkAsk{Text: strings.Join(c.Text, " "), Kind: c.Kind, Tech: mounted, Burnt: c.Burnt})
}

func readMarks(s *session, a partdesk.MarkAsk) (answer, error) {
	now := s.Now
	if now == nil {
		now = time.Now
	}
	a.Year = now().Year()
	m, err := partdesk.ReadMarking(a)
	if err != nil {
		return nil, err
	}
	return &marksRead{*m}, nil
}

// partBandsCmd reads colour bands.
type partBandsCmd struct {
	Colours []string `arg:"" optional:""`
	Burnt   bool     `name:"burnt"`
}

func (c *partBandsCmd) run(_ context.Context, s *session) (answer, error) {
	colours := strings.FieldsFunc(strings.Join(c.Colours, " "), func(r rune) bool { return strings.ContainsRune(" ,-", r) })
	var names []string
	for _, b := range partdesk.BandColours() {
		if b.Code != "?" {
			names = append(names, b.Name)
		}
	}
	if len(colours) < 3 || len(colours) > 6 {
		return nil, &usageError{text: fmt.Sprintf("a part has three to six bands, not %d", len(colours)), next: "name the colours in order, from either end; ? for one that cannot be made out", try: []string{"fettler part bands yellow violet red gold"}}
	}
	a, err := readMarks(s, partdesk.MarkAsk{Text: strings.Join(colours, " "), Burnt: c.Burnt})
	if casework.CodeOf(err) != casework.NotFound {
		return a, err
	}
	for _, typed := range colours {
		if near := nearest(typed, names); near != "" && !slices.Contains(names, strings.ToLower(typed)) {
			return nil, &tryError{err, []string{line(append([]string{"part", "bands"}, replaced(colours, slices.Index(colours, typed), near)...))}}
		}
	}
	return nil, err
}

func (a *marksRead) text(p *page) {
	for i, m := range a.Readings {
		if i > 0 {
			p.gap()
		}
		p.head("%5s  %s: %s", percent(m.Plausibility), m.Kind, m.Text)
		p.para("       ", "read as: "+m.Scheme)
		for _, r := range m.Reasons {
			p.para("       - ", r)
		}
		for _, c := range m.Cautions {
			p.para("       ! ", c)
		}
	}
	p.gap()
	p.para("", fmt.Sprintf("%s: something that is in none of these tables", percent(a.Rest)))
	for _, w := range a.Polarity {
		p.para("! ", w.Words)
		for _, l := range poleLines(w.Kind) {
			p.line("    " + l)
		}
	}
	p.gap()
	p.line("try: " + line([]string{"part", "instead", a.Readings[0].As}))
}

// poleLines draw which end the mark of a kind shows.
func poleLines(kind string) []string {
	switch {
	case strings.HasPrefix(kind, "electrolytic"):
		return []string{`     ________`, `- --|#       |-- +     # stripe: the minus leg`, `    |#_______|`}
	case strings.HasPrefix(kind, "tantalum"):
		return []string{`     ________`, `+ --|#       |-- -     # bar: the plus end`, `    |#_______|`}
	}
	return []string{`     ________`, `A --|      # |-- K     # ring: the cathode`, `    |______#_|`, `A -------|>|-------- K`}
}
