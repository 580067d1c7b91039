package heat

import (
	"context"
	"math"
	"slices"
)

// A Verdict is the short answer of [Advise].
type Verdict string

const (
	Go         Verdict = "go"
	WithCare   Verdict = "with care"
	NotThisWay Verdict = "not with this tool"
)

// Advice is a recommendation with its reasons as data; the texts can be shown as
// they are.
type Advice struct {
	Verdict  Verdict
	Best     Option
	Options  []Option // all that were tried, best first
	Window   Window   // of the best option; empty if it never melts
	Summary  string
	Reasons  []Reason
	Cautions []string
}

// An Option is one way to do it.
type Option struct {
	Tool      Tool
	Shield    []string // neighbours to shield
	Preheated bool
	Proposed  bool // the preheater was not in the job: it would have to be found
	Result    *Result
	Faults    []Fault
}

// FaultKind says what is wrong with an option.
type FaultKind string

const (
	NotMolten     FaultKind = "not molten"
	NeighbourHot  FaultKind = "neighbour too hot"
	BoardBurnt    FaultKind = "board decomposes"
	BodyHot       FaultKind = "body above its classification temperature"
	TakesTooLong  FaultKind = "takes too long"
	ToolTooStrong FaultKind = "too fast to control"
)

// A Fault is one limit that an option passes.
type Fault struct {
	Kind         FaultKind
	What         string // the neighbour, the part, the board
	Value, Limit float64
	Unit         string
}

// A Reason is one finding behind the advice.
type Reason struct {
	Code string
	Text string
}

// AdviceSettings steer [Advise]; the zero value is the default.
type AdviceSettings struct {
	// Run is used for every simulation; its defaults here are a 1 mm cell, no frames
	// and 10 s of cooling.
	Run Settings
	// Temps are the set or tip temperatures tried beside the job's own, °C;
	// nil: 320, 350, 380 and 420 for hot air, 350 and 400 for an iron.
	Temps []float64
	// Keep says that the part will be used again or is new: its body must then stay
	// within its classification temperature.
	Keep bool
	// NoShield rules out tape and screens, NoPreheat a preheater that is not in the job.
	NoShield, NoPreheat bool

	soaks *soaks // of all runs of this advice
}

// The trade's comfortable span for removing a part, s (common practice, no source).
const (
	quickest = 4.0
	longest  = 90.0
)

// proposedPreheat is what is tried if the job has no preheater: moderate air from below.
var proposedPreheat = Preheat{Temp: 200, Soak: 120}

// Advise tries set temperatures, then shields, then a preheater, until something
// stays within every limit; it sweeps the unknowns for the best option and says in
// words what to do. Cost: 5 to 35 runs of the coarse model, a few seconds.
func Advise(ctx context.Context, job Job, set AdviceSettings) (*Advice, error) {
	set, err := set.withDefaults(job)
	if err != nil {
		return nil, err
	}
	a := &Advice{}
	try := func(o []Option) error {
		if err := a.run(ctx, job, o, set); err != nil {
			return err
		}
		a.Options = append(a.Options, o...)
		slices.SortStableFunc(a.Options, func(x, y Option) int {
			if d := x.score() - y.score(); d != 0 {
				return int(math.Copysign(1, d))
			}
			return 0
		})
		return nil
	}
	tools := job.variants(set.Temps)
	if err := try(plain(tools, job.Tool.Preheat)); err != nil {
		return nil, err
	}
	if !set.NoShield {
		if err := try(shielded(a.Options)); err != nil {
			return nil, err
		}
	}
	if job.Tool.Preheat == nil && !set.NoPreheat && len(a.Options[0].Faults) > 0 {
		if err := try(proposed(tools)); err != nil {
			return nil, err
		}
		if !set.NoShield {
			if err := try(shielded(a.Options)); err != nil {
				return nil, err
			}
		}
	}
	if err := a.settle(ctx, job, set); err != nil {
		return nil, err
	}
	a.explain(job, set)
	return a, nil
}

// settleTries bounds the sweeps.
const settleTries = 4

// settle sweeps the best option. If the slow side of the unknowns would not melt it,
// it goes to the next hotter option without a fault; if an unlucky run would cook a
// neighbour, it shields that one as well.
func (a *Advice) settle(ctx context.Context, job Job, set AdviceSettings) error {
	a.Best = a.Options[0]
	if a.Best.Result.Molten < 0 {
		return nil
	}
	best := a.Best
	for i := range settleTries {
		given := best.Result
		if set.Run.Vary != (Factors{}) { // that run was of something else
			given = nil
		}
		w, err := sweep(ctx, best.job(job), set.Run, given, set.soaks)
		if err != nil {
			return err
		}
		if i == 0 || better(w, a.Window) {
			a.Best, a.Window = best, w
		}
		next, ok := Option{}, false
		if w.Late < 0 || w.Late > longest {
			next, ok = a.hotter(best)
		} else if hot := unlucky(best.Result, w); len(hot) > 0 && !set.NoShield && best.Tool.HotAir != nil {
			try := []Option{best}
			try[0].Shield = append(slices.Clone(best.Shield), hot...)
			if err := a.run(ctx, job, try, set); err != nil {
				return err
			}
			a.Options = append(a.Options, try...)
			next, ok = try[0], true
		}
		if !ok {
			break
		}
		best = next
	}
	return nil
}

// better prefers a window that closes, then one that is kind to the neighbours.
func better(w, than Window) bool {
	if (w.Late < 0) != (than.Late < 0) {
		return w.Late >= 0
	}
	return slices.Max(append(w.Worst, lossFrom)) < slices.Max(append(than.Worst, lossFrom)) || w.Late < than.Late
}

// hotter is the option with the next higher temperature and no fault, otherwise alike.
func (a *Advice) hotter(o Option) (Option, bool) {
	next, ok := Option{}, false
	for _, c := range a.Options {
		if len(c.Faults) > 0 || c.Preheated != o.Preheated || c.Tool.temp() <= o.Tool.temp() {
			continue
		}
		if !ok || c.Tool.temp() < next.Tool.temp() {
			next, ok = c, true
		}
	}
	return next, ok
}

// temp is the temperature that the options differ in.
func (t Tool) temp() float64 {
	if t.HotAir != nil {
		return t.HotAir.SetTemp
	}
	return t.Iron.TipTemp
}

// unlucky names the unshielded neighbours that some run of the sweep cooks.
func unlucky(r *Result, w Window) []string {
	var out []string
	for i, n := range r.Neighbours {
		if !n.Shielded && w.Worst[i] > n.Limit {
			out = append(out, n.Name)
		}
	}
	return out
}

func (s AdviceSettings) withDefaults(job Job) (AdviceSettings, error) {
	s.soaks = &soaks{}
	s.Run.Cell = orDefault(s.Run.Cell, 1)
	s.Run.Cool = orDefault(s.Run.Cool, 10)
	if s.Run.Frames == 0 {
		s.Run.Frames = -1
	}
	if s.Temps == nil {
		if job.Tool.HotAir != nil {
			s.Temps = []float64{320, 350, 380, 420}
		} else {
			s.Temps = []float64{350, 400}
		}
	}
	if len(s.Temps) > 12 {
		return s, &FieldError{"number of temperatures to try", num(float64(len(s.Temps))), "at most 12"}
	}
	for _, t := range s.Temps {
		if err := inRange("temperature to try", t, 100, 500, "°C"); err != nil {
			return s, err
		}
	}
	return s, nil
}

// variants are the job's tool at its own and at the other temperatures.
func (j Job) variants(temps []float64) []Tool {
	tools := []Tool{j.Tool}
	for _, t := range temps {
		v := j.Tool
		switch {
		case v.HotAir != nil && v.HotAir.SetTemp != t:
			a := *v.HotAir
			a.SetTemp = t
			v.HotAir = &a
		case v.HotAir == nil && v.Iron != nil && v.Iron.TipTemp != t:
			r := *v.Iron
			r.TipTemp = t
			v.Iron = &r
		default:
			continue
		}
		tools = append(tools, v)
	}
	return tools
}

// plain are the tools as they are, and without the preheater if there is one.
func plain(tools []Tool, pre *Preheat) []Option {
	var out []Option
	for _, t := range tools {
		if pre != nil {
			out = append(out, Option{Tool: t, Preheated: true})
		}
		t.Preheat = nil
		out = append(out, Option{Tool: t})
	}
	return out
}

func proposed(tools []Tool) []Option {
	var out []Option
	for _, t := range tools {
		p := proposedPreheat
		t.Preheat = &p
		out = append(out, Option{Tool: t, Preheated: true, Proposed: true})
	}
	return out
}

// shielded adds shields to options that melt the joints but cook a neighbour.
func shielded(tried []Option) []Option {
	var out []Option
	for _, o := range tried {
		if len(o.Shield) > 0 || o.Result.Molten < 0 || o.Tool.HotAir == nil {
			continue
		}
		var names []string
		for _, n := range o.Result.Neighbours {
			if n.Over() && !n.Shielded {
				names = append(names, n.Name)
			}
		}
		if len(names) > 0 {
			out = append(out, Option{Tool: o.Tool, Preheated: o.Preheated, Proposed: o.Proposed, Shield: names})
		}
	}
	return out
}

// job is the job done this way.
func (o Option) job(j Job) Job {
	j.Tool = o.Tool
	j.Neighbours = slices.Clone(j.Neighbours)
	for i, n := range j.Neighbours {
		if slices.Contains(o.Shield, n.Name) {
			j.Neighbours[i].Shielded = true
		}
	}
	return j
}

func (a *Advice) run(ctx context.Context, job Job, options []Option, set AdviceSettings) error {
	jobs, sets := make([]Job, len(options)), make([]Settings, len(options))
	for i, o := range options {
		jobs[i], sets[i] = o.job(job), set.Run
	}
	results, err := simulateAll(ctx, jobs, sets, set.soaks)
	if err != nil {
		return err
	}
	for i, r := range results {
		options[i].Result = r
		options[i].Faults = faults(job.Part, r, set.Keep)
	}
	return nil
}

// faults lists the limits a run passes.
func faults(p Part, r *Result, keep bool) []Fault {
	var out []Fault
	if r.Molten < 0 {
		out = append(out, Fault{NotMolten, p.Name, r.Coldest, r.Alloy.Liquidus, "°C"})
	} else if r.Molten > longest {
		out = append(out, Fault{TakesTooLong, p.Name, r.Molten, longest, "s"})
	} else if r.Molten < quickest && r.Jet != nil {
		out = append(out, Fault{ToolTooStrong, p.Name, r.Molten, quickest, "s"})
	}
	for _, n := range r.Neighbours {
		if n.Over() {
			out = append(out, Fault{NeighbourHot, n.Name, n.Peak, n.Limit, "°C"})
		}
	}
	if r.Board.OverTd {
		out = append(out, Fault{BoardBurnt, "board", r.Board.Peak, r.Board.Td, "°C"})
	}
	if keep && r.Case.Temp > r.ClassTemp {
		out = append(out, Fault{BodyHot, p.Name, r.Case.Temp, r.ClassTemp, "°C"})
	}
	return out
}

// score orders options: faults first, then effort, then a quiet half minute.
func (o Option) score() float64 {
	s := 0.0
	for _, f := range o.Faults {
		over := math.Abs(f.Value-f.Limit) / max(f.Limit, 1)
		switch f.Kind {
		case NotMolten:
			s += 1000 + 100*over
		case NeighbourHot, BoardBurnt:
			s += 100 + 100*over
		default:
			s += 10 + 10*over
		}
	}
	s += 0.5 * float64(len(o.Shield))
	if o.Preheated {
		s++
	}
	if o.Proposed {
		s += 2
	}
	if m := o.Result.Molten; m > 0 {
		s += 0.5 * math.Abs(math.Log(m/25))
	}
	s += max(o.Result.Case.Temp-o.Result.ClassTemp, 0) / 50
	return s
}
