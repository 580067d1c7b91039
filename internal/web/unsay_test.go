package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// TestNotMeant takes one of the things that a sentence was read as away, by the
// button beside it; the other one stays.
func TestNotMeant(t *testing.T) {
	v, _ := visit(t)
	p := v.get("/").submit("/take-in", "device", "kettle", "what", "leaks from the bottom and trips the electrics").want(http.StatusOK)
	p.says("#said", "leaks").says("#said", "trips the breaker")
	path := strings.SplitN(p.path, "?", 2)[0]
	buttons := p.all("#said button")
	if len(buttons) != 2 {
		t.Fatalf("%d buttons beside what was understood, want 2", len(buttons))
	}
	form := url.Values{"heard": {"2"}, "finding": {attrOf(buttons[1], "value")}}
	p = v.post(path+"/unsay", form).want(http.StatusOK)
	p.says("#said", "leaks")
	if strings.Contains(p.text("#said"), "trips the breaker") || strings.Contains(p.text("#known"), "trips the breaker") {
		t.Errorf("it is still there: %q", p.text("#said"))
	}
	for _, f := range []url.Values{{"heard": {"1"}, "finding": {"trips"}}, {"heard": {"x"}}, {"heard": {"2"}, "finding": {"nonsense"}}} {
		v.post(path+"/unsay", f).want(http.StatusNotFound)
	}
}
