package shelf

import (
	"cmp"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"fettler/internal/part/fit"
)

// PageLines is how many lines of the shelf one page shows.
const PageLines = 50

// An Ask is which lines to show.
type Ask struct {
	Text  string // words that all must be in name, kind, place, board or note
	Place string // exactly this place
	Gone  bool   // also what is used up
	Page  int    // from 1; 0: 1
	Most  int    // lines of a page, 0: PageLines
}

// A List is a page of the shelf.
type List struct {
	Lines  []Shown `json:"lines"`
	Total  int     `json:"total"`  // lines that fit, on all pages
	Pieces int     `json:"pieces"` // of them
	Page   int     `json:"page"`
	Pages  int     `json:"pages"`
	All    int     `json:"all"`    // lines of the shelf that are not used up
	Places []Place `json:"places"` // all places, by name
}

// A Place is a drawer, box or board.
type Place struct {
	Place string `json:"place"`
	Lines int    `json:"lines"`
}

// A Shown is a line as people see it.
type Shown struct {
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	Kind    string   `json:"kind"`
	Figures []Figure `json:"figures"` // what is known of it
	Count   int      `json:"count"`
	Place   string   `json:"place"`
	From    string   `json:"from"`  // "new", "pulled" or "on a board"
	Board   string   `json:"board"` // on a board: which
	Case    string   `json:"case"`  // device it is from
	Note    string   `json:"note"`
	Event   int      `json:"event"` // that stocked it
}

// A Figure is one thing known of a part.
type Figure = fit.Stated

// List returns a page of the shelf.
func (s *Shelf) List(a Ask) *List {
	words := strings.Fields(plainly(a.Text))
	out := &List{Lines: []Shown{}, Places: []Place{}}
	places := map[string]int{}
	var fits []*Line
	for _, l := range s.lines {
		if l.Count > 0 {
			out.All++
			if l.Place != "" {
				places[l.Place]++
			}
		} else if !a.Gone {
			continue
		}
		if (a.Place == "" || l.Place == a.Place) && (len(words) == 0 || l.text().has(words)) {
			fits = append(fits, l)
			out.Pieces += l.Count
		}
	}
	for _, p := range slices.SortedFunc(maps.Keys(places), byDrawer) {
		out.Places = append(out.Places, Place{p, places[p]})
	}
	most := a.Most
	if most <= 0 {
		most = PageLines
	}
	out.Total, out.Pages = len(fits), max(1, (len(fits)+most-1)/most)
	out.Page = min(max(a.Page, 1), out.Pages)
	slices.Reverse(fits) // latest first
	from := (out.Page - 1) * most
	for _, l := range fits[min(from, len(fits)):min(from+most, len(fits))] {
		out.Lines = append(out.Lines, l.Shown())
	}
	return out
}

// A text is what a search looks at: all of a line, and its name without blanks, so that "470uF" finds "470 µF".
type text struct{ all, name string }

// text is what a search looks at of a line, made once.
func (l *Line) text() *text {
	if t := l.said.Load(); t != nil {
		return t
	}
	all := plainly(l.Name + "\n" + l.Kind + "\n" + l.Place + "\n" + l.Board + "\n" + l.Note + "\n" + l.ID)
	t := &text{all, strings.ReplaceAll(all[:strings.IndexByte(all, '\n')], " ", "")}
	l.said.Store(t)
	return t
}

// typedAlike puts letters that are typed one for another into one.
var typedAlike = strings.NewReplacer("µ", "u", "μ", "u", "ω", "ohm", "×", "x", ",", ".")

func plainly(s string) string { return typedAlike.Replace(strings.ToLower(s)) }

func (t text) has(words []string) bool {
	for _, w := range words {
		if !strings.Contains(t.all, w) && !strings.Contains(t.name, w) {
			return false
		}
	}
	return true
}

// byDrawer puts drawer 3 before drawer 10.
func byDrawer(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		if m > 0 && n > 0 {
			p, q := strings.TrimLeft(x[:m], "0"), strings.TrimLeft(y[:n], "0")
			if c := cmp.Or(cmp.Compare(len(p), len(q)), cmp.Compare(p, q)); c != 0 {
				return c
			}
			x, y = x[m:], y[n:]
			continue
		}
		r, i := utf8.DecodeRuneInString(x)
		t, j := utf8.DecodeRuneInString(y)
		if c := cmp.Compare(strings.ToLower(string(r)), strings.ToLower(string(t))); c != 0 {
			return c
		}
		x, y = x[i:], y[j:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// Shown is the line as people see it.
func (l *Line) Shown() Shown {
	c := l.candidate()
	return Shown{ID: l.ID, Name: l.Name, Kind: l.Kind, Figures: fit.InWords(c.Figures, c.Words), Count: l.Count, Place: l.Place, From: l.From, Board: l.Board, Case: l.Case, Note: l.Note, Event: l.Event}
}
