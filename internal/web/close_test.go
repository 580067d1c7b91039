package web_test

import (
	"net/http"
	"strings"
	"testing"

	"fettler/internal/casework"
)

// The page asks for the test of the result, closes all the same for whoever means
// it, and then says that it is missing.
func TestClosingWithoutATest(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "powered loudspeaker").want(http.StatusOK)
	id := strings.TrimPrefix(p.path, "/case/")
	if _, err := b.RecordRepair(t.Context(), id, casework.Repairing{Repair: "supply.recap"}); err != nil {
		t.Fatal(err)
	}
	end := p.path + "/close"
	form := v.get(end).want(http.StatusOK).says(".caution", "Nothing has been tried since the repair")
	asked := form.submit(end, "verdict", "fixed").want(http.StatusUnprocessableEntity).says(".problem", "nothing shows that it holds")
	if got := asked.value("button[name=sure]", "value"); got != "yes" {
		t.Fatalf("it can be closed all the same with %q", got)
	}
	asked.submit(end, "verdict", "fixed", "sure", "yes").want(http.StatusOK).says("main", "Not tested after the repair")
	v.get(p.path+"/story").want(http.StatusOK).says("main", "Not tested after the repair")
}

// A microwave oven that is closed shows how it ended and no more of what can hurt
// inside; taken up again, it warns as before.
func TestAMicrowaveOvenOnceClosed(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").submit("/take-in", "device", "microwave oven").want(http.StatusOK)
	if main := p.text("main"); !strings.Contains(main, "high voltage") && !strings.Contains(main, "High voltage") {
		t.Fatalf("an open microwave oven is not said to hurt: %.300s", main)
	}
	id := strings.TrimPrefix(p.path, "/case/")
	if _, err := b.Close(t.Context(), id, casework.Closing{Verdict: casework.PassedOn}); err != nil {
		t.Fatal(err)
	}
	closed := v.get(p.path).want(http.StatusOK).says("h2", "Closed: passed on")
	if n := len(closed.all("main .caution")); n > 0 {
		t.Errorf("%d cautions of a device nobody works on", n)
	}
	closed.submit(p.path + "/reopen").want(http.StatusOK)
	if again := v.get(p.path).text("main"); !strings.Contains(strings.ToLower(again), "high voltage") {
		t.Error("taken up again it does not warn")
	}
}

// The shopping list says how a part on the shelf must be named to count, and what is
// named so does count.
func TestTheShoppingHint(t *testing.T) {
	v, b := visit(t)
	v.get("/").submit("/take-in", "device", "powered loudspeaker", "says", "it hums").want(http.StatusOK)
	page := v.get("/shopping").want(http.StatusOK)
	page.says("main", "if its line is named as the part is here, with its figures after it")
	list, err := b.Shopping(t.Context())
	if err != nil || len(list.Lines) == 0 {
		t.Fatalf("nothing to buy: %v", err)
	}
	what := list.Lines[0].What
	if _, err := b.Stock(t.Context(), casework.Stocking{Name: what, Count: 20}); err != nil {
		t.Fatal(err)
	}
	if list, err = b.Shopping(t.Context()); err != nil {
		t.Fatal(err)
	}
	for _, l := range list.Lines {
		if l.What == what {
			t.Errorf("%q is on the shelf and still to buy", what)
		}
	}
}
