package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// Sizes in mm and points.
const (
	pdfMargin = 20.0
	pdfWidth  = 170.0
	pdfLine   = 5.2
	pdfText   = 10.5
)

// A sheet is a PDF in the making.
type sheet struct {
	*fpdf.Fpdf
	cp func(string) string
}

// PDF writes the story as A4 pages. The same story gives the same bytes.
func (s *Story) PDF(w io.Writer) error {
	p := sheet{Fpdf: fpdf.New("P", "mm", "A4", "")}
	code := p.UnicodeTranslatorFromDescriptor("")
	p.cp = func(t string) string { return code(spelt(t)) }
	p.SetMargins(pdfMargin, pdfMargin, pdfMargin)
	p.SetAutoPageBreak(true, pdfMargin)
	p.SetTitle(s.Title, true)
	p.SetCreationDate(time.Unix(0, 0).UTC())
	p.SetModificationDate(time.Unix(0, 0).UTC())
	p.SetCatalogSort(true)
	p.SetFooterFunc(func() {
		p.SetY(-12)
		p.SetFont("Helvetica", "", 8)
		p.SetTextColor(90, 90, 90)
		p.CellFormat(0, 5, p.cp(fmt.Sprintf("%s, page %d", s.Title, p.PageNo())), "", 0, "C", false, 0, "")
		p.SetTextColor(0, 0, 0)
	})
	p.AddPage()
	p.head(s)
	for _, x := range s.Sections {
		p.section(x)
	}
	p.pictures(s.Pictures)
	p.Ln(4)
	p.SetTextColor(90, 90, 90)
	p.para("", 9, s.Foot)
	if err := p.Output(w); err != nil {
		return fmt.Errorf("writing the PDF: %w", err)
	}
	return nil
}

func (p sheet) para(style string, size float64, text string) {
	p.SetFont("Helvetica", style, size)
	p.MultiCell(0, size*pdfLine/pdfText, p.cp(text), "", "L", false)
}

func (p sheet) head(s *Story) {
	p.para("B", 20, s.Title)
	p.Ln(1)
	p.para("B", 12, s.Lead)
	facts := strings.Join(s.Facts, " · ")
	if s.Invented {
		facts += " · an invented case, for show"
	}
	p.para("", 9.5, facts)
	p.Ln(2)
	for _, c := range s.Cautions {
		p.caution(c)
	}
}

// caution is set beside a thick bar.
func (p sheet) caution(text string) {
	p.SetFont("Helvetica", "", 9.5)
	lines := p.SplitText(p.cp(text), pdfWidth-6)
	h := float64(len(lines)) * 4.6
	if _, page := p.GetPageSize(); p.GetY()+h > page-pdfMargin {
		p.AddPage()
	}
	y := p.GetY()
	p.SetFillColor(60, 45, 10)
	p.Rect(pdfMargin, y+0.4, 2, h, "F")
	p.SetX(pdfMargin + 6)
	p.MultiCell(pdfWidth-6, 4.6, p.cp(text), "", "L", false)
	p.Ln(1.6)
}

func (p sheet) section(x Section) {
	if _, page := p.GetPageSize(); p.GetY() > page-pdfMargin-25 {
		p.AddPage()
	}
	p.Ln(4)
	p.para("B", 14, x.Title)
	p.Line(pdfMargin, p.GetY(), pdfMargin+pdfWidth, p.GetY())
	p.Ln(1.5)
	for _, t := range x.Text {
		p.para("", pdfText, t)
		p.Ln(1)
	}
	for _, l := range x.List {
		p.SetFont("Helvetica", "", pdfText)
		p.CellFormat(5, pdfLine, p.cp("·"), "", 0, "L", false, 0, "")
		p.MultiCell(0, pdfLine, p.cp(l), "", "L", false)
	}
	if len(x.After) > 0 {
		p.Ln(1)
	}
	for _, t := range x.After {
		p.para("", pdfText, t)
		p.Ln(1)
	}
	for i, st := range x.Steps {
		if _, page := p.GetPageSize(); p.GetY() > page-pdfMargin-30 {
			p.AddPage()
		}
		p.Ln(1.5)
		p.para("B", 11, fmt.Sprintf("%d. %s", i+1, st.Title))
		for _, c := range st.Cautions {
			p.caution(c)
		}
		for _, l := range st.Lines {
			p.SetFont("Helvetica", "B", pdfText)
			p.CellFormat(24, pdfLine, p.cp(l.Name), "", 0, "L", false, 0, "")
			p.SetFont("Helvetica", "", pdfText)
			p.MultiCell(0, pdfLine, p.cp(l.Text), "", "L", false)
		}
	}
}

func (p sheet) pictures(list []Picture) {
	for i, x := range list {
		name := fmt.Sprintf("picture %d", i)
		info := p.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "JPG"}, bytes.NewReader(x.JPEG))
		if p.Err() || info == nil || !(info.Width() > 0 && info.Height() > 0) {
			p.ClearError() // not a JPEG that can be set: the caption stands alone
			p.para("", pdfText, x.Caption)
			continue
		}
		h := min(110, pdfWidth*info.Height()/info.Width())
		w := h * info.Width() / info.Height()
		if _, page := p.GetPageSize(); p.GetY()+h+8 > page-pdfMargin {
			p.AddPage()
		}
		p.Ln(3)
		p.ImageOptions(name, pdfMargin, p.GetY(), w, h, true, fpdf.ImageOptions{ImageType: "JPG"}, 0, "")
		p.para("", 9, x.Caption)
		for _, m := range x.Marks {
			p.para("", 9, "   "+m)
		}
	}
}

// spelt replaces what Windows-1252 does not have and a bench writes often.
var spelt = strings.NewReplacer("Ω", "ohm", "Ω", "ohm", "≥", ">=", "≤", "<=", "→", "->", "−", "-", "≈", "about ", "₂", "2", "μ", "µ", "\u2009", " ", "\u202f", " ", "√", "root ", "∞", "infinite", "Δ", "delta ", "π", "pi", "λ", "lambda", "η", "eta").Replace
