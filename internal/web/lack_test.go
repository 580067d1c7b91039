package web_test

import (
	"net/http"
	"slices"
	"strings"
	"testing"
)

// A tool that is not here is said so at the move that asks for it, and the next move does without.
func TestLackAtTheMove(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "cordless vacuum cleaner", "what", "stops after a few seconds").want(http.StatusOK)
	id := strings.TrimPrefix(p.path, "/case/")
	x, err := b.View(t.Context(), id)
	if err != nil {
		t.Fatal(err)
	}
	tools := x.Next.Tools()
	if len(tools) == 0 {
		t.Skipf("“%s” takes no tool", x.Next.Title)
	}
	p.submit(p.path+"/lack", "tool", tools[0]).want(http.StatusOK).says(".flash", "no "+tools[0])
	if x, err = b.View(t.Context(), id); err != nil {
		t.Fatal(err)
	}
	if x.Next != nil && slices.Contains(x.Next.Tools(), tools[0]) {
		t.Errorf("“%s” takes the %s that is not here", x.Next.Title, tools[0])
	}
}
