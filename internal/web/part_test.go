package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"fettler/internal/demo"
)

// askBy sends a form whose question is in the address.
func (p *sheet) askBy(action string, changes ...string) *sheet {
	p.v.t.Helper()
	form := p.fill(action)
	for _, notKnown := range []string{"kind", "tech", "duty"} {
		if form.Has(notKnown) {
			form.Set(notKnown, "") // the first of its list
		}
	}
	for i := 0; i+1 < len(changes); i += 2 {
		form.Set(changes[i], changes[i+1])
	}
	return p.v.get(action + "?" + form.Encode())
}

// From a marking to what will do instead of it, by forms and links alone.
func TestAMarkingToAPartWithoutScript(t *testing.T) {
	v, _ := visit(t)
	p := v.get("/").want(http.StatusOK)
	if len(hrefs(p, "header a", "/parts")) != 1 {
		t.Error("the head does not lead to the parts")
	}
	p = v.get("/parts").want(http.StatusOK).says("main", "Unplug it").says("#poles", "").says("main", "can explode")
	// Which end: aluminium minus, tantalum plus, diode cathode (the trade's convention).
	for _, w := range []string{"NEGATIVE", "POSITIVE", "CATHODE"} {
		p.says("main .poles", w)
	}
	p = p.askBy("/parts", "mark", "1000µF 25V 105°C").want(http.StatusOK)
	p.says("main .readings", "1000 µF").says("main .readings .pole", "NEGATIVE")
	next := hrefs(p, ".readings a", "/parts/instead?")
	if len(next) == 0 {
		t.Fatal("a reading leads nowhere")
	}
	p = v.get(next[0]).want(http.StatusOK).says("main", "Rated voltage DC at least 25 V")
	if got := p.value("input[name=part]", "value"); !strings.Contains(got, "electrolytic") {
		t.Errorf("the old part is %q", got)
	}
	p = p.askBy("/parts/instead", "have", "1000 µF 16 V 105 °C\n2 × 1500 µF 35 V 105 °C").want(http.StatusOK)
	p.says("main", "refused").says("main", "accepted").says("main", "misses the least, 25 V").says("main .pole", "NEGATIVE")
	v.get("/parts?mark=hello+there").want(http.StatusUnprocessableEntity).says(".problem", "")
	v.get("/parts/instead?part=spoon").want(http.StatusUnprocessableEntity).says(".problem", "what kind of part")
}

// Bands are picked by links: IEC 60062, yellow violet red gold is 4.7 kΩ ±5 %.
func TestBandsByTapping(t *testing.T) {
	v, _ := visit(t)
	p := v.get("/parts/bands").want(http.StatusOK)
	for _, colour := range []string{"yellow", "violet", "red", "gold"} {
		found := ""
		for _, a := range p.all(".palette a") {
			if strings.HasPrefix(strings.TrimSpace(attrOf(a, "href")), "/parts/bands") && (&sheet{v: v, doc: a}).text("span") == colour {
				found = attrOf(a, "href")
			}
		}
		if found == "" {
			t.Fatalf("no colour %s to pick", colour)
		}
		p = v.get(strings.TrimSuffix(found, "#pick")).want(http.StatusOK)
	}
	p.says(".readings", "4.7 kΩ ±5 %")
	p = v.get("/parts/bands?bands=gold,red,violet,yellow&at=0").want(http.StatusOK)
	p.says(".readings", "4.7 kΩ")
	v.get("/parts/bands?bands=puce,1,%3Cb%3E&at=99999999999").want(http.StatusOK).says("h1", "Colour bands")
}

// The part of a repair comes from the bench note.
func TestThePartOfARepair(t *testing.T) {
	v, _ := onDemo(t)
	repair := v.get("/case/demo/repair/supply.recap").want(http.StatusOK)
	links := hrefs(repair, "main a", "/parts/instead?")
	if len(links) != 1 || len(hrefs(repair, "main a", "/parts?case=demo")) != 1 {
		t.Fatalf("the repair leads to %v", links)
	}
	p := v.get(links[0]).want(http.StatusOK).says("#wanted", "What the repair takes").says("main", "Capacitance from").says("main .crumb", "←")
	if len(hrefs(p, ".partsnav a", "case=demo")) < 5 {
		t.Error("the way back to the case is lost")
	}
	v.get("/parts/instead?case=demo&repair=nothing").want(http.StatusNotFound)
	if len(hrefs(v.get("/case/demo").want(http.StatusOK), "main a", "/parts?case=demo")) == 0 {
		t.Error("the case does not lead to the parts")
	}
}

// A measured electrolytic is judged, and the verdict recorded in the case.
func TestAReadingIsWrittenDown(t *testing.T) {
	v, b := onDemo(t)
	before := entries(t, b)
	check := v.get("/case/demo/check/supply.reservoir-esr").want(http.StatusOK)
	links := hrefs(check, "main a", "/parts/electrolytic?")
	if len(links) != 1 {
		t.Fatalf("the check leads to %v", links)
	}
	p := v.get(links[0]).want(http.StatusOK)
	if m, u := p.value("input[name=marked]", "value"), p.value("input[name=volts]", "value"); m != "4700 µF" || u != "63 V" {
		t.Errorf("the note says 4700 µF 63 V, the form %q %q", m, u)
	}
	q := url.Values{"ask": {"good"}, "marked": {"4700"}, "volts": {"63"}, "esr": {"2.1"}, "measured": {"1800"}, "case": {demo.Case}}
	p = v.get("/parts/electrolytic?"+q.Encode()).want(http.StatusOK).says("#verdict", "replace")
	forms := p.all("form[method=post]")
	if len(forms) != 1 {
		t.Fatalf("%d ways to write it down", len(forms))
	}
	done := p.submit(attrOf(forms[0], "action")).want(http.StatusOK)
	if entries(t, b) != before+1 || !strings.HasPrefix(done.path, "/case/demo") {
		t.Errorf("%d events at %s", entries(t, b)-before, done.path)
	}
	// Ten-degree law: 2000 h at 85 °C are 16000 h at 55 °C, 1.8 years.
	v.get("/parts/electrolytic?ask=life&hours=2000&rated=85&air=55&newhours=5000&newrated=105").want(http.StatusOK).says("#lasts", "").says("main", "1.8 years")
	v.get("/parts/electrolytic?ask=life&hours=-1").want(http.StatusUnprocessableEntity)
	v.get("/parts/electrolytic?ask=good&esr=lots").want(http.StatusUnprocessableEntity).says(".problem", "")
}

// E = C·V²/2: 470 µF at 325 V hold 24.8 J. Two equal resistors in parallel are half.
func TestSumsWithoutScript(t *testing.T) {
	v, _ := visit(t)
	v.get("/parts/discharge").want(http.StatusOK).askBy("/parts/discharge", "farad", "470", "volts", "325").want(http.StatusOK).says("#holds", "24.8 J").says("main", "IEC 62368-1")
	v.get("/parts/discharge?farad=1&volts=2100").want(http.StatusOK).says("main", "trained hands")
	v.get("/parts/discharge?farad=x&volts=1").want(http.StatusUnprocessableEntity)
	v.get("/parts/combine").want(http.StatusOK).askBy("/parts/combine", "value", "11k", "typed", "2 × 22k 1/4 W").want(http.StatusOK).says("main", "22k").says("main", "exact")
	v.get("/parts/combine?of=resistors&value=1M&typed=1k").want(http.StatusOK).says("main", "comes within a fifth")
	v.get("/parts/combine?of=resistors&value=-1").want(http.StatusUnprocessableEntity)
}
