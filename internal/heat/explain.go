package heat

import (
	"fmt"
	"math"
	"strings"
)

// explain turns the best option, its window and what it was compared with into a
// verdict, a sentence and reasons.
func (a *Advice) explain(job Job, set AdviceSettings) {
	r := a.Best.Result
	switch {
	case r.Molten < 0:
		a.Verdict = NotThisWay
	case len(a.Best.Faults) > 0 || a.Best.Proposed || a.Window.Late < 0 || a.Window.Late > longest || a.worstOver(r) != "":
		a.Verdict = WithCare
	default:
		a.Verdict = Go
	}
	if a.Verdict == NotThisWay {
		a.explainNever(job, set)
	} else {
		a.Summary = a.how(job)
		a.explainNeighbours(job)
		a.explainLimits(job)
		a.explainUnknowns()
	}
	for _, n := range r.Notes {
		a.reason("note", "%s", upper(n))
	}
	a.Cautions = cautions(job)
}

func (a *Advice) reason(code, format string, args ...any) {
	a.Reasons = append(a.Reasons, Reason{code, fmt.Sprintf(format, args...)})
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// words describes a tool.
func (t Tool) words() string {
	var parts []string
	if a := t.HotAir; a != nil {
		s := fmt.Sprintf("%.0f °C hot air, %.3g mm nozzle, %.3g l/min, %.3g mm away", a.SetTemp, a.Nozzle, a.Flow, a.Distance)
		if a.Orbit > 0 {
			s += fmt.Sprintf(", moved in a circle of %.3g mm", a.Orbit)
		}
		parts = append(parts, s)
	}
	if i := t.Iron; i != nil {
		parts = append(parts, fmt.Sprintf("an iron of %.0f W at %.0f °C", i.Power, i.TipTemp))
	}
	return strings.Join(parts, " and ")
}

// how is the recommendation in a sentence or two.
func (a *Advice) how(job Job) string {
	var b strings.Builder
	if p := a.Best.Tool.Preheat; p != nil {
		fmt.Fprintf(&b, "Preheat from below with %.0f °C for %.0f s and leave it on", p.Temp, p.Soak)
		if a.Best.Proposed {
			b.WriteString(" (needs a preheater)")
		}
		b.WriteString("; then ")
	}
	fmt.Fprintf(&b, "%s: ", a.Best.Tool.words())
	fmt.Fprintf(&b, "the last joint of %s melts after about %s", name(job.Part.Name), seconds(a.Window.Nominal))
	switch {
	case a.Window.Late >= 0:
		fmt.Fprintf(&b, ", most likely between %s and %s", seconds(a.Window.Early), seconds(a.Window.Late))
	default:
		fmt.Fprintf(&b, ", not before %s, and perhaps not at all", seconds(a.Window.Early))
	}
	if len(a.Best.Shield) > 0 {
		fmt.Fprintf(&b, "; shield %s with tape or a screen", strings.Join(a.Best.Shield, ", "))
	}
	s := b.String() + "."
	return strings.ToUpper(s[:1]) + s[1:]
}

func name(s string) string {
	if s == "" {
		return "the part"
	}
	return s
}

// worstOver names a neighbour that may pass its limit in an unlucky run.
func (a *Advice) worstOver(r *Result) string {
	for i, n := range r.Neighbours {
		if i < len(a.Window.Worst) && a.Window.Worst[i] > n.Limit {
			return n.Name
		}
	}
	return ""
}

func (a *Advice) explainNeighbours(job Job) {
	r := a.Best.Result
	for i, n := range r.Neighbours {
		worst := n.Peak
		if i < len(a.Window.Worst) {
			worst = max(worst, a.Window.Worst[i])
		}
		bare := a.bare(i)
		switch {
		case n.Over():
			a.reason("neighbour too hot", "%s (%s) would see %.0f °C; its limit is %.0f °C: take it off first, or use a smaller nozzle or an iron with low-melt alloy.", n.Name, n.Kind, n.Peak, n.Limit)
		case n.Shielded && bare > n.Limit:
			a.reason("shield", "%s (%s) would see %.0f °C bare and sees %.0f °C behind a shield; its limit is %.0f °C.", n.Name, n.Kind, bare, n.Peak, n.Limit)
		case worst > n.Limit:
			a.reason("neighbour close", "%s (%s) sees %.0f °C, up to %.0f °C if things go slowly; its limit is %.0f °C: shield it.", n.Name, n.Kind, n.Peak, worst, n.Limit)
		default:
			a.reason("neighbour fine", "%s (%s) sees %.0f °C, at worst %.0f °C, of %.0f °C.", n.Name, n.Kind, n.Peak, worst, n.Limit)
		}
		if n.Kind == "battery" {
			a.reason("battery", "%s is a battery: take it out before any heat, whatever the figures say.", n.Name)
		}
	}
}

// bare is what neighbour i sees with the best tool but no shield, or 0.
func (a *Advice) bare(i int) float64 {
	for _, o := range a.Options {
		if len(o.Shield) == 0 && o.Preheated == a.Best.Preheated && o.Tool.words() == a.Best.Tool.words() {
			return o.Result.Neighbours[i].Peak
		}
	}
	return 0
}

func (a *Advice) explainLimits(job Job) {
	r := a.Best.Result
	part := name(job.Part.Name)
	if r.Case.Temp > r.ClassTemp {
		a.reason("body", "The body of %s reaches %.0f °C; it is classified for %.0f °C (%s): do not count on using it again.", part, r.Case.Temp, r.ClassTemp, r.ClassMark)
	} else {
		a.reason("body", "The body of %s reaches %.0f °C of the %.0f °C it is classified for (%s).", part, r.Case.Temp, r.ClassTemp, r.ClassMark)
	}
	if r.Board.OverTd {
		a.reason("board", "The board reaches %.0f °C and decomposes above %.0f °C.", r.Board.Peak, r.Board.Td)
	} else if r.Board.OverTg > 0 {
		a.reason("board", "%.0f mm² of the board pass the glass transition of %.0f °C for up to %.0f s: the laminate is soft there, do not pry; pads lift.", r.Board.OverTg, r.Board.Tg, r.Board.SecondTg)
	}
	for _, o := range a.Options {
		if !o.Preheated && o.Result.Molten < 0 && a.Best.Preheated {
			a.reason("preheat", "Without preheating the coldest joint reaches %.0f °C in %.0f s.", o.Result.Coldest, o.Result.Applied)
			break
		}
	}
	if !a.Best.Preheated {
		a.reason("preheat", "No preheater is needed.")
	}
}

// explainUnknowns names what moves the time most.
func (a *Advice) explainUnknowns() {
	most, how := 0.0, ""
	for _, r := range a.Window.Runs[1:] {
		if r.Corner || a.Window.Nominal <= 0 {
			continue
		}
		d := math.Inf(1)
		if r.Molten > 0 {
			d = math.Abs(math.Log(r.Molten / a.Window.Nominal))
		}
		if d > most {
			most, how = d, r.Name
		}
	}
	if how != "" {
		a.reason("unknowns", "What is known least and matters most: %s. With everything at its slow or fast end: %s to %s.", how, seconds(a.Window.Earliest), seconds(a.Window.Latest))
	}
}

func seconds(t float64) string {
	if t < 0 {
		return "not at all"
	}
	if t < 10 {
		return fmt.Sprintf("%.1f s", t)
	}
	return fmt.Sprintf("%.0f s", t)
}

// neverBelow is how far, K, a joint's estimated end must stay below liquidus before
// "never" is said.
const neverBelow = 8.0

// explainNever says how far short the tool falls and what else there is.
func (a *Advice) explainNever(job Job, set AdviceSettings) {
	r := a.Best.Result
	liquidus := r.Alloy.Liquidus
	tail := fmt.Sprintf("the coldest joint gets to %.0f °C in %.0f s, liquidus is %.0f °C", r.Coldest, r.Applied, liquidus)
	if r.Plateau > 0 && r.Plateau < liquidus-neverBelow {
		tail = fmt.Sprintf("the coldest joint tends to about %.0f °C and will never reach the liquidus of %.0f °C", r.Plateau, liquidus)
	}
	where := ""
	if job.Board.PlaneUnder {
		where = " on that plane"
	}
	a.Summary = fmt.Sprintf("Not with %s%s: %s.", a.Best.Tool.words(), where, tail)
	if !a.Best.Preheated {
		a.reason("preheat", "Preheat the board from below.")
	} else {
		a.reason("preheat", "A preheater at %.0f °C does not suffice either: a hotter one, or one nearer.", a.Best.Tool.Preheat.Temp)
	}
	if i := job.Tool.Iron; i != nil && r.Tip > 0 && r.Tip < i.TipTemp-40 {
		a.reason("power", "The tip falls to %.0f °C: %.0f W are not enough here; take a heavier tip and iron.", r.Tip, i.Power)
	}
	a.reason("alloy", "Flood the joints with low-melt alloy: they then melt below 180 °C and stay liquid (clean it all off afterwards).")
	if job.Tool.HotAir != nil {
		a.reason("nozzle", "More flow or a wider nozzle brings more heat, to the neighbours too.")
	}
	if set.NoPreheat {
		a.reason("limits", "A preheater was ruled out.")
	}
}

// cautions are the usual ones, where they matter.
func cautions(job Job) []string {
	c := []string{
		"Unplugged, and reservoir capacitors discharged and measured, before any tool touches the board.",
		"Flux and hot laminate give off harmful fumes: air the room or extract at the board.",
		"The board stays hot enough to burn for minutes; put it on something that does not burn.",
	}
	if job.Tool.HotAir != nil {
		c = append(c, "Hold or weigh down what is light: the air moves loose parts. Never point the nozzle at cells, display or canned capacitors.")
	}
	for _, n := range job.Neighbours {
		switch n.Kind {
		case "battery":
			c = append(c, "A heated lithium cell can burn violently: remove it and keep it away from the bench.")
			return c
		}
	}
	return c
}
