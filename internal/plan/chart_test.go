package plan_test

import (
	"flag"
	"fmt"
	"html"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the pictures of docs/decision.md anew; together with a long run, see there")

// A chart is a picture with a few curves, drawn so that it reads in black and white: curves differ in
// their marks and dashes, and each is named where it ends.
type chart struct {
	title, across, up string
	x, y              axis
	curves            []curve
	diagonal          bool
}

type axis struct {
	low, high float64
	log       bool
	ticks     []float64
	label     func(v float64) string
}

func (a axis) at(v float64) float64 {
	if a.log {
		return math.Log(v/a.low) / math.Log(a.high/a.low)
	}
	return (v - a.low) / (a.high - a.low)
}

type curve struct {
	name string
	dash string
	mark byte // 'o' open, 'f' filled, 's' square
	at   []dot
}

// A dot may carry bars from low to high.
type dot struct{ x, y, low, high float64 }

// svg draws the chart.
func (c chart) svg() string {
	const wide, high, left, top, right, bottom = 620.0, 420.0, 64.0, 44.0, 150.0, 56.0
	px := func(v float64) float64 { return left + c.x.at(v)*(wide-left-right) }
	py := func(v float64) float64 { return high - bottom - c.y.at(v)*(high-top-bottom) }
	var b strings.Builder
	p := func(f string, a ...any) { fmt.Fprintf(&b, f+"\n", a...) }
	p(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" width="%.0f" height="%.0f" role="img" font-family="system-ui, sans-serif" font-size="12" fill="#222">`, wide, high, wide, high)
	p(`<title>%s</title>`, html.EscapeString(c.title))
	p(`<rect width="100%%" height="100%%" fill="#fff"/>`)
	p(`<text x="%.0f" y="22" font-size="14" font-weight="600">%s</text>`, left, html.EscapeString(c.title))
	for _, v := range c.x.ticks {
		p(`<path d="M%.1f %.1fV%.1f" stroke="#ddd"/><text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`, px(v), top, high-bottom, px(v), high-bottom+16, c.x.label(v))
	}
	for _, v := range c.y.ticks {
		p(`<path d="M%.1f %.1fH%.1f" stroke="#ddd"/><text x="%.1f" y="%.1f" text-anchor="end">%s</text>`, left, py(v), wide-right, left-6, py(v)+4, c.y.label(v))
	}
	p(`<text x="%.1f" y="%.1f" text-anchor="middle">%s</text>`, (left+wide-right)/2, high-16, html.EscapeString(c.across))
	p(`<text x="16" y="%.1f" text-anchor="middle" transform="rotate(-90 16 %.1f)">%s</text>`, (top+high-bottom)/2, (top+high-bottom)/2, html.EscapeString(c.up))
	if c.diagonal {
		p(`<path d="M%.1f %.1fL%.1f %.1f" stroke="#888" stroke-dasharray="2 4"/>`, px(c.x.low), py(c.y.low), px(c.x.high), py(c.y.high))
	}
	taken := map[int]bool{}
	for _, k := range c.curves {
		var path []string
		for _, d := range k.at {
			path = append(path, fmt.Sprintf("%.1f,%.1f", px(d.x), py(d.y)))
			if d.high > d.low {
				p(`<path d="M%.1f %.1fV%.1f" stroke="#555"/>`, px(d.x), py(d.low), py(d.high))
			}
		}
		dash := ""
		if k.dash != "" {
			dash = fmt.Sprintf(` stroke-dasharray="%s"`, k.dash)
		}
		p(`<polyline points="%s" fill="none" stroke="#222" stroke-width="1.5"%s/>`, strings.Join(path, " "), dash)
		for _, d := range k.at {
			p("%s", k.sign(px(d.x), py(d.y)))
		}
		last := k.at[len(k.at)-1]
		row := int(py(last.y) / 16)
		for taken[row] {
			row++
		}
		taken[row] = true
		p("%s", k.sign(wide-right+14, float64(row*16)))
		p(`<text x="%.1f" y="%d">%s</text>`, wide-right+24, row*16+4, html.EscapeString(k.name))
	}
	p(`</svg>`)
	return b.String()
}

func (k curve) sign(x, y float64) string {
	switch k.mark {
	case 'f':
		return fmt.Sprintf(`<circle cx="%.1f" cy="%.1f" r="4"/>`, x, y)
	case 's':
		return fmt.Sprintf(`<rect x="%.1f" y="%.1f" width="7" height="7" fill="#fff" stroke="#222" stroke-width="1.5"/>`, x-3.5, y-3.5)
	case 'x':
		return fmt.Sprintf(`<path d="M%.1f %.1fl7 7m0 -7l-7 7" stroke="#222" stroke-width="1.5"/>`, x-3.5, y-3.5)
	default:
		return fmt.Sprintf(`<circle cx="%.1f" cy="%.1f" r="4" fill="#fff" stroke="#222" stroke-width="1.5"/>`, x, y)
	}
}

// keep writes a picture among those of the documentation if asked to.
func keep(t testing.TB, name string, c chart) {
	t.Helper()
	svg := c.svg()
	if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
		t.Errorf("%s has a figure that is not a number", name)
	}
	if !*update {
		return
	}
	if err := os.WriteFile(filepath.Join("..", "..", "docs", "pictures", name), []byte(svg), 0o644); err != nil {
		t.Fatal(err)
	}
}
