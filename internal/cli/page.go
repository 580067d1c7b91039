package cli

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"fettler/internal/quantity"
	"fettler/internal/report"
)

// width is what plain output fits into.
const width = 80

// A page is plain text on its way out. Errors of the writer show when it is flushed.
type page struct {
	w    io.Writer
	bold bool
}

// line writes one line, or several parted by line feeds.
func (p *page) line(s string) { fmt.Fprintln(p.w, strings.TrimRight(seen(s), " ")) }

// seen is s without what a terminal would obey instead of showing: others write the
// labels, remarks and notes that come in here, and an escape sequence can hide or feign lines.
func seen(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\t' && r != '\n' {
			return utf8.RuneError
		}
		return r
	}, s)
}

// gap writes an empty line.
func (p *page) gap() { fmt.Fprintln(p.w) }

// head writes a heading.
func (p *page) head(format string, args ...any) {
	s := strings.TrimRight(seen(fmt.Sprintf(format, args...)), " ")
	if p.bold {
		s = "\x1b[1m" + s + "\x1b[0m"
	}
	fmt.Fprintln(p.w, s)
}

// para writes text after a lead, folded, its further lines under its first.
func (p *page) para(lead, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	for i, l := range report.Fold(text, width-utf8.RuneCountInString(lead)) {
		if i > 0 {
			lead = indent
		}
		p.line(lead + l)
	}
}

// percent is a chance in words of figures; only what is certain is 0 or 100 %.
func percent(p float64) string {
	switch r := math.Round(100 * p); {
	case p > 0 && r < 1:
		return "<1 %"
	case p < 1 && r > 99:
		return ">99 %"
	default:
		return fmt.Sprintf("%.0f %%", r)
	}
}

// minutes is a time at the bench.
func minutes(m float64) string {
	n := int(math.Round(m))
	if n < 60 {
		return fmt.Sprintf("%d min", n)
	}
	return fmt.Sprintf("%d h %02d min", n/60, n%60)
}

// money is an amount.
func money(v float64, currency string) string {
	return quantity.Format(math.Round(v*100)/100, currency, 6)
}

// plural counts things.
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
