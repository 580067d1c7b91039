package web

import (
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"math"
	"net/url"
	"path"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/openrepair"
	"fettler/internal/quantity"
)

//go:embed all:pages
var pageFiles embed.FS

// parsePages makes one template set per page: the files that begin with "_"
// are parts shared by all, every other file is a page.
func parsePages() (map[string]*template.Template, error) {
	parts, err := template.New("").Funcs(funcs).ParseFS(pageFiles, "pages/_*.html")
	if err != nil {
		return nil, err
	}
	names, err := fs.Glob(pageFiles, "pages/*.html")
	if err != nil {
		return nil, err
	}
	pages := map[string]*template.Template{}
	for _, n := range names {
		name := strings.TrimSuffix(path.Base(n), ".html")
		if strings.HasPrefix(name, "_") {
			continue
		}
		t, err := parts.Clone()
		if err == nil {
			t, err = t.ParseFS(pageFiles, n)
		}
		if err == nil && t.Lookup("main") == nil {
			err = fmt.Errorf("it defines no main")
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", n, err)
		}
		pages[name] = t
	}
	return pages, nil
}

// funcs are how values are put into words on every page.
var funcs = template.FuncMap{
	"percent":      percent,
	"amends":       amends,
	"likely":       likely,
	"minutes":      minutes,
	"money":        money,
	"coins":        casework.Coins,
	"nearly":       nearly,
	"under":        func(from, title string) string { return strings.TrimPrefix(title, from+": ") },
	"closing":      closing,
	"shown":        shownResults,
	"figure":       figure,
	"plain":        quantity.Plain,
	"days":         quantity.Days,
	"round":        math.Round,
	"when":         when,
	"day":          day,
	"clock":        stamp,
	"capital":      capital,
	"sentence":     sentence,
	"join":         strings.Join,
	"count":        count,
	"tape":         newTape,
	"mark":         reasonMark,
	"years":        years,
	"moved":        moved,
	"add":          func(a, b int) int { return a + b },
	"casepath":     casePath,
	"barriers":     openrepair.Barriers,
	"pointresults": casework.PointResults,
	"timeunits":    func() []string { return []string{"minutes", "hours", "days"} },
	"span":         factorSpan,
	"neg":          func(v float64) float64 { return -v },
	"shift":        func(a, b float64) float64 { return a + b },
	"pair":         func(a, b any) [2]any { return [2]any{a, b} },

	"unit":      unitBeside,
	"band":      newBand,
	"certain":   certain,
	"spotdoes":  spotDoes,
	"spottakes": spotTakes,

	"insteadpath": func(part string) string { return "/parts/instead?part=" + url.QueryEscape(part) },
	"stockpath":   func(part string) string { return "/shelf?name=" + url.QueryEscape(part) + "#new" },
}
