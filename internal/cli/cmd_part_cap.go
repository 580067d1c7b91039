package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/partdesk"
)

// partElectrolyticCmd judges a measured electrolytic, or says how long one lasts.
type partElectrolyticCmd struct {
	Part     []string `arg:"" optional:""`
	ESR      string   `name:"esr"`
	Measured string   `name:"measured"`
	Limit    string   `name:"limit"`
	Hertz    string   `name:"hertz"`
	Series   string   `name:"series"`
	In       bool     `name:"in-circuit"`
	Suspect  *float64 `name:"suspect"`

	Hours    *float64 `name:"hours"`
	Rated    *float64 `name:"rated"`
	Air      *float64 `name:"air"`
	NewHours *float64 `name:"new-hours"`
	NewRated *float64 `name:"new-rated"`
	Ripple   float64  `name:"ripple"`
	NewESR   float64  `name:"new-esr"`
	Diameter float64  `name:"diameter"`
	Height   float64  `name:"height"`
	Working  float64  `name:"working"`
	Exponent float64  `name:"exponent"`
}

// electrolyticJudged is what came out; what was not asked is null.
type electrolyticJudged struct {
	Good  *partdesk.CapAnswer  `json:"good"`  // of a measurement
	Life  *partdesk.LifeAnswer `json:"life"`  // how long it lasts
	Write []string             `json:"write"` // commands that write the measurement down in the case
}

func (c *partElectrolyticCmd) run(ctx context.Context, s *session) (answer, error) {
	marked, volts, err := partdesk.CapMarked(strings.Join(c.Part, " "))
	if err != nil {
		return nil, err
	}
	out := &electrolyticJudged{Write: []string{}}
	lasts := c.Hours != nil || c.Air != nil || c.NewHours != nil
	if c.Measured != "" || c.ESR != "" && !lasts { // with a life the ESR is for the ripple
		if err := c.judge(ctx, s, marked, volts, out); err != nil {
			return nil, err
		}
	}
	if lasts {
		a, err := c.life(volts)
		if err == nil {
			out.Life, err = partdesk.CapLife(a)
		}
		if err != nil {
			return nil, err
		}
	}
	if out.Good == nil && out.Life == nil {
		return nil, &usageError{text: "nothing was measured and no life was asked for", next: "give --esr, --measured or --air",
			try: []string{`fettler part electrolytic "4700 µF 63 V" --esr 2.1 --measured 1800`, "fettler part electrolytic --hours 2000 --rated 85 --air 55"}}
	}
	return out, nil
}

func (c *partElectrolyticCmd) judge(ctx context.Context, s *session, marked, volts string, out *electrolyticJudged) error {
	d, err := s.parts(ctx)
	if err != nil {
		return err
	}
	a := partdesk.CapAsk{Marked: marked, Volts: volts, Measured: c.Measured, ESR: c.ESR, Limit: c.Limit, Hertz: c.Hertz, Grade: c.Series, In: c.In}
	if c.Suspect != nil {
		p := *c.Suspect / 100
		a.Prior = &p
	}
	if s.flags.Case != "" {
		if a.Case, err = s.find(ctx, "", false); err != nil {
			return err
		}
	}
	if out.Good, err = d.JudgeCap(ctx, a); err != nil {
		return err
	}
	for _, t := range out.Good.Checks {
		out.Write = append(out.Write, line([]string{"check", a.Case, t.Check, t.Finding + "=" + t.Answer}))
	}
	return nil
}

// life is the question about life; what was not said is as usual.
func (c *partElectrolyticCmd) life(volts string) (partdesk.LifeAsk, error) {
	a := partdesk.UsualLife()
	for _, f := range []struct {
		said *float64
		to   *float64
	}{{c.Hours, &a.Hours}, {c.Rated, &a.RatedC}, {c.Air, &a.AmbientC}, {c.NewHours, &a.NewHours}, {c.NewRated, &a.NewRatedC}} {
		if f.said != nil {
			*f.to = *f.said
		}
	}
	a.Ripple, a.NewESR, a.DiameterMM, a.HeightMM, a.WorkingVolts, a.Exponent = c.Ripple, c.NewESR, c.Diameter, c.Height, c.Working, c.Exponent
	return a, a.Take(volts, c.ESR)
}

func (a *electrolyticJudged) no() bool { return a.Good != nil && a.Good.Verdict == "replace" }

func (a *electrolyticJudged) text(p *page) {
	if g := a.Good; g != nil {
		p.head("%s: %s that it is bad (%s before measuring)", g.Verdict, percent(g.Bad), percent(g.Prior))
		for _, w := range g.Words {
			p.para("  - ", w)
		}
		if g.Limit > 0 {
			p.para("  ", fmt.Sprintf("most ESR when new: %.3g Ω, %s; %s", g.Limit, g.LimitOf, g.Trust))
		}
		for _, w := range a.Write {
			p.line("try: " + w)
		}
	}
	if l := a.Life; l != nil {
		if a.Good != nil {
			p.gap()
		}
		p.head("How long it lasts")
		p.para("  ", l.Words)
		if l.RiseK > 0 {
			p.para("  ", fmt.Sprintf("by ripple the core is %.1f K above the air, with the better one %.1f K", l.RiseK, l.NewRiseK))
		}
		p.line("  air      old one      better one")
		for i := 0; i < len(l.Points); i += 5 {
			t := l.Points[i]
			p.line(fmt.Sprintf("  %2.0f °C  %5.1f years  %5.1f years", t.AmbientC, t.OldYears, t.NewYears))
		}
		for _, n := range l.Notes {
			p.para("  ", n)
		}
		p.para("  ", l.Trust)
	}
}
