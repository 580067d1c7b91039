package web

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"fettler/internal/casework"
	"fettler/internal/quantity"
)

// percent is a chance as a figure: "46 %", "under 1 %".
func percent(p float64) string {
	switch {
	case math.IsNaN(p) || p < 0 || p > 1.0000001:
		return "no figure"
	case p < 0.0005:
		return "about 0 %"
	case p < 0.01:
		return "under 1 %"
	case p > 0.99 && p < 0.9995:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

// likely is a chance in words. The steps are our own; the figure always stands beside them.
func likely(p float64) string {
	switch {
	case p >= 0.95:
		return "almost certain"
	case p >= 0.75:
		return "very likely"
	case p >= 0.55:
		return "likely"
	case p >= 0.45:
		return "as likely as not"
	case p >= 0.25:
		return "quite possible"
	case p >= 0.1:
		return "possible"
	case p >= 0.02:
		return "unlikely"
	}
	return "very unlikely"
}

// minutes is a length of work: "12 min", "1 h 20 min".
func minutes(m float64) string {
	switch {
	case m <= 0 || math.IsNaN(m):
		return "0 min"
	case m < 1:
		return "under 1 min"
	case m < 99.5:
		return fmt.Sprintf("%.0f min", m)
	}
	n := int(math.Round(m))
	if n%60 == 0 {
		return fmt.Sprintf("%d h", n/60)
	}
	return fmt.Sprintf("%d h %d min", n/60, n%60)
}

// money is an amount that is paid or was, to the hundredth; casework.Coins says reckoned ones.
func money(v float64, currency string) string {
	return quantity.Format(math.Round(v*100)/100, currency, 6)
}

// closing is the minutes that closing these levels takes.
func closing(levels []casework.Level) float64 {
	sum := 0.0
	for _, l := range levels {
		sum += l.Close
	}
	return sum
}

// nearly says that so much more money is nearly nothing: a minute of one's own time.
func nearly(v, rate float64) bool { return v < max(rate/60, 0.05) }

// figure is a number as one types it, empty for 0.
func figure(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// coins is an amount of money as one types it, empty for 0.
func coins(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', 2, 64)
}

func years(v float64) string {
	if v == 1 {
		return "1 year old"
	}
	return strconv.FormatFloat(v, 'f', -1, 64) + " years old"
}

func when(t time.Time) string  { return t.Local().Format("Mon 2 Jan, 15:04") }
func day(t time.Time) string   { return t.Local().Format("2 January 2006") }
func stamp(t time.Time) string { return t.UTC().Format(time.RFC3339) }

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// sentence is s with a capital and a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	s = capital(s)
	if strings.ContainsRune(".!?…", rune(s[len(s)-1])) || strings.HasSuffix(s, "…") || strings.HasSuffix(s, ".”") {
		return s
	}
	return s + "."
}

// count is "1 case", "3 cases".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// reasonMark is the sign before a reason: for, against, or neither.
func reasonMark(factor float64) string {
	switch {
	case factor > 1.05:
		return "+"
	case factor < 0.95:
		return "−"
	}
	return "="
}
