package casework

import (
	"context"
	"strings"

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
func (b *Bench) RepairParts(ctx context.Context, caseID, repair string) ([]RepairPart, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	if c.Model == nil {
		return nil, fail(NotFound, "read the marking on the part itself", "the bench note of this case is not there")
	}
	for i := range c.Model.Repairs {
		if x := &c.Model.Repairs[i]; x.ID == repair {
			out := []RepairPart{}
			for _, it := range x.Buys {
				out = append(out, repairPart(it.What, max(1, it.Count)))
			}
			return out, nil
		}
	}
	return nil, fail(NotFound, "take one of the case's repairs", "there is no repair %q", clip(repair))
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
			return fail(BadInput, "put the rest on the shelf", "at most %d parts can be typed at once", mostTyped)
		}
		n, rest := countOf(line)
		p := stock.Read(rest)
		if p.Kind == part.Unknown && len(req.Kinds) > 0 {
			p = stock.Read(string(req.Kinds[0]) + " " + rest)
			p.Text = rest
		}
		if n > stock.MostCount || len(rest) > stock.MostText {
			return fail(BadInput, "write it as in: 2 × electrolytic 470 µF 35 V", "%q is no part", clip(line))
		}
		x := candidateOf(req.Judge(fit.Candidate{Name: p.Text, Kind: p.Kind, Figures: p.Figures, Words: p.Words, Quantity: n, Source: "typed"}))
		x.Unread = list(p.Rest)
		out.Typed = append(out.Typed, x)
	}
	sortCandidates(out.Typed)
	return nil
}
