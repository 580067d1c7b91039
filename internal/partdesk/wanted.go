package partdesk

import (
	"context"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/stock"
)

// A RepairPart is one thing a repair takes, as the note says it, and what was made of it.
type RepairPart struct {
	Item   string `json:"item"` // as the note says it
	Count  int    `json:"count"`
	Part   string `json:"part"`   // what to ask for as the old part; "" if the note says too little
	Kind   string `json:"kind"`   // "" not known
	Whole  bool   `json:"whole"`  // the note states enough to look for another at once
	Missed string `json:"missed"` // what the note does not say
}

// RepairParts lists what a repair of a case takes, so that another part can be looked for.
func (d *Desk) RepairParts(ctx context.Context, caseID, repair string) ([]RepairPart, error) {
	m, _, err := d.bench.CaseNote(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if m == nil {
		return nil, failure.New(failure.NotFound, "read the marking on the part itself", "the bench note of this case is not there")
	}
	for i := range m.Repairs {
		if x := &m.Repairs[i]; x.ID == repair {
			out := []RepairPart{}
			for _, it := range x.Buys {
				out = append(out, repairPart(it.What, max(1, it.Count)))
			}
			return out, nil
		}
	}
	return nil, failure.New(failure.NotFound, "take one of the case's repairs", "there is no repair %q", failure.Clip(repair))
}

func repairPart(what string, count int) RepairPart {
	p := stock.Read(what)
	out := RepairPart{Item: what, Count: count, Kind: string(p.Kind)}
	if p.Kind == part.Unknown {
		out.Missed = "of this kind of part nothing is known here: go by what is printed on the old one"
		return out
	}
	out.Part = what
	if _, err := fit.For(p.Old()); err != nil {
		out.Missed = "the note does not say its values: read them off the old part"
		return out
	}
	if _, err := stock.Requirement(what); err != nil {
		out.Missed = err.Error()
		return out
	}
	out.Whole = true
	return out
}

// mostTyped bounds the candidates that can be typed at once.
const mostTyped = 20

// judgeTyped holds parts that were typed against the requirement; all of them are shown.
func (out *Instead) judgeTyped(typed string, req fit.Requirement) error {
	for _, line := range strings.FieldsFunc(typed, func(r rune) bool { return r == '\n' || r == ';' }) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		if len(out.Typed) == mostTyped {
			return failure.New(failure.BadInput, "put the rest on the shelf", "at most %d parts can be typed at once", mostTyped)
		}
		n, rest := stock.SplitCount(line)
		p := stock.Read(rest)
		if p.Kind == part.Unknown && len(req.Kinds) > 0 {
			p = stock.Read(string(req.Kinds[0]) + " " + rest)
			p.Text = rest
		}
		if n > stock.MostCount || len(rest) > stock.MostText {
			return failure.New(failure.BadInput, "write it as in: 2 × electrolytic 470 µF 35 V", "%q is no part", failure.Clip(line))
		}
		x := candidateOf(req.Judge(fit.Candidate{Name: p.Text, Kind: p.Kind, Figures: p.Figures, Words: p.Words, Quantity: n, Source: "typed"}))
		x.Unread = list(p.Rest)
		out.Typed = append(out.Typed, x)
	}
	sortCandidates(out.Typed)
	return nil
}
