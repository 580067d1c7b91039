package browsertest

import (
	"context"
	"flag"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"fettler/internal/casework"
	"fettler/internal/demo"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

var (
	pictures = flag.String("pictures", "", "folder to write pictures of the screens to")
	every    = flag.Bool("every", false, "write every picture, not only those the documents show")
)

// shown are the pictures in docs/pictures.
var shown = map[string]bool{"bench-desk": true, "live-case-phone": true, "live-bench-phone": true, "case-demo-desk": true, "case-repair-desk-dark": true,
	"case-strained-desk": true, "case-closed-desk": true, "check-reading-desk": true, "case-phone-dark": true, "sheet-paper": true}

// patience bounds one step in the browser: a page that takes so long is broken.
const patience = 60 * time.Second

// pause is how often a page is asked whether it is there.
const pause = 50 * time.Millisecond

// A size is a screen.
type size struct {
	name string
	w, h int64
}

var sizes = []size{{"phone", 390, 844}, {"desk", 1440, 900}}

// bench starts a server over a memory journal and the shipped notes.
func bench(t *testing.T, withDemo, gallery bool) string {
	t.Helper()
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b := casework.New(memory.New(), lib, casework.Options{})
	if withDemo {
		if _, err := demo.Install(t.Context(), b); err != nil {
			t.Fatal(err)
		}
	}
	return serve(t, b, web.Options{Notes: lib, Gallery: gallery, Version: "test"})
}

// serve starts a server over a bench.
func serve(t *testing.T, b *casework.Bench, o web.Options) string {
	t.Helper()
	s, err := web.New(b, o)
	if err != nil {
		t.Fatal(err)
	}
	mux := http.NewServeMux()
	s.Install(mux)
	srv := httptest.NewServer(mux)
	t.Cleanup(srv.Close)
	return srv.URL
}

// soundEverywhere looks whether the page that is open is sound on a narrow phone and
// at a desk, and accessible in both schemes.
func (c *tab) soundEverywhere(name string) {
	c.t.Helper()
	c.screen(size{"narrow", 360, 740})
	c.sound(name + " at 360")
	c.screen(sizes[1])
	c.sound(name + " at desk")
	for _, scheme := range []string{"light", "dark"} {
		c.media(scheme)
		c.accessible(name + " " + scheme)
	}
}

var chromium = sync.OnceValues(func() (string, error) {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome", "headless-shell"} {
		if p, err := exec.LookPath(name); err == nil {
			return p, nil
		}
	}
	return "", fmt.Errorf("no Chromium on the path: install it (Debian: apt-get install -y chromium), or set FETTLER_NO_BROWSER=1 to go without these tests")
})

// A tab is one page of a browser of its own.
type tab struct {
	t   *testing.T
	ctx context.Context
	url string
}

// browse starts a browser that opens pages below url.
func browse(t *testing.T, url string) *tab {
	t.Helper()
	if os.Getenv("FETTLER_NO_BROWSER") != "" {
		t.Skip("FETTLER_NO_BROWSER is set")
	}
	path, err := chromium()
	if err != nil {
		t.Fatal(err)
	}
	alloc, stop := chromedp.NewExecAllocator(t.Context(), chromedp.ExecPath(path), chromedp.Flag("headless", true), chromedp.Flag("no-sandbox", true),
		chromedp.Flag("disable-gpu", true), chromedp.Flag("disable-quic", true), chromedp.Flag("no-first-run", true),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true), chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("hide-scrollbars", true), chromedp.UserDataDir(t.TempDir()), chromedp.WSURLReadTimeout(patience))
	t.Cleanup(stop)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	// The browser lives as long as the context of the first step.
	if err := chromedp.Do(ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatalf("starting the browser: %v", err)
	}
	return &tab{t, ctx, url}
}

func (b *tab) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.t.Fatalf("%s: %v", what, err)
	}
}

func (b *tab) open(path string) { b.t.Helper(); b.do("open "+path, chromedp.Navigate(b.url+path)) }

func (b *tab) screen(s size) {
	b.t.Helper()
	b.do("set the screen", chromedp.EmulateViewport(s.w, s.h))
}

// media sets light or dark, and no motion so that nothing is in between.
func (b *tab) media(scheme string) {
	b.t.Helper()
	b.emulate(emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
}

// paper shows pages as they are printed.
func (b *tab) paper() { b.t.Helper(); b.emulate(emulation.SetEmulatedMediaParams{Media: "print"}) }

func (b *tab) emulate(p emulation.SetEmulatedMediaParams) {
	b.t.Helper()
	b.do("set the medium", chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, p)
		return err
	}))
}

func eval[T any](b *tab, js string) T {
	b.t.Helper()
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%.80s: %v", js, err)
	}
	return v
}

// picture writes what the browser shows, the whole page if full.
func (b *tab) picture(name string, full bool) {
	b.t.Helper()
	if *pictures == "" || !*every && !shown[name] {
		return
	}
	shot := chromedp.CaptureScreenshot()
	if full {
		shot = chromedp.FullScreenshot(100)
	}
	ctx, cancel := context.WithTimeout(b.ctx, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, shot)
	if err != nil {
		b.t.Fatalf("picture %s: %v", name, err)
	}
	if err := os.WriteFile(filepath.Join(*pictures, name+".png"), png, 0o644); err != nil {
		b.t.Fatal(err)
	}
}
