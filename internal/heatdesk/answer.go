package heatdesk

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/heat"
	"fettler/internal/rework"
)

// An Answer is the advice on an Ask, in words and figures. Temperatures in
// °C, times in seconds; -1 stands for never.
type Answer struct {
	Ask        Ask      `json:"ask"` // as reckoned, usual values filled in
	Verdict    string   `json:"verdict"`
	Summary    string   `json:"summary"`
	Window     Window   `json:"window"`
	Neighbours []Seen   `json:"neighbours"`
	Body       Body     `json:"body"`
	Alloy      Alloy    `json:"alloy"`
	Reasons    []string `json:"reasons"`
	Cautions   []string `json:"cautions"`
	Options    []Option `json:"options"` // what was tried, best first
	Family     string   `json:"family"`  // of the steps that go with it, "" if none
	Picture    Picture  `json:"-"`
}

// A Window is when the last joint lets go.
type Window struct {
	Nominal  float64 `json:"nominal"`
	Early    float64 `json:"early"` // most likely not before
	Late     float64 `json:"late"`  // most likely not after
	Earliest float64 `json:"earliest"`
	Latest   float64 `json:"latest"`
	Words    string  `json:"words"`
}

// A Seen is what a neighbour sees.
type Seen struct {
	Name     string  `json:"name"`
	Kind     string  `json:"kind"`
	Peak     float64 `json:"peak"`
	Worst    float64 `json:"worst"` // over what is not known
	Limit    float64 `json:"limit"`
	Shielded bool    `json:"shielded"`
	Words    string  `json:"words"` // "fine", "close: shield it", "too hot: take it off first"
	Why      string  `json:"why"`   // where the limit comes from
}

// A Body is what the part's body sees.
type Body struct {
	Peak  float64 `json:"peak"`
	Limit float64 `json:"limit"` // classification temperature
	Trust string  `json:"trust"`
}

// An Alloy is the solder reckoned with.
type Alloy struct {
	Name     string   `json:"name"`
	Solidus  float64  `json:"solidus"`
	Liquidus float64  `json:"liquidus"`
	Why      []string `json:"why"`
}

// An Option is one way that was tried.
type Option struct {
	Words  string   `json:"words"`
	Molten float64  `json:"molten"`
	Faults []string `json:"faults"`
}

// Reckon answers one question, here and now; it takes seconds. Several are better
// put to a Desk, which takes them in turn and remembers.
func Reckon(ctx context.Context, a Ask) (*Answer, error) {
	a = a.filled()
	if err := a.check(); err != nil {
		return nil, err
	}
	return reckon(ctx, a)
}

// reckon reckons an answer.
func reckon(ctx context.Context, a Ask) (*Answer, error) {
	job, guess, err := a.job()
	if err != nil {
		return nil, refused(err)
	}
	cell := max(1, math.Sqrt(job.Board.Width*job.Board.Height/mostCells))
	set := heat.AdviceSettings{Keep: a.Keep, NoPreheat: a.NoPreheat, Run: heat.Settings{Cell: cell, Workers: 1}}
	adv, err := heat.Advise(ctx, job, set)
	if err != nil {
		return nil, refused(err)
	}
	out := &Answer{Ask: a, Verdict: string(adv.Verdict), Summary: adv.Summary, Window: windowWords(adv.Window), Reasons: []string{}, Cautions: cautionsFor(a, adv.Cautions)}
	out.Neighbours, out.Options = seenBy(adv), triedWords(adv)
	r := adv.Best.Result
	out.Body = Body{Peak: r.Case.Temp, Limit: r.ClassTemp, Trust: r.ClassMark.String()}
	out.Alloy = Alloy{Name: r.Alloy.Name, Solidus: r.Alloy.Solidus, Liquidus: r.Alloy.Liquidus, Why: append([]string{}, guess.Why...)}
	for _, x := range adv.Reasons {
		if !strings.HasPrefix(x.Code, "neighbour") {
			out.Reasons = append(out.Reasons, x.Text)
		}
	}
	if job.Board.Width < a.Width || job.Board.Height < a.Height {
		out.Reasons = append(out.Reasons, fmt.Sprintf("Of the board only %.0f × %.0f mm round the part are reckoned with; what is farther off stays cool.", job.Board.Width, job.Board.Height))
	}
	out.Family = rework.FamilyOf(a.Package)
	out.Picture, err = pictureOf(ctx, job, adv, cell)
	return out, err
}

// refused is an error of package heat as the bench reads it.
func refused(err error) error {
	var f *heat.FieldError
	if errors.As(err, &f) {
		return &failure.Error{Code: failure.BadInput, Text: "the " + f.Field + " is " + f.Problem, Next: "give " + f.Allowed, Err: err}
	}
	return err
}

func windowWords(w heat.Window) Window {
	out := Window{Nominal: w.Nominal, Early: w.Early, Late: w.Late, Earliest: w.Earliest, Latest: w.Latest}
	switch {
	case w.Nominal <= 0:
		out = Window{Nominal: -1, Early: -1, Late: -1, Earliest: -1, Latest: -1, Words: "it does not let go this way"}
	case w.Late < 0:
		out.Words = fmt.Sprintf("not before %.0f s, and perhaps not at all", w.Early)
	default:
		out.Words = fmt.Sprintf("%.0f to %.0f s", w.Early, w.Late)
	}
	return out
}

func seenBy(adv *heat.Advice) []Seen {
	why := map[string]string{}
	for _, k := range heat.NeighbourKinds() {
		why[k.Kind] = k.Why + " (" + k.Mark.String() + ")"
	}
	out := []Seen{}
	for i, n := range adv.Best.Result.Neighbours {
		s := Seen{Name: n.Name, Kind: n.Kind, Peak: n.Peak, Worst: n.Peak, Limit: n.Limit, Shielded: n.Shielded, Words: "fine", Why: why[n.Kind]}
		if i < len(adv.Window.Worst) {
			s.Worst = max(s.Worst, adv.Window.Worst[i])
		}
		switch {
		case s.Peak > s.Limit:
			s.Words = "too hot: take it off first"
		case s.Worst > s.Limit && s.Shielded:
			s.Words = "close, even so"
		case s.Worst > s.Limit:
			s.Words = "close: shield it"
		}
		out = append(out, s)
	}
	return out
}

// mostTried bounds the list of ways shown.
const mostTried = 12

func triedWords(adv *heat.Advice) []Option {
	out := []Option{}
	for _, o := range adv.Options[:min(len(adv.Options), mostTried)] {
		x := Option{Words: optionWords(o), Molten: o.Result.Molten, Faults: []string{}}
		for _, f := range o.Faults {
			x.Faults = append(x.Faults, fmt.Sprintf("%s: %s %.0f of %.0f %s", f.Kind, f.What, f.Value, f.Limit, f.Unit))
		}
		out = append(out, x)
	}
	return out
}

func optionWords(o heat.Option) string {
	var parts []string
	if a := o.Tool.HotAir; a != nil {
		parts = append(parts, fmt.Sprintf("hot air %.0f °C", a.SetTemp))
	}
	if i := o.Tool.Iron; i != nil {
		parts = append(parts, fmt.Sprintf("iron %.0f °C", i.TipTemp))
	}
	if p := o.Tool.Preheat; p != nil {
		parts = append(parts, fmt.Sprintf("preheated %.0f °C", p.Temp))
	}
	if len(o.Shield) > 0 {
		parts = append(parts, "shielding "+strings.Join(o.Shield, ", "))
	}
	return strings.Join(parts, ", ")
}

// cautionsFor adds what the question itself calls for.
func cautionsFor(a Ask, given []string) []string {
	out := append([]string{}, given...)
	vents := strings.Contains(strings.ToLower(a.Package), "electrolytic")
	for _, n := range a.Neighbours {
		vents = vents || strings.Contains(n.Kind, "electrolytic") || n.Kind == "supercapacitor"
	}
	if vents {
		out = append(out, "A heated electrolytic vents hot, caustic vapour without warning: face and hands not above it, glasses on.")
	}
	return append(out, "Tip, nozzle and air burn skin and set fire: stand, glasses, nothing on the bench that burns; off when you leave.")
}
