package browsertest

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/notedesk"
	"fettler/internal/store/memory"
	"fettler/internal/web"
)

// TestWritingANote types a mistake into a note, looks whether the page says so
// while one types, and whether the pages for its author are sound on a phone.
func TestWritingANote(t *testing.T) {
	d, err := notedesk.Open(t.Context(), filepath.Join(t.TempDir(), "notes"))
	if err != nil {
		t.Fatal(err)
	}
	url := serve(t, casework.New(memory.New(), d, casework.Options{}), web.Options{Notes: d, Desk: d, Gallery: true})
	c := browse(t, url)
	c.media("light")
	c.screen(sizes[0])

	c.open("/write")
	c.until("the first look", `document.querySelector("#look h2").textContent === "It can be used"`)
	eval[bool](c, `(() => {
		const t = document.getElementById("text");
		t.value = t.value.replace("kind: switch", "kind: swich");
		return t.dispatchEvent(new Event("input", { bubbles: true }));
	})()`)
	c.until("the mistake is told", `document.querySelector("#look h2").textContent === "1 mistake"`)
	if got := eval[string](c, `document.querySelector("#look .problems").textContent`); !strings.Contains(got, "switch") || !strings.Contains(got, "7:11") {
		t.Errorf("the mistake is told as %q", got)
	}
	eval[bool](c, `(() => { document.querySelector("#look button.place").click(); return true; })()`)
	if got := eval[string](c, `(() => { const t = document.getElementById("text"); return t.value.slice(t.selectionStart, t.selectionEnd).slice(0, 5); })()`); got != "swich" {
		t.Errorf("it leads to %q", got)
	}

	pages := []string{"/write", "/assemble", "/notes", "/notes/powered-loudspeaker", "/blocks", "/blocks/flyback-supply",
		"/gallery/write-mistakes", "/gallery/write-taken", "/gallery/assemble-device", "/gallery/note-rehearsed"}
	for _, p := range pages {
		c.open(p)
		eval[bool](c, `(() => { document.querySelectorAll("details:not([id])").forEach(d => d.open = !d.querySelector(".notestep")); return true; })()`)
		c.soundEverywhere(p)
		c.media("light")
		c.picture("desk-"+strings.ReplaceAll(p[1:], "/", "-"), true)
		c.screen(sizes[0])
		c.picture("desk-"+strings.ReplaceAll(p[1:], "/", "-")+"-phone", true)
	}
}

// until waits for a condition of the page.
func (b *tab) until(what, js string) {
	b.t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		if eval[bool](b, js) {
			return
		}
	}
	b.t.Fatalf("%s: it never came to that", what)
}
