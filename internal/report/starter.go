package report

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode"

	"fettler/internal/casework"
)

// A draft is a bench note in the making.
type draft struct {
	v     *casework.View
	a     *casework.Account
	b     strings.Builder
	modes []draftMode
}

// draftMode is one fault of the draft.
type draftMode struct {
	id         string // in the note it comes from
	part, mode string // names in the draft
	title      string
	suspect    casework.Suspect
	p          float64
}

// Starter writes the beginning of a bench note for the device of a case: YAML that
// loads. Its chances are guesses, its rates the chances of this one case.
func Starter(w io.Writer, v *casework.View, a *casework.Account) error {
	d := &draft{v: v, a: a}
	d.gather()
	d.head()
	d.access()
	d.parts()
	d.symptoms()
	d.checks()
	d.repairs()
	if _, err := io.WriteString(w, d.b.String()); err != nil {
		return fmt.Errorf("writing the draft: %w", err)
	}
	return nil
}

func (d *draft) line(indent int, format string, args ...any) {
	fmt.Fprintf(&d.b, "%s%s\n", strings.Repeat("  ", indent), fmt.Sprintf(format, args...))
}

// text is a text as YAML takes it for sure.
func text(s string) string {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if e.Encode(strings.Join(strings.Fields(s), " ")) != nil {
		return `""`
	}
	return strings.TrimSpace(b.String())
}

// name makes a name of a bench note: small letters, digits and hyphens.
func name(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case (unicode.IsSpace(r) || r == '.' || r == '-' || r == '/') && b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	out := strings.Trim(b.String(), "-")
	if len(out) > 40 {
		out = strings.Trim(out[:40], "-")
	}
	if out == "" || out[0] >= '0' && out[0] <= '9' {
		out = strings.TrimSuffix("x-"+out, "-")
	}
	return out
}

// gather takes the faults that it may have been, and failing that one that stands for whatever it was.
func (d *draft) gather() {
	for _, x := range d.a.Was {
		if x.Now < 0.05 {
			continue
		}
		i := slices.IndexFunc(d.v.Suspects, func(s casework.Suspect) bool { return s.Mode == x.Mode })
		if i < 0 || d.v.Suspects[i].Name == "" {
			continue
		}
		s := d.v.Suspects[i]
		part := name(strings.TrimSuffix(x.Mode, "."+s.Name))
		d.modes = append(d.modes, draftMode{id: x.Mode, part: part, mode: s.Name, title: s.Title, suspect: s, p: x.Now})
	}
	if len(d.modes) == 0 {
		d.modes = []draftMode{{part: "suspect-part", mode: "faulty", title: "the part at fault", p: 1}}
	}
}

func (d *draft) head() {
	d.line(0, "device: %s-draft", name(d.a.Kind))
	d.line(0, "# A draft made of one case. Replace the chances, which are guesses, add what else can be wrong,")
	d.line(0, "# and check it with: fettler note lint")
	d.line(0, "title: %s", text(d.a.Kind+", draft"))
	d.line(0, "category: %s", text(d.a.Category))
	if d.a.Kg > 0 {
		d.line(0, "mass: %g kg", d.a.Kg)
	}
	if d.v.Settings.Worth > 0 {
		d.line(0, "worth: %s", price(d.v.Settings.Worth, d.a.Currency))
	}
	if len(d.a.Hazards) == 0 {
		return
	}
	d.line(0, "hazards:")
	for _, h := range d.a.Hazards {
		d.line(1, "- %s", text(hazardName(h)))
	}
}

// hazardName is a hazard as a note writes it.
func hazardName(h casework.Caution) string {
	out := h.Kind
	if h.Volts > 0 {
		out += fmt.Sprintf(" %g V", h.Volts)
	}
	if h.Joules > 0 {
		out += fmt.Sprintf(" %g J", h.Joules)
	}
	return out
}

func price(v float64, currency string) string { return fmt.Sprintf("%.2f %s", v, currency) }

func (d *draft) access() {
	if len(d.v.Levels) < 2 {
		return
	}
	d.line(0, "access:")
	for i, l := range d.v.Levels[1:] {
		behind := ""
		if i > 0 {
			behind = ", behind: " + name(d.v.Levels[i].ID)
		}
		how := ""
		if l.How != "" {
			how = ", how: " + text(l.How)
		}
		d.line(1, "%s: {title: %s%s, takes: %g min, back: %g min%s}", name(l.ID), text(l.Title), behind, l.Minutes, l.Close, how)
	}
}

// at is where a step is done, as a key; nothing for outside.
func (d *draft) at(l casework.Level) string {
	if i := slices.IndexFunc(d.v.Levels, func(x casework.Level) bool { return x.ID == l.ID }); i > 0 {
		return name(l.ID)
	}
	return ""
}

func (d *draft) parts() {
	d.line(0, "parts:")
	done := map[string]bool{}
	for _, m := range d.modes {
		if done[m.part] {
			continue
		}
		done[m.part] = true
		title := m.suspect.Part
		if title == "" {
			title = m.title
		}
		d.line(1, "%s:", m.part)
		d.line(2, "title: %s", text(title))
		if m.suspect.Kind != "" {
			d.line(2, "# with \"kind: %s\" instead of class and rates, the usual rates of its kind hold", m.suspect.Kind)
		}
		class := m.suspect.Class
		if class == "" {
			class = "board/other"
		}
		d.line(2, "class: %s", text(class))
		if m.suspect.Mark != "" {
			d.line(2, "mark: %s", text(m.suspect.Mark))
		}
		if m.suspect.Value != "" {
			d.line(2, "value: %s", text(m.suspect.Value))
		}
		d.line(2, "modes:")
		for _, x := range d.modes {
			if x.part == m.part {
				d.line(3, "%s: {title: %s, rate: %g}", x.mode, text(x.title), math.Max(0.05, math.Round(100*x.p)/100))
			}
		}
	}
}

// shows writes what may have caused a sign.
func (d *draft) shows(indent int, modes []draftMode) {
	d.line(indent, "shows:")
	for _, m := range modes {
		word := "usually"
		if m.p < 0.5 {
			word = "sometimes"
		}
		d.line(indent+1, "%s: %s", text(m.part+" "+m.mode), word)
	}
}

func (d *draft) symptoms() {
	d.line(0, "symptoms:")
	used := map[string]bool{}
	for _, k := range d.v.Known {
		if k.Denied || k.Earlier || k.Epoch > 0 || used[k.Finding] || !slices.ContainsFunc(d.v.Symptoms, func(f casework.Field) bool { return f.Finding == k.Finding && f.Kind == "sign" }) {
			continue
		}
		used[k.Finding] = true
		d.line(1, "%s:", name(k.Finding))
		d.line(2, "title: %s", text(k.Title))
		d.line(2, "says: [%s]", text(k.Title))
		d.shows(2, d.modes)
	}
	if len(used) == 0 {
		d.line(1, "wrong:")
		d.line(2, "title: does not work as it should")
		d.line(2, "says: [does not work, broken]")
		d.shows(2, d.modes)
	}
}

// checks writes the checks that found something, as signs.
func (d *draft) checks() {
	first := true
	used := map[string]bool{}
	for _, s := range d.a.Steps {
		if s.Kind != "check" || s.ID == "" || used[s.ID] {
			continue
		}
		i := slices.IndexFunc(d.v.Checks, func(c casework.Step) bool { return c.ID == s.ID })
		found := d.found(s.Event)
		if i < 0 || len(found) == 0 {
			continue
		}
		used[s.ID] = true
		c := d.v.Checks[i]
		if first {
			d.line(0, "checks:")
			first = false
		}
		d.line(1, "%s:", name(c.ID))
		d.step(2, c)
		if c.Live {
			d.line(2, "live: true")
		}
		d.line(2, "finds:")
		for n, k := range found {
			d.line(3, "%s:", fmt.Sprintf("sign-%d", n+1))
			d.line(4, "title: %s", text(k.Words))
			d.shows(4, d.modes)
		}
	}
}

// found is what an event found that speaks for something.
func (d *draft) found(event int) []casework.Observed {
	var out []casework.Observed
	for _, k := range d.v.Known {
		if k.Event == event && !k.Denied {
			out = append(out, k)
		}
	}
	return out
}

// step writes what check and repair have in common.
func (d *draft) step(indent int, s casework.Step) {
	d.line(indent, "title: %s", text(s.Title))
	if s.How != "" {
		d.line(indent, "how: %s", text(s.How))
	}
	with := s.With
	if len(with) == 0 {
		with = []string{"eyes"}
	}
	var tools []string
	for _, t := range with {
		tools = append(tools, text(t))
	}
	d.line(indent, "with: [%s]", strings.Join(tools, ", "))
	d.line(indent, "takes: %g min", math.Max(1, s.Minutes))
	if at := d.at(s.Access); at != "" {
		d.line(indent, "at: %s", at)
	}
	var hurts []string
	for _, c := range s.Cautions {
		hurts = append(hurts, text(hazardName(c)))
	}
	if len(hurts) > 0 {
		d.line(indent, "hazards: [%s]", strings.Join(hurts, ", "))
	}
}

func (d *draft) repairs() {
	first := true
	used := map[string]bool{}
	begin := func() {
		if first {
			d.line(0, "repairs:")
			first = false
		}
	}
	for n, s := range d.a.Steps {
		if s.Kind != "repair" || s.ID != "" && used[s.ID] {
			continue
		}
		if s.ID == "" { // one the note does not know: all that is said is what was done
			begin()
			d.line(1, "repair-%d:", n+1)
			d.step(2, casework.Step{Title: s.Title, With: []string{"screwdrivers"}, Minutes: s.Minutes})
			d.line(2, "clears: everything")
			continue
		}
		used[s.ID] = true
		i := slices.IndexFunc(d.v.Repairs, func(r casework.Step) bool { return r.ID == s.ID })
		if i < 0 {
			continue
		}
		clears := d.clears(s.ID)
		if len(clears) == 0 {
			continue
		}
		begin()
		r := d.v.Repairs[i]
		d.line(1, "%s:", name(r.ID))
		d.step(2, r)
		d.line(2, "clears: {%s}", strings.Join(clears, ", "))
		if len(r.Buys) > 0 {
			d.line(2, "buys:")
			for _, b := range r.Buys {
				d.line(3, "- {what: %s, count: %d, price: %s}", text(b.What), max(1, b.Count), price(b.Price, d.a.Currency))
			}
		}
		if r.Days > 0 {
			d.line(2, "days: %g", r.Days)
		}
	}
}

// clears lists the parts of the draft that a repair is for, with their modes.
func (d *draft) clears(repair string) []string {
	by := map[string][]string{}
	var order []string
	for _, m := range d.modes {
		if slices.ContainsFunc(m.suspect.Repairs, func(r casework.Ref) bool { return r.ID == repair }) {
			if by[m.part] == nil {
				order = append(order, m.part)
			}
			by[m.part] = append(by[m.part], m.mode)
		}
	}
	var out []string
	for _, p := range order {
		out = append(out, fmt.Sprintf("%s: [%s]", p, strings.Join(by[p], ", ")))
	}
	return out
}
