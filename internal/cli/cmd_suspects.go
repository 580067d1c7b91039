package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
)

// suspectsCmd shows what may be wrong, and why.
type suspectsCmd struct {
	Args []string `arg:"" optional:""`
	All  bool     `name:"all"`
}

// suspectList is the suspects of a case.
type suspectList struct {
	Case     string             `json:"case"`
	Title    string             `json:"title"`
	Changed  *casework.Change   `json:"changed"` // what moved the chances last
	Suspects []casework.Suspect `json:"suspects"`
	Rest     int                `json:"rest"` // suspects not listed
	Unknown  casework.Chance    `json:"unknown"`
	Strain   *casework.Strain   `json:"strain"`
	Source   casework.Source    `json:"source"`
}

// usualSuspects is how many are shown without --all.
const usualSuspects = 10

func (c *suspectsCmd) run(ctx context.Context, s *session) (answer, error) {
	v, err := s.view(ctx, c.Args, "suspects [CASE]")
	if err != nil {
		return nil, err
	}
	h := v.Header
	a := &suspectList{Case: h.Case, Title: h.Title, Changed: v.Changed, Suspects: v.Suspects, Rest: v.Rest, Unknown: v.Unknown, Strain: v.Strain, Source: v.Source}
	if n := len(a.Suspects); n > usualSuspects && !c.All {
		a.Suspects, a.Rest = a.Suspects[:usualSuspects], a.Rest+n-usualSuspects
	}
	return a, nil
}

func (a *suspectList) text(p *page) {
	p.head("%s (%s): what may be wrong", a.Title, a.Case)
	if a.Changed != nil {
		p.para("  ", fmt.Sprintf("“was” is before %d, %s", a.Changed.Event, a.Changed.Words))
	}
	if a.Source.Trouble != "" {
		p.para("  ", a.Source.Trouble)
	}
	const lead = "                   "
	for _, x := range a.Suspects {
		p.gap()
		p.para(chance(x.Chance), x.Title)
		where := x.Part
		for _, more := range []string{x.Mark, x.Value, x.Unit} {
			if more != "" {
				where += ", " + more
			}
		}
		p.para(lead, where)
		for _, r := range x.Reasons {
			p.para(lead+"because ", r.Words)
		}
		refs(p, lead+"check ", x.Checks)
		refs(p, lead+"repair ", x.Repairs)
	}
	if a.Unknown.Now >= 0.01 {
		p.gap()
		p.para(chance(a.Unknown), "a fault the note does not know")
	}
	if a.Rest > 0 {
		p.gap()
		p.line(fmt.Sprintf("%s less likely (fettler suspects --all)", plural(a.Rest, "other is", "others are")))
	}
	if a.Strain != nil {
		p.gap()
		p.para("Doubt: ", a.Strain.Text)
	}
}

// refs prints the names of up to three checks or repairs.
func refs(p *page, lead string, refs []casework.Ref) {
	var ids []string
	for _, r := range refs[:min(len(refs), 3)] {
		ids = append(ids, r.ID)
	}
	if len(ids) > 0 {
		p.para(lead, strings.Join(ids, ", "))
	}
}
