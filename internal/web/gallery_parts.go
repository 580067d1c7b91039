package web

import (
	"context"
	"strings"

	"fettler/internal/partdesk"
)

// partScreens are the pages about a part in the hand, with invented data.
func (s *Server) partScreens() []screen {
	page := func(b Base, title, here string) PartsPage {
		b.Title = title
		return s.partsPageInto(b, here)
	}
	must := func(p any, err error) any {
		if err != nil {
			return &errorPage{Problem: explain(err)}
		}
		return p
	}
	read := func(text string) func(Base) any {
		return func(b Base) any {
			p := &readPage{PartsPage: page(b, "Read a marking", "/parts"), Ask: partdesk.MarkAsk{Text: text}, Kinds: partdesk.Kinds(), Techs: partdesk.Techs(), Poles: drawPoles(partdesk.Poles())}
			if text == "" {
				return p
			}
			m, err := partdesk.ReadMarking(p.Ask)
			if err != nil {
				return must(nil, err)
			}
			p.take(m)
			return p
		}
	}
	bands := func(bands string, at int) func(Base) any {
		return func(b Base) any {
			p := &bandsPage{PartsPage: page(b, "Colour bands", "/parts/bands")}
			return must(p, p.show(bands, at))
		}
	}
	return []screen{
		{"part-first", "a part in the hand: first things", "part-read", read("")},
		{"part-read", "a code read in all ways", "part-read", read("103")},
		{"part-polar", "a marking of a polarised part", "part-read", read("1000µF 25V 105°C")},
		{"part-bands-first", "colour bands, none chosen yet", "part-bands", bands("", 0)},
		{"part-bands", "colour bands, six of them", "part-bands", bands("brown,black,black,red,brown,?", 5)},
		{"part-instead-first", "asking what will do instead", "part-instead", func(b Base) any {
			p, err := s.galleryInstead(page(b, "What will do instead", "/parts/instead"), "", "")
			return must(p, err)
		}},
		{"part-instead", "what will do instead, near misses and refusals", "part-instead", func(b Base) any {
			p, err := s.galleryInstead(page(b, "What will do instead", "/parts/instead"), "electrolytic 470 µF 25 V 105 °C", "3 × electrolytic 560 µF 35 V 105 °C\n2 × electrolytic 470 µF 35 V 85 °C\nelectrolytic 470 µF 16 V 105 °C")
			return must(p, err)
		}},
		{"part-like", "a safety part: like for like", "part-instead", func(b Base) any {
			p, err := s.galleryInstead(page(b, "What will do instead", "/parts/instead"), "X2 capacitor 0.1 µF 275 V approved", "X1 capacitor 0.1 µF 275 V approved\nfilm capacitor 0.1 µF 630 V\nX2 capacitor 0.1 µF 305 V approved")
			return must(p, err)
		}},
		{"part-cap", "an electrolytic judged, and what a better one buys", "part-cap", func(b Base) any {
			p, err := s.galleryCap(page(b, "Electrolytic capacitors", "/parts/electrolytic"))
			return must(p, err)
		}},
		{"part-combine", "a value made from what is there", "part-combine", func(b Base) any {
			p := &combinePage{PartsPage: page(b, "Make a value", "/parts/combine"), Elements: partdesk.CombineElements(), Most: 3}
			p.Ask = partdesk.CombineAsk{Element: "resistors", Value: "12k", Rating: "0.3 W", Typed: "4 × 22k 1/4 W 5 %, 2 × 1k 1/4 W 5 %", NoShelf: true}
			var err error
			p.C, err = s.parts.Combine(context.Background(), p.Ask)
			return must(p, err)
		}},
		{"part-discharge", "a charged capacitor", "part-discharge", func(b Base) any {
			p := &dischargePage{PartsPage: page(b, "Empty a capacitor", "/parts/discharge"), Ask: partdesk.ChargeAsk{Farad: "470", Volts: "325", Plug: true}}
			return must(p, p.take())
		}},
	}
}

// galleryInstead has what is in the hand lie on the shelf, too.
func (s *Server) galleryInstead(b PartsPage, part, have string) (*insteadPage, error) {
	p := &insteadPage{PartsPage: b, Kinds: partdesk.Kinds(), Duties: partdesk.Duties(), Ask: partdesk.InsteadAsk{Text: part, Have: have}, Ways: ways("")}
	if part == "" {
		p.Wanted = []WantedPart{{partdesk.RepairPart{Item: "electrolytic 4700 µF 63 V", Count: 2, Part: "electrolytic 4700 µF 63 V", Whole: true}, "/gallery/part-instead", false},
			{partdesk.RepairPart{Item: "bridge rectifier", Count: 1, Part: "bridge rectifier", Missed: "the note does not say its values: read them off the old part"}, "/gallery/part-instead", false}}
		return p, nil
	}
	i, err := s.parts.Instead(context.Background(), p.Ask)
	if err != nil {
		return nil, err
	}
	i.Shelf, i.Boards, i.Offers, i.Counts = nil, nil, nil, nil
	for k, c := range i.Typed {
		c.Line, c.Place, c.From = "L"+itoa(k+1), "drawer 3", "new"
		if !strings.HasPrefix(c.Verdict, "refused") {
			i.Shelf = append(i.Shelf, c)
		}
		i.Counts = append(i.Counts, partdesk.Tally{Verdict: c.Verdict, Lines: 1})
	}
	p.take(i)
	return p, nil
}

func (s *Server) galleryCap(b PartsPage) (*capPage, error) {
	p := &capPage{PartsPage: b, Grades: partdesk.CapGrades(), Life: partdesk.UsualLife(), Path: "/case/demo"}
	p.Ask = partdesk.CapAsk{Marked: "4700", Volts: "63", Measured: "1800", ESR: "2.1"}
	p.lifeFields()
	var err error
	if p.Answer, err = s.parts.JudgeCap(context.Background(), p.Ask); err != nil {
		return nil, err
	}
	p.Ask.Case = "demo"
	p.Answer.Checks = []partdesk.CapTarget{{Check: "supply.reservoir-esr", Title: "ESR and capacitance of the reservoirs", Finding: "supply.esr", Ask: "What does the worse reservoir capacitor read?", Answer: "high ESR or low capacitance"}}
	return p, p.reckon()
}
