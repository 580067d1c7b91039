package browsertest

import "testing"

// TestAhead looks whether the pages on the decision are sound on a phone and at a desk, in both schemes,
// and whether the table of reasons scrolls inside itself.
func TestAhead(t *testing.T) {
	c := browse(t, bench(t, true, true))
	for _, p := range []string{"case-further", "ahead", "map", "why", "why-new", "what-if", "what-if-so"} {
		p = "/gallery/" + p
		c.media("light")
		c.open(p)
		c.screen(size{"narrow", 360, 740})
		c.sound(p + " at 360")
		if p == "/gallery/why" {
			if w := eval[float64](c, `(() => { const b = document.querySelector(".whytable"); return b.scrollWidth - b.clientWidth; })()`); w < 50 {
				t.Errorf("the table has no more than %g px to scroll on a phone", w)
			}
		}
		c.screen(sizes[1])
		c.sound(p + " at desk")
		for _, scheme := range []string{"light", "dark"} {
			c.media(scheme)
			c.accessible(p + " " + scheme)
		}
	}
}
