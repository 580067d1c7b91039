package casework

import (
	"context"
	"fmt"
	"net/url"
	"strings"

	"fettler/internal/part/stock"
	"fettler/internal/shelf"
)

// What labels are for.
const (
	LabelPlaces  = "places"  // drawers and boxes
	LabelParts   = "parts"   // lines of the shelf
	LabelDevices = "devices" // open cases
	LabelBags    = "bags"    // what was taken off them
	LabelOwn     = "own"     // words of one's own
)

// A LabelAsk is what to make labels for.
type LabelAsk struct {
	What  string // one of the above
	Text  string // parts: words that all must be in them; devices, bags: the case
	Place string // places, parts: only this one
	Own   string // one label a line: title; more words
}

// A LabelText is what stands on one label.
type LabelText struct {
	Title string   `json:"title"`
	Lines []string `json:"lines"`
	Words string   `json:"words"` // for a code that is of use without this bench
	Path  string   `json:"path"`  // of the page about it
}

// mostLabelled bounds the parts labelled at once; mostLabelWords the bytes of a code.
const (
	mostLabelled   = 500
	mostLabelWords = 120
)

// Labels returns what stands on labels.
func (b *Bench) Labels(ctx context.Context, a LabelAsk) ([]LabelText, error) {
	var out []LabelText
	var err error
	switch a.What {
	case LabelPlaces, LabelParts:
		var page *shelf.List
		if page, err = b.Shelf(ctx, shelf.Ask{Text: a.Text, Place: a.Place, Most: mostLabelled}); err == nil {
			out = shelfLabels(a, page)
		}
	case LabelDevices, LabelBags:
		out, err = b.caseLabels(ctx, a)
	case LabelOwn:
		out, err = ownLabels(a.Own)
	default:
		err = fail(BadInput, "say places, parts, devices, bags or own", "labels are for none of these: %q", clip(a.What))
	}
	if err == nil && len(out) == 0 {
		err = fail(BadInput, "choose something else, or put something on the shelf first", "there is nothing to label")
	}
	return out, err
}

// labelText makes a label; empty lines are left out.
func labelText(path, title string, code []string, lines ...string) LabelText {
	words := joined(" · ", code...)
	if len(words) > mostLabelWords {
		words = strings.TrimSpace(strings.ToValidUTF8(words[:mostLabelWords], ""))
	}
	out := LabelText{Title: title, Lines: []string{}, Words: words, Path: path}
	for _, l := range lines {
		if l != "" {
			out.Lines = append(out.Lines, l)
		}
	}
	return out
}

func shelfLabels(a LabelAsk, page *shelf.List) []LabelText {
	var out []LabelText
	if a.What == LabelPlaces {
		for _, p := range page.Places {
			if a.Place == "" || p.Place == a.Place {
				sorts := "1 sort of part"
				if p.Lines != 1 {
					sorts = fmt.Sprintf("%d sorts of parts", p.Lines)
				}
				out = append(out, labelText("/shelf?place="+url.QueryEscape(p.Place), p.Place, []string{p.Place}, sorts))
			}
		}
		return out
	}
	for _, l := range page.Lines {
		from := joined(": ", l.From, l.Board)
		if l.From == stock.New {
			from = ""
		}
		out = append(out, labelText("/shelf/line/"+url.PathEscape(l.ID), l.Name, []string{l.ID, l.Name, l.Place}, l.ID, l.Place, from))
	}
	return out
}

func (b *Bench) caseLabels(ctx context.Context, a LabelAsk) ([]LabelText, error) {
	list, err := b.List(ctx)
	if err != nil {
		return nil, err
	}
	var out []LabelText
	for _, l := range list {
		if !l.Open() || a.Text != "" && l.Case != a.Text {
			continue
		}
		path := "/case/" + url.PathEscape(l.Case)
		if a.What == LabelDevices {
			in := "taken in " + b.day(l.Opened, "2 January 2006")
			kind := l.Kind
			if kind == l.Title {
				kind = ""
			}
			out = append(out, labelText(path, l.Title, []string{l.Case, l.Title, in}, l.Case, kind, in))
			continue
		}
		v, err := b.View(ctx, l.Case)
		if err != nil {
			return nil, err
		}
		out = append(out, bagLabels(path+"/rework", v)...)
	}
	return out, nil
}

// bagLabels are the bags that what was taken off a device lies in, and one more to write on.
func bagLabels(path string, v *View) []LabelText {
	var order []string
	in := map[string][]string{}
	for _, o := range v.Out {
		if _, seen := in[o.Where]; !seen {
			order = append(order, o.Where)
		}
		in[o.Where] = append(in[o.Where], o.Words())
	}
	h := v.Header
	var out []LabelText
	for _, where := range order {
		title := joined(": ", where, "off "+h.Title)
		out = append(out, labelText(path, title, append([]string{h.Case, h.Title, where}, in[where]...), append([]string{h.Case}, in[where]...)...))
	}
	return append(out, labelText(path, "Screws of "+h.Title, []string{h.Case, h.Title, "screws"}, h.Case, "from: ______________"))
}

func ownLabels(typed string) ([]LabelText, error) {
	var out []LabelText
	for _, line := range strings.Split(typed, "\n") {
		line, err := oneLine(line, "a label")
		if err != nil {
			return nil, err
		}
		title, rest, _ := strings.Cut(line, ";")
		title, rest = strings.TrimSpace(title), strings.TrimSpace(rest)
		if title == "" {
			title, rest = rest, ""
		}
		if title != "" {
			out = append(out, labelText("/shelf?place="+url.QueryEscape(title), title, []string{title, rest}, rest))
		}
	}
	return out, nil
}
