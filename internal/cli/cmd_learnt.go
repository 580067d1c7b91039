package cli

import (
	"bytes"
	"context"
	"fmt"

	"fettler/internal/casework"
)

// learntCmd shows what closed cases have taught, and carries it between benches.
type learntCmd struct {
	Share    string `name:"share"`
	TakeOver string `name:"take-over"`
}

// lessons is what closed cases have taught.
type lessons struct {
	casework.Learnt
	Shared   string `json:"shared,omitempty"`   // the file written
	TookOver int    `json:"tookOver,omitempty"` // the event of the file taken over
}

func (c *learntCmd) run(ctx context.Context, s *session) (answer, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	a := &lessons{Shared: c.Share}
	if c.TakeOver != "" {
		f, _, err := openFile(c.TakeOver, "name a file that another bench has written with --share")
		if err != nil {
			return nil, err
		}
		defer f.Close()
		r, err := b.TakeOver(ctx, f, s.by())
		if err != nil {
			return nil, err
		}
		a.TookOver = r.Seq
	}
	if c.Share != "" {
		var w bytes.Buffer
		if err := b.ShareLessons(ctx, &w); err != nil {
			return nil, err
		}
		if err := writeNew(c.Share, w.Bytes()); err != nil {
			return nil, err
		}
	}
	v, err := b.Learnt(ctx)
	if err != nil {
		return nil, err
	}
	a.Learnt = *v
	return a, nil
}

func (a *lessons) text(p *page) {
	if a.Shared != "" {
		p.line("written: " + a.Shared)
	}
	if a.TookOver > 0 {
		p.line(fmt.Sprintf("taken over as event %d of the bench", a.TookOver))
	}
	if a.Cases == 0 {
		p.line("no case with a bench note has been closed yet")
		return
	}
	s := a.Savings
	p.head("%d of %s fixed", s.Fixed, plural(s.Cases, "closed case", "closed cases"))
	for _, m := range s.Money {
		p.para("  ", fmt.Sprintf("saved %s: worth %s and parts %s, less %s spent", money(m.Net, m.Currency), money(m.Worth, m.Currency), money(m.Scrap, m.Currency), money(m.Spent, m.Currency)))
	}
	p.para("  ", fmt.Sprintf("%.1f kg kept from the bin, %.1f h of work", s.Kg, s.Hours))
	if s.CO2 > 0 {
		p.para("  ", fmt.Sprintf("%.0f kg of CO₂ equivalent not emitted, by %s", s.CO2, s.CO2Source))
	}
	if a.Others > 0 {
		p.para("  ", fmt.Sprintf("%s from other benches", plural(a.Others, "case is", "cases are")))
	}
	if a.Trouble != "" {
		p.para("  doubt: ", a.Trouble)
	}
	p.gap()
	if !a.On {
		p.line("this is not reckoned with (fettler settings learn=yes)")
	}
	for _, d := range a.Devices {
		p.head("%s, %s", d.Title, plural(d.Cases, "case", "cases"))
		for i, o := range d.Odds {
			if i == 8 {
				p.line(fmt.Sprintf("          (and %d more; --json has them all)", len(d.Odds)-i))
				break
			}
			p.para(fmt.Sprintf("  ×%-6.2g ", o.Mean), fmt.Sprintf("%s: %s, between ×%.2g and ×%.2g", o.Title, o.Words, o.Low, o.High))
		}
	}
	for _, c := range a.Calibration {
		p.para("  ", fmt.Sprintf("“%s”, stated %d times: Brier score %.3f (0 is perfect), skill %.2f", c.About, c.N, c.Brier, c.Skill))
	}
	for _, c := range a.Costs {
		p.para("  ", fmt.Sprintf("%s: on average %s and %.0f min more than foretold, of %s", c.Currency, money(c.Money.Bias, c.Currency), c.Minutes.Bias, plural(c.Money.N, "case", "cases")))
	}
}
