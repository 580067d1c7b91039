package browsertest

import "testing"

// TestParts looks whether the pages about a part in the hand are sound on a phone and at a desk, in both
// schemes, and whether bands are picked by tapping what is drawn.
func TestParts(t *testing.T) {
	c := browse(t, bench(t, true, true))
	for _, p := range []string{"part-first", "part-read", "part-polar", "part-bands", "part-instead-first", "part-instead", "part-like", "part-cap", "part-combine", "part-discharge"} {
		p = "/gallery/" + p
		c.media("light")
		c.open(p)
		c.soundEverywhere(p)
	}
	c.media("light")
	c.screen(size{"narrow", 360, 740})
	c.open("/parts/bands?bands=yellow,violet,red,gold&at=3")
	// the first band as drawn, at its middle
	const tap = `(() => { const b = document.querySelector(".resistor .hit").getBoundingClientRect(); const e = document.elementFromPoint(b.x + b.width / 2, b.y + b.height / 2).closest("a"); return e ? e.getAttribute("href") || e.href.baseVal : "" })()`
	href := eval[string](c, tap)
	c.open(href)
	if got := eval[string](c, `document.querySelector("#pick-title").textContent`); got != "Band 1 is the one to change" {
		t.Errorf("after tapping the first band it says %q", got)
	}
}
