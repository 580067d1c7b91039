package web

import (
	"net/http"
	"time"

	"fettler/internal/casework"
)

// screens are all screens in all states.
func (s *Server) screens(r *http.Request) []screen {
	out := append(benchScreens(), caseScreens()...)
	out = append(out, formScreens()...)
	out = append(out, s.reworkScreens()...)
	out = append(out, s.deskScreens(r)...)
	out = append(out, s.aheadScreens()...)
	out = append(out, s.partScreens()...)
	out = append(out, s.shelfScreens()...)
	out = append(out, s.proofScreens()...)
	return append(out,
		screen{"settings", "settings of a case", "settings", func(b Base) any {
			v := galleryView()
			p := newSettingsPage(b, v.Settings, toolsOf(v))
			p.V, p.Back, p.Action = v, "/gallery", "/gallery"
			return p
		}},
		screen{"error-not-found", "nothing there", "error", func(b Base) any {
			return &errorPage{b, withBack(explain(missing("there is no case “abc-def”", "look at the list of cases")))}
		}},
		screen{"error-store", "the journal cannot be reached", "error", func(b Base) any {
			return &errorPage{b, withBack(explain(&casework.Error{Code: casework.StoreFail, Text: "the journal could not be read or written", Next: "see that the disk has room, then try again"}))}
		}},
		screen{"help", "help and cautions", "help", func(b Base) any { p := s.helpPage(r); p.Base = b; return p }})
}

func withBack(p problem) problem {
	p.Back, p.BackTo = "/gallery", "the gallery"
	return p
}

func benchScreens() []screen {
	list := func(v *casework.View, latest string) casework.Listed {
		return casework.Listed{Case: v.Header.Case, Title: v.Header.Title, Kind: v.Header.Kind, State: v.Header.State, Verdict: v.Header.Verdict, Demo: true,
			Minutes: v.Header.Minutes, Latest: latest, Opened: v.Header.Opened, Changed: v.Header.Changed}
	}
	found := &casework.Found{Devices: []casework.Device{{ID: "a", Title: "Filter coffee maker", About: "Heats water through a tube over ground coffee."}, {ID: "b", Title: "Espresso machine", About: "Pump, boiler or heating block, valves."}}}
	return []screen{
		{"bench-empty", "nothing on the bench yet", "bench", func(b Base) any { return &benchPage{Base: b} }},
		{"bench", "open and closed cases", "bench", func(b Base) any {
			return &benchPage{Base: b, Open: []casework.Listed{list(galleryView(), "Listen with nothing plugged in: still hums"), list(with(galleryLong), "opened")},
				Closed: []casework.Listed{list(with(galleryClose), "closed, fixed")}}
		}},
		{"take-in-which", "several sorts of device could be meant", "take-in", func(b Base) any {
			return &takeInPage{Base: b, Entry: takeInEntry{Device: "coffee machine", What: "does not get hot"}, Found: found, Categories: []string{"Coffee maker", "Misc"}}
		}},
		{"take-in-error", "what was entered does not fit", "take-in", func(b Base) any {
			p := explain(refusal("the age cannot be read as a figure: “old”", "write it in digits, such as 2.50"))
			b.Problem = &p
			return &takeInPage{Base: b, Entry: takeInEntry{Device: "toaster", What: "lever does not stay down", Age: "old"}}
		}},
	}
}

func caseScreens() []screen {
	show := func(name, about string, change func(*casework.View)) screen {
		return screen{name, about, "case", func(b Base) any { return newCasePage(b, with(change)) }}
	}
	return []screen{
		show("case", "a check with a single question is next", func(*casework.View) {}),
		show("case-new", "nothing is known yet", func(v *casework.View) { v.Known, v.Changed, v.Timeline = nil, nil, v.Timeline[:1] }),
		show("case-reading", "a reading is next", func(v *casework.View) { galleryNext(v, 1) }),
		show("case-signs", "a check with several questions is next", func(v *casework.View) { galleryNext(v, 2) }),
		show("case-pick", "a check with one of several answers is next", func(v *casework.View) { galleryNext(v, 4) }),
		show("case-repair", "a repair is next, with a warning", func(v *casework.View) {
			galleryNext(v, 3)
			v.Warnings = []casework.Warning{{Repair: "inlet.new-fuse", Mode: "supply.bridge.short", P: 0.4, Text: "a new fuse will blow while the bridge is shorted (40 %): find the short first, power it through a series lamp"}}
		}),
		show("case-test", "the whole is to be tried", galleryTest),
		show("case-stop", "time to stop", func(v *casework.View) { galleryNext(v, 5); v.Outlook = nil }),
		show("case-waiting", "parts are on their way", func(v *casework.View) {
			v.Header.State = casework.Waiting
			v.Orders = []casework.Order{{Event: 4, At: galleryTime, What: "two reservoirs", Money: 6.4, Days: 3}}
		}),
		show("case-strained", "what was seen does not fit together", func(v *casework.View) {
			v.Strain = &casework.Strain{Text: "nothing known explains hums, a low steady tone together with the hum is gone with nothing plugged in: most likely an observation is wrong, or it is a fault this note does not know", Pair: []casework.Observed{v.Known[0], v.Known[2]}}
			v.Unknown.Now, v.Unknown.Before = 0.71, 0.06
		}),
		show("case-long", "very long names", galleryLong),
		show("case-no-note", "there is no bench note", galleryNoNote),
		show("case-closed", "closed", galleryClose),
		{"sheet", "the case on paper", "sheet", func(b Base) any { return newSheetPage(b, galleryView()) }},
		{"moves", "all moves", "moves", func(b Base) any { return newMovesPage(b, galleryView()) }},
	}
}

func galleryTest(v *casework.View) {
	v.Header.State, v.Header.Epoch = casework.ToTest, 1
	c := casework.Card{Kind: "test", Step: casework.Step{Title: "Try the whole device", How: "Close it, connect it, power it and use it for five minutes.", Minutes: 5, Cautions: galleryCautions()[:1]},
		Total: 11, Why: "It works with a chance of 58 %; trying takes 11 minutes.",
		Results: []casework.Result{{Words: "it works", Works: true, P: 0.58, Then: "close the case"}, {Words: "still wrong", P: 0.42, Means: "then most likely track of the control dirty (51 %, now 22 %)", Then: "Clean the control"}}}
	v.Next = &c
}

func galleryNoNote(v *casework.View) {
	*v = casework.View{Header: casework.Header{Case: "box", Seq: 2, Title: "The box from the attic", Category: "Misc", State: casework.OnBench, Currency: "EUR", Opened: galleryTime},
		Settings: v.Settings, Source: casework.Source{Trouble: "this case has no bench note, so nothing can be reckoned from it"}, Timeline: v.Timeline[:2], NoNext: "without a bench note there is nothing to advise"}
}

func galleryClose(v *casework.View) {
	v.Header.State, v.Header.Verdict, v.Header.Epoch = casework.Done, casework.Fixed, 1
	v.Next, v.Outlook, v.Ask = nil, nil, nil
	v.Outcome = &casework.Outcome{Verdict: casework.Fixed, Because: []casework.Chance{galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.97, 0)}, Unknown: 0.01, Kg: 9.5,
		Remark: "the pins have a pitch of 10 mm", At: galleryTime.Add(72 * time.Hour)}
}

func formScreens() []screen {
	must := func(p any, err error) any {
		if err != nil {
			return &errorPage{Problem: explain(err)}
		}
		return p
	}
	check := func(id string) func(b Base) any {
		return func(b Base) any { p, err := newCheckPage(b, galleryView(), id); return must(p, err) }
	}
	return []screen{
		{"look", "what shows from outside", "look", func(b Base) any { return newLookPage(b, galleryView()) }},
		{"check-reading", "write down a reading", "check", check("supply.ripple")},
		{"check-error", "a reading that cannot be read", "check", func(b Base) any {
			p, err := newCheckPage(b, galleryView(), "supply.ripple")
			if err == nil {
				pr := explain(refusal("“a lot” is no value", "write what the meter shows with its unit (V), or overload"))
				p.Problem, p.Fields[0].Value = &pr, "a lot"
			}
			return must(p, err)
		}},
		{"check-signs", "write down several signs", "check", check("supply.look")},
		{"repair", "write down a repair", "repair", func(b Base) any {
			p, err := newRepairPage(b, galleryView(), "supply.new-reservoirs")
			return must(p, err)
		}},
		{"repair-own", "a repair the note does not know", "repair", func(b Base) any { p, err := newRepairPage(b, galleryView(), ""); return must(p, err) }},
		{"test", "what a trial showed", "test", func(b Base) any { return newTestPage(b, galleryView()) }},
		{"parts", "parts ordered", "parts", func(b Base) any { return newPartsPage(b, galleryView(), []string{"supply.new-reservoirs"}) }},
		{"close", "how it ends", "close", func(b Base) any { return newClosePage(b, galleryView(), casework.Fixed, nil) }},
	}
}
