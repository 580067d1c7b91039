package browsertest

import (
	_ "embed"
	"strings"
	"testing"
)

//go:embed testdata/axe.min.js
var axe string

// overflow lists what sticks out sideways, widest first.
const overflow = `(() => {
	const w = document.documentElement.clientWidth;
	if (document.documentElement.scrollWidth <= w) return [];
	return [...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > w + 1 && !e.closest(".scroll"))
		.slice(0, 5).map(e => e.tagName + "." + e.className + " to " + Math.round(e.getBoundingClientRect().right));
})()`

// small lists targets under 48 px in height that stand on their own. Links
// within a sentence are exempt (WCAG 2.2, success criterion 2.5.8, "inline").
const small = `(() => [...document.querySelectorAll("a, button, input:not([type=radio]):not([type=checkbox]):not([type=hidden]), select, textarea, summary, .choices label, .tick")]
	.filter(e => e.checkVisibility() && !e.closest(".hide, .skip") && !(e.tagName == "A" && getComputedStyle(e).display == "inline"))
	.filter(e => e.getBoundingClientRect().height < 47.5).slice(0, 5).map(e => e.tagName + "." + e.className + " " + Math.round(e.getBoundingClientRect().height) + " px: " + e.textContent.trim().slice(0, 30)))()`

// violations runs axe-core with its WCAG A and AA rules and best practices.
const violations = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], resultTypes: ["violations"]})
	.then(r => r.violations.map(v => v.id + ": " + v.help + " | " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 140) + " " + (n.any[0]?.message ?? "")).join(" | ")))`

// sound checks the page shown.
func (b *tab) sound(where string) {
	b.t.Helper()
	if out := eval[[]string](b, overflow); len(out) > 0 {
		b.t.Errorf("%s scrolls sideways: %s", where, strings.Join(out, "; "))
	}
	if out := eval[[]string](b, small); len(out) > 0 {
		b.t.Errorf("%s has targets under 48 px: %s", where, strings.Join(out, "; "))
	}
}

// accessible opens every fold and runs axe.
func (b *tab) accessible(where string) {
	b.t.Helper()
	eval[bool](b, `(document.querySelectorAll("details").forEach(d => d.open = true), true)`)
	if !eval[bool](b, `typeof axe == "object"`) {
		eval[bool](b, axe+";true")
	}
	for _, v := range eval[[]string](b, violations) {
		b.t.Errorf("%s: %s", where, v)
	}
}

// screens are the gallery's addresses.
func (b *tab) screens() []string {
	b.open("/gallery")
	return eval[[]string](b, `[...document.querySelectorAll("main a")].map(a => a.getAttribute("href"))`)
}

// plain pages that are not in the gallery.
var plainPages = []string{"/", "/take-in", "/notes", "/notes?ask=speaker", "/notes/powered-loudspeaker", "/notes/kettle", "/settings", "/help", "/gallery", "/nowhere", "/case/demo", "/case/demo/moves", "/case/demo/look", "/case/demo/settings", "/case/demo/correct/1", "/case/demo/sheet"}

func TestEveryScreen(t *testing.T) {
	url := bench(t, true, true)
	b := browse(t, url)
	pages := append(b.screens(), plainPages...)
	if len(pages) < 40 {
		t.Fatalf("only %d screens", len(pages))
	}
	widths := []size{{"narrow", 360, 740}, {"phone", 390, 844}, {"tablet", 800, 1100}, {"desk", 1440, 900}}
	for _, p := range pages {
		b.media("light")
		b.open(p)
		for _, w := range widths {
			b.screen(w)
			b.sound(p + " at " + w.name)
		}
		b.screen(sizes[0])
		b.accessible(p + " light")
		b.media("dark")
		b.accessible(p + " dark")
	}
}

// TestPictures takes pictures of the screens; without -pictures there is nothing to do.
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("-pictures is not set")
	}
	url := bench(t, true, true)
	b := browse(t, url)
	pages := append(b.screens(), "/case/demo", "/notes/powered-loudspeaker", "/settings")
	for _, p := range pages {
		name := strings.Trim(strings.NewReplacer("/gallery/", "", "/", "-").Replace(p), "-")
		for _, s := range sizes {
			b.screen(s)
			b.media("light")
			b.open(p)
			b.picture(name+"-"+s.name, true)
			if p == "/gallery/case" || p == "/gallery/case-repair" {
				b.media("dark")
				b.picture(name+"-"+s.name+"-dark", true)
			}
		}
	}
	b.screen(size{"paper", 794, 1123}) // A4 at 96 dots to the inch
	b.paper()
	for _, p := range []string{"/gallery/sheet", "/gallery/case", "/case/demo/sheet"} {
		b.open(p)
		b.picture(strings.Trim(strings.NewReplacer("/gallery/", "", "/", "-").Replace(p), "-")+"-paper", true)
	}
}
