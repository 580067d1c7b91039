package cli

import (
	"strings"

	"fettler/internal/casework"
)

// heard is what was made of a text.
type heard struct {
	Read     []casework.Heed `json:"read"`             // taken as evidence
	NotMeant []string        `json:"notMeant"`         // the command that takes each of Read away again
	Doubtful []doubt         `json:"doubtful"`         // not taken; settle each with one of its commands
	Blamed   []string        `json:"blamed,omitempty"` // causes the speaker blames; no evidence
	Unread   []string        `json:"unread,omitempty"` // words nothing accounts for
}

// A doubt is a piece of text that may mean one of several findings.
type doubt struct {
	Meant []casework.Heed `json:"meant"`
	Try   []string        `json:"try"` // the command for each of Meant
}

func (h *heard) text(p *page) {
	for i, m := range h.Read {
		p.para("  read as: ", heedWords(m)+", from “"+m.Text+"”; if that was not meant")
		p.line("      " + h.NotMeant[i])
	}
	for _, d := range h.Doubtful {
		p.para("  doubtful: ", "“"+d.Meant[0].Text+"” may mean")
		for i, m := range d.Meant {
			p.para("    ", heedWords(m))
			p.line("      " + d.Try[i])
		}
	}
	if len(h.Blamed) > 0 {
		p.para("  blamed, which is no evidence: ", strings.Join(h.Blamed, "; "))
	}
	if len(h.Unread) > 0 {
		p.para("  not understood: ", strings.Join(h.Unread, "; "))
	}
}

func heedWords(m casework.Heed) string {
	if m.Denied {
		return m.Title + ": no"
	}
	return m.Title
}
