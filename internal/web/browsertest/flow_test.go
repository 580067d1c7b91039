package browsertest

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// arrived waits until the page that a form leads to is there.
func (b *tab) arrived(what, js string) {
	b.t.Helper()
	b.do(what, chromedp.WaitVisible(chromedp.CSS("h1")))
	ok := eval[bool](b, `new Promise(done => { const t = Date.now(); const look = () => (`+js+`) ? done(true) : Date.now() - t > 20000 ? done(false) : setTimeout(look, 30); look(); })`)
	if !ok {
		b.t.Fatalf("%s: %s does not come true on %s", what, js, eval[string](b, "location.href"))
	}
}

// click clicks the first element of the selector and waits for the page it leads to.
func (b *tab) click(selector string) {
	b.t.Helper()
	eval[bool](b, `(window.stale = true)`)
	b.do("click "+selector, chromedp.Click(chromedp.CSS(selector)))
	b.fresh(selector)
}

// fresh waits for another document than the one marked stale.
func (b *tab) fresh(what string) {
	b.t.Helper()
	for range 600 {
		// The evaluation may hit the moment between two documents; then it is asked again.
		v, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](`!window.stale && document.readyState == "complete"`))
		if err == nil && v {
			return
		}
		if b.ctx.Err() != nil {
			break
		}
		b.do("wait", chromedp.Sleep(pause))
	}
	b.t.Fatalf("%s leads nowhere from %s", what, eval[string](b, "location.href"))
}

func (b *tab) keys(keys string) {
	b.t.Helper()
	b.do("type", chromedp.KeyEvent(keys))
}

// focused names the element that has the focus, and says whether that shows.
func (b *tab) focused() string {
	b.t.Helper()
	return eval[string](b, `(() => { const e = document.activeElement; const o = getComputedStyle(e);
		return e.tagName + (e.id ? "#" + e.id : "") + (o.outlineStyle != "none" && parseFloat(o.outlineWidth) >= 2 ? " ring" : " no ring"); })()`)
}

// TestClickThrough repairs the demonstration device by clicking, on both screens.
func TestClickThrough(t *testing.T) {
	for _, s := range sizes {
		t.Run(s.name, func(t *testing.T) {
			url := bench(t, true, false)
			b := browse(t, url)
			b.screen(s)
			b.open("/")
			b.picture("live-bench-"+s.name, false)
			b.click("a.case")
			b.sound("the case")
			b.picture("live-case-"+s.name, false)
			b.click(".quickask button[value=no]")
			b.arrived("answering", `document.querySelector(".flash[role=status]") != null`)
			b.click(".flash button")
			b.open("/case/demo/moves")
			b.click(".lines a")
			b.sound("the best move")
			b.open("/case/demo/repair")
			eval[bool](b, `(document.querySelector("#what").value = "changed both reservoirs", true)`)
			b.click("button.main")
			b.arrived("repairing", `document.querySelector(".tag.strong").textContent.includes("tested")`)
			b.sound("after a repair")
			b.picture("live-to-test-"+s.name, false)
			b.open("/case/demo/test")
			eval[bool](b, `(document.querySelector("input[name=works][value=yes]").click(), true)`)
			b.click("button.main")
			b.open("/case/demo/close?verdict=fixed")
			b.click("button.main")
			b.arrived("closing", `document.querySelector("#outcome") != null`)
			b.sound("the closed case")
			b.picture("live-closed-"+s.name, false)
		})
	}
}

// TestKeyboardOnly takes in a device and answers a question without a pointer.
func TestKeyboardOnly(t *testing.T) {
	url := bench(t, false, false)
	b := browse(t, url)
	b.screen(sizes[1])
	b.open("/")
	b.keys("\t")
	if got := b.focused(); !strings.HasPrefix(got, "A") || !strings.HasSuffix(got, " ring") {
		t.Fatalf("the first tab leads to %q, want the skip link with a ring", got)
	}
	b.keys("/")
	if got := b.focused(); got != "TEXTAREA#what ring" {
		t.Fatalf("/ leads to %q, want the say-box", got)
	}
	b.keys("does not heat")
	b.do("back one", chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
	b.keys("kettle")
	eval[bool](b, `(window.stale = true)`)
	b.keys(kb.Enter)
	b.fresh("Enter in the first box")
	if got := eval[string](b, "location.pathname"); !strings.HasPrefix(got, "/case/") {
		t.Fatalf("Enter leads to %s, want the case", got)
	}
	walk(t, b, `document.activeElement.closest(".stubs")?.querySelector("button:not([tabindex]), a") === document.activeElement || document.activeElement.closest(".stubs label")`)
	b.keys("/")
	if got := b.focused(); got != "INPUT#say ring" {
		t.Fatalf("/ leads to %q on the case, want the say-box", got)
	}
	eval[bool](b, `(window.stale = true)`)
	b.keys("it switches off at once" + kb.Enter)
	b.fresh("Enter in the say-box")
	if got := eval[string](b, "location.search"); !strings.HasPrefix(got, "?heard=") {
		t.Errorf("saying leads to %q, want what was heard", got)
	}
}

// walk tabs from the top until js is true, checking that the focus always shows.
func walk(t *testing.T, b *tab, js string) {
	t.Helper()
	eval[bool](b, `(document.activeElement.blur(), true)`)
	for range 80 {
		b.keys("\t")
		if got := b.focused(); strings.HasPrefix(got, "BODY") {
			continue
		} else if !strings.HasSuffix(got, " ring") && !eval[bool](b, `!!document.activeElement.closest("label")`) {
			t.Errorf("the focus on %s does not show", got)
		}
		if eval[bool](b, "!!("+js+")") {
			return
		}
	}
	t.Fatalf("80 tabs do not reach %s", js)
}
