package web_test

import (
	"net/http"
	"testing"

	"fettler/internal/casework"
)

// What works though its fault is likely still there works for now, and the page says why.
func TestWorksForNow(t *testing.T) {
	v, b := visit(t)
	rec, err := b.Open(t.Context(), casework.Opening{Device: "kettle"}, casework.Noticing{Answers: []casework.Answer{{Finding: "base.wont-stay-on", Text: "yes"}}},
		casework.Repairing{What: "a good shake"}, casework.Testing{Works: true})
	if err != nil {
		t.Fatal(err)
	}
	v.get("/case/"+rec.Case).want(http.StatusOK).says("#next", "It works for now").says("main", "nothing was done that this note knows to cure it")
}
