package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
)

// A tool that is not here is said so at the case, and no move that can be made takes it.
func TestLackAtTheMove(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "kettle", "what", "does not heat").want(http.StatusOK)
	id := strings.TrimPrefix(p.path, "/case/")
	v.post(p.path+"/lack", map[string][]string{"tool": {"multimeter"}}).want(http.StatusOK).says(".flash", "no multimeter")
	x, err := b.View(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range x.Ranking {
		if c.Blocked == "" && slices.Contains(c.Tools(), "multimeter") {
			t.Errorf("“%s” takes the multimeter that is not here", c.Title)
		}
	}
}
