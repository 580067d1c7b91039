package casework

import (
	"slices"
	"strings"

	"fettler/internal/note"
)

// cautions are hazards in words, each kind once: the words of all that name it, the
// usual caution after them, and the largest figures.
func cautions(hs []note.Hazard) []Caution { return cautionsIn(hs, false) }

// cautionsIn is cautions; shut if the device around them is not to be opened, besides
// what hs themselves say of it.
func cautionsIn(hs []note.Hazard, shut bool) []Caution {
	shut = shut || forHands(hs) || keptShut(hs)
	out := []Caution{}
	at := map[string]int{}
	var own [][]string
	for _, h := range hs {
		if h.Kind == trainedHands {
			continue
		}
		i, named := at[h.Kind]
		if !named {
			i = len(out)
			at[h.Kind] = i
			out, own = append(out, Caution{Kind: h.Kind}), append(own, nil)
		}
		x := &out[i]
		x.Volts, x.Joules = max(x.Volts, h.Volts), max(x.Joules, h.Joules)
		if w := fullStop(h.Text); w != "" && !slices.Contains(own[i], w) {
			own[i] = append(own[i], w)
		}
	}
	for i := range out {
		usual := note.Hazard{Kind: out[i].Kind}.Caution()
		if shut {
			usual = note.Hazard{Kind: out[i].Kind}.CautionShut()
		}
		out[i].Text = strings.TrimSpace(strings.Join(append(own[i], usual), " "))
	}
	return out
}

// fullStop makes a sentence of what a note says.
func fullStop(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	s = raised(s)
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "!") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}

// stepCautions are those of a step itself, and those of the device around it, none of
// them twice. What the step names has the device's words and figures of that kind
// too. With the power on inside, what the device keeps under voltage is the step's own.
func (s *sheet) stepCautions(hs []note.Hazard, level int, live bool) (own, around []Caution) {
	shut := keptShut(s.k.m.Hazards)
	if level == 0 {
		return cautionsIn(hs, shut), []Caution{}
	}
	mine, rest := slices.Clone(hs), []note.Hazard{}
	for _, h := range s.k.m.Hazards {
		named := slices.ContainsFunc(hs, func(o note.Hazard) bool { return o.Kind == h.Kind })
		switch {
		case named, live && electric(h.Kind):
			mine = append(mine, h)
		default:
			rest = append(rest, h)
		}
	}
	return cautionsIn(mine, shut), cautionsIn(rest, shut)
}

// electric tells the hazards that are at hand as soon as the power is on.
func electric(kind string) bool {
	return kind == "mains" || kind == "high voltage" || kind == "stored charge" || kind == "microwave"
}

// caution fills in what can hurt at a step.
func (s *sheet) caution(x *Step, hs []note.Hazard, level int) {
	x.Cautions, x.Around = s.stepCautions(hs, level, x.Live)
	x.Been = s.c.been[level]
}
