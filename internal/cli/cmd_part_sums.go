package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/partdesk"
	"fettler/internal/quantity"
)

// partCombineCmd makes a value from what is at hand.
type partCombineCmd struct {
	Value   []string `arg:"" optional:""`
	Of      string   `name:"of"`
	Rating  string   `name:"rating"`
	Most    int      `name:"most"`
	Have    []string `name:"have" sep:"none"`
	NoShelf bool     `name:"no-shelf"`
}

// waysFound are ways to make a value.
type waysFound struct {
	partdesk.Combined
}

func (c *partCombineCmd) run(ctx context.Context, s *session) (answer, error) {
	value := strings.Join(c.Value, " ")
	if value == "" {
		return nil, &usageError{text: "nothing says which value is wanted", next: "name it, and what you have", try: []string{`fettler part combine 12k --have "4 × 22k, 1k"`}}
	}
	of := c.Of
	if of == "" {
		of = partdesk.CombineElement(value)
	}
	d, err := s.parts(ctx)
	if err != nil {
		return nil, err
	}
	got, err := d.Combine(ctx, partdesk.CombineAsk{Element: of, Value: value, Rating: c.Rating, Parts: c.Most, Typed: strings.Join(c.Have, "\n"), NoShelf: c.NoShelf})
	if err != nil {
		return nil, err
	}
	return &waysFound{*got}, nil
}

func (a *waysFound) no() bool { return a.Far }

func (a *waysFound) text(p *page) {
	p.head("%s of %s, closest first", a.Wanted, a.Element)
	if a.Far {
		p.para("  ", "nothing at hand comes within a fifth of it")
	}
	for _, w := range a.Ways {
		p.para("  ", fmt.Sprintf("%s = %s (%s), between %s and %s", w.Words, w.Value, w.Off, w.Low, w.High))
		if w.Rating != "" {
			p.para("      ", "carries "+w.Rating)
		}
		for _, u := range w.Parts {
			if u.Place != "" {
				p.para("      ", u.Name+": "+u.Place)
			}
		}
		for _, n := range w.Notes {
			p.para("      ", n)
		}
	}
	p.para("! ", a.Caution)
}

// partDischargeCmd says what a capacitor holds and how to empty it.
type partDischargeCmd struct {
	Part     []string `arg:"" optional:""`
	Seconds  string   `name:"seconds"`
	Resistor string   `name:"resistor"`
	Plug     bool     `name:"plug"`
	Bleed    string   `name:"bleed"`
}

// emptied is what it holds and how to empty it.
type emptied struct {
	partdesk.Charge
	Resistor string `json:"resistor"` // in words; "" if no procedure is given
}

func (c *partDischargeCmd) run(_ context.Context, _ *session) (answer, error) {
	farad, volts, err := partdesk.CapMarked(strings.Join(c.Part, " "))
	if err != nil {
		return nil, err
	}
	if farad == "" || volts == "" {
		return nil, &usageError{text: "capacitance and voltage must be known", next: "read both off the part", try: []string{`fettler part discharge "470 µF 325 V"`}}
	}
	got, err := partdesk.Discharge(partdesk.ChargeAsk{Farad: farad, Volts: volts, Seconds: c.Seconds, Ohms: c.Resistor, Plug: c.Plug, Bleed: c.Bleed})
	if err != nil {
		return nil, err
	}
	return &emptied{Charge: *got, Resistor: got.Resistor()}, nil
}

// no: there is no procedure for doing it by hand.
func (a *emptied) no() bool { return a.Refused }

func (a *emptied) text(p *page) {
	p.head("It holds %s J", quantity.Plain(a.Joules, 3))
	for _, c := range a.Cautions {
		p.para("! ", c)
	}
	if a.Refused {
		p.para("  ", "above 1000 V no procedure is given: that is trained hands' work")
	} else {
		p.para("  ", fmt.Sprintf("through %s: %s V after %s s, under 1 V after %s s; at the first instant %s A and %s W", a.Resistor,
			quantity.Plain(a.EndAt, 3), quantity.Plain(a.Seconds, 2), quantity.Plain(a.ToOneVolt, 2), quantity.Plain(a.PeakAmps, 2), quantity.Plain(a.PeakWatts, 2)))
	}
	for i, s := range a.Steps {
		p.para(fmt.Sprintf("%3d  ", i+1), s)
	}
	p.gap()
	p.head("Held against published limits: a reason for care, not a permission to touch")
	limitLines(p, a.Limits)
	if len(a.Pins) > 0 {
		p.head("On the pins of the plug")
		limitLines(p, a.Pins)
	}
}

func limitLines(p *page, all []partdesk.Limit) {
	for _, l := range all {
		side := "under"
		if l.Over {
			side = "over"
		}
		p.para("  - ", fmt.Sprintf("%s: %s %s, %s %s %s; %s (%s; %s)", l.Name, quantity.Plain(l.Actual, 3), l.Unit, side, quantity.Plain(l.Value, 3), l.Unit, l.Meaning, l.Source, l.Trust))
	}
}
