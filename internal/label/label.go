// Package label makes sheets of labels with QR codes to print: for drawers, bags of
// screws, devices. A sheet is one SVG in millimetres, at the size of the paper.
//
// Start at Sheets. A code holds a link or a few words as text, at error correction M (a
// code still reads with about 15 % of it damaged), with the quiet zone of four modules the
// standard asks for. A module is as large as the label allows; under 0.35 mm (a common limit
// of phone cameras, common practice, no source) the error says so instead of printing
// what cannot be read.
//
// Everything is pure: text in, SVG out, or an error with a sentence.
//
// References: ISO/IEC 18004 (QR code: quiet zone, error correction levels);
// ISO 216 (A4 is 210 mm × 297 mm).
package label

import (
	"encoding/xml"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/boombuler/barcode/qr"
)

// A Label is one label.
type Label struct {
	Code  string // link or words in the QR code
	Title string // large: "drawer 3"
	Lines []string
}

// A Paper is how labels lie on a sheet, in millimetres. The zero value is A4 with
// three columns and eight rows.
type Paper struct {
	Width, Height float64
	Columns, Rows int
	Margin        float64 // around all labels
	Used          int     // labels already gone from the first sheet, row by row
}

func (p Paper) filled() Paper {
	if used := p.Used; p == (Paper{Used: used}) {
		return Paper{210, 297, 3, 8, 8, used}
	}
	return p
}

// Bounds.
const (
	MostLabels  = 2000
	mostCode    = 300 // bytes
	leastModule = 0.35
	quiet       = 4 // modules
)

// Code is a QR code as rows of modules, true is dark, without the quiet zone.
func Code(text string) ([][]bool, error) {
	if text == "" || len(text) > mostCode || !utf8.ValidString(text) {
		return nil, fmt.Errorf("a code holds 1 to %d bytes of text; shorten the link", mostCode)
	}
	c, err := qr.Encode(text, qr.M, qr.Auto)
	if err != nil {
		return nil, fmt.Errorf("%q cannot be made a code: %w", text, err)
	}
	n := c.Bounds().Dx()
	out := make([][]bool, n)
	for y := range out {
		out[y] = make([]bool, n)
		for x := range out[y] {
			r, _, _, _ := c.At(c.Bounds().Min.X+x, c.Bounds().Min.Y+y).RGBA()
			out[y][x] = r < 0x8000
		}
	}
	return out, nil
}

// Sheets lays labels out, one SVG per sheet of paper.
func Sheets(labels []Label, p Paper) ([]string, error) {
	p = p.filled()
	if len(labels) > MostLabels {
		return nil, fmt.Errorf("%d labels are too many at once; print at most %d", len(labels), MostLabels)
	}
	if !(p.Width >= 30 && p.Width <= 1000 && p.Height >= 30 && p.Height <= 1500 && p.Margin >= 0 && 2*p.Margin < min(p.Width, p.Height)) || p.Columns < 1 || p.Rows < 1 || p.Columns > 20 || p.Rows > 50 {
		return nil, fmt.Errorf("such paper cannot be printed on: give width and height in mm, 1 to 20 columns and 1 to 50 rows")
	}
	each := p.Columns * p.Rows
	if p.Used < 0 || p.Used >= each {
		return nil, fmt.Errorf("a sheet has %d labels; begin at one from 1 to %d", each, each)
	}
	var out []string
	for from := 0; from < len(labels); {
		n := min(each-p.Used, len(labels)-from)
		s, err := p.sheet(labels[from : from+n])
		if err != nil {
			return nil, err
		}
		out, from, p.Used = append(out, s), from+n, 0
	}
	return out, nil
}

func (p Paper) sheet(labels []Label) (string, error) {
	var s strings.Builder
	fmt.Fprintf(&s, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g" role="img" aria-label="%d labels">`, p.Width, p.Height, p.Width, p.Height, len(labels))
	fmt.Fprintf(&s, `<rect width="%g" height="%g" fill="#fff"/>`, p.Width, p.Height)
	w, h := (p.Width-2*p.Margin)/float64(p.Columns), (p.Height-2*p.Margin)/float64(p.Rows)
	for i, l := range labels {
		at := i + p.Used
		x, y := p.Margin+w*float64(at%p.Columns), p.Margin+h*float64(at/p.Columns)
		if err := draw(&s, l, x, y, w, h); err != nil {
			return "", err
		}
	}
	s.WriteString(`</svg>`)
	return s.String(), nil
}

// draw puts a label into its box: the code at the left, words beside it.
func draw(s *strings.Builder, l Label, x, y, w, h float64) error {
	code, err := Code(l.Code)
	if err != nil {
		return err
	}
	side := min(h-2, w*0.55)
	module := side / float64(len(code)+2*quiet)
	if module < leastModule {
		return fmt.Errorf("the code of %q would be too fine to read: %.2f mm a dot; take fewer, larger labels or a shorter link", l.Title, module)
	}
	fmt.Fprintf(s, `<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="none" stroke="#bbb" stroke-width=".15" stroke-dasharray="1 1"/>`, x, y, w, h)
	left, top := x+1+quiet*module, y+(h-side)/2+quiet*module
	s.WriteString(`<path fill="#000" d="`)
	for r, row := range code {
		for c := 0; c < len(row); c++ {
			if !row[c] {
				continue
			}
			run := c
			for run < len(row) && row[run] {
				run++
			}
			fmt.Fprintf(s, "M%.3f %.3fh%.3fv%.3fh-%.3fz", left+float64(c)*module, top+float64(r)*module, float64(run-c)*module, module, float64(run-c)*module)
			c = run
		}
	}
	s.WriteString(`"/>`)
	words(s, l, x+side+1.5, y, w-side-2.5, h)
	return nil
}

// words writes title and lines, folded to the width at the usual half em a letter.
func words(s *strings.Builder, l Label, x, y, w, h float64) {
	at := y + 6
	line := func(text string, size float64, bold bool, most int) {
		n := max(4, int(w/(size*0.54)))
		for i, t := range fold(text, n) {
			if i == most || at > y+h-1 {
				return
			}
			weight := ""
			if bold {
				weight = ` font-weight="700"`
			}
			fmt.Fprintf(s, `<text x="%.2f" y="%.2f" font-size="%.2f" font-family="sans-serif" fill="#000"%s>%s</text>`, x, at, size, weight, escape(t))
			at += size * 1.2
		}
	}
	size, most := titleSize(l.Title, w, h)
	line(l.Title, size, true, most)
	for _, t := range l.Lines {
		line(t, 2.9, false, 3)
	}
}

// titleSize is the largest letters in which a title fits into half the label's height, and the lines it may
// take: the last word is often the one that counts.
func titleSize(title string, w, h float64) (size float64, most int) {
	for size = 4.4; ; size -= 0.4 {
		most = max(1, int(h*0.62/(size*1.2)))
		if size < 2.6 || len(fold(title, max(4, int(w/(size*0.54))))) <= most {
			return size, most
		}
	}
}

// fold breaks text into lines of at most n letters, long words apart.
func fold(text string, n int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		for utf8.RuneCountInString(w) > n {
			if line != "" {
				out, line = append(out, line), ""
			}
			r := []rune(w)
			out, w = append(out, string(r[:n])), string(r[n:])
		}
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) <= n:
			line += " " + w
		default:
			out, line = append(out, line), w
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

func escape(s string) string {
	var b strings.Builder
	if xml.EscapeText(&b, []byte(s)) != nil {
		return ""
	}
	return b.String()
}
