package web

import (
	"context"
	"math"
	"time"

	"fettler/internal/casework"
	"fettler/internal/openrepair"
	"fettler/internal/report"
)

// proofScreens are proof, learning, finding and giving away, with invented data.
func (s *Server) proofScreens() []screen {
	soak := func(change func(*casework.SoakBoard)) func(b Base) any {
		return func(b Base) any {
			v := gallerySoak()
			change(v)
			b.Title = "Is it fixed?"
			return s.newSoakPage(b, v)
		}
	}
	learnt := func(v *casework.Learnt) func(b Base) any {
		return func(b Base) any {
			b.Title = "What we learnt"
			p := newLearntPage(b, v)
			p.Style = s.static.path("proof.css")
			return p
		}
	}
	find := func(text string, hits []casework.Hit) func(b Base) any {
		return func(b Base) any {
			b.Title = "Find a case"
			return &findPage{Base: b, Style: s.static.path("proof.css"), Text: text, Asked: true, Hits: hits}
		}
	}
	along := func(change func(*alongPage)) func(b Base) any {
		return func(b Base) any {
			b.Title = "Take along"
			p := &alongPage{Base: b}
			change(p)
			return p
		}
	}
	return []screen{
		{"soak-new", "it works; how did it show before?", "soak", soak(func(v *casework.SoakBoard) { v.Plan, v.Tally, v.Curve = nil, nil, nil })},
		{"soak-running", "it runs and nobody has seen the fault", "soak", soak(func(*casework.SoakBoard) {})},
		{"soak-failed", "it came back", "soak", soak(func(v *casework.SoakBoard) {
			v.Tally.State, v.Tally.On, v.Tally.Words = "recurred", false, "it came back after 42 min clean: it was resting, not fixed"
		})},
		{"learnt", "what closed cases have taught", "learnt", learnt(galleryLearnt())},
		{"learnt-new", "nothing closed yet", "learnt", learnt(&casework.Learnt{On: true})},
		{"close-ending", "how it ends, and which fault it was", "close", func(b Base) any {
			p := newClosePage(b, galleryView(), casework.Fixed, nil)
			p.End = galleryEnding()
			return p
		}},
		{"story", "a case written up", "story", func(b Base) any {
			b.Title = "Write it up"
			p := &storyPage{Base: b, Style: s.static.path("proof.css"), V: with(galleryClose), Path: "/gallery", Photos: 2}
			p.Story, _ = report.New(context.Background(), galleryAccount(), nil) // without pictures nothing can fail
			return p
		}},
		{"find", "cases found by words", "find", find("hum", galleryHits())},
		{"find-none", "nothing found", "find", find("nonesuch", nil)},
		{"case-like", "closed cases like this one", "case", func(b Base) any {
			p := newCasePage(b, galleryView())
			p.Like = galleryHits()[:1]
			return p
		}},
		{"case-works", "it works; which fault it was, and how to tell better", "case", func(b Base) any {
			p := newCasePage(b, with(func(v *casework.View) {
				v.Header.Epoch, v.Works, v.Next, v.Outlook, v.NoNext = 1, true, nil, nil, "it works: let it run until you trust it, put it together, then close the case as fixed"
			}))
			p.Soak, p.Ending = gallerySoak(), galleryEnding()
			return p
		}},
		{"along", "everything, and open repair data", "along", along(func(*alongPage) {})},
		{"along-taken", "what was taken over", "along", along(func(p *alongPage) {
			p.Unpacked = &casework.Unpacked{Cases: 3, Files: 7, Same: 12, Refused: []string{"hall-right"}}
			p.Imported = &casework.Imported{Taken: 41, Known: 2, Rejected: []openrepair.Reject{{Line: 17, Why: "“Spoon” is no product category of the standard"}}}
		})},
	}
}

func gallerySoak() *casework.SoakBoard {
	v := &casework.SoakBoard{Case: "hall-left", Title: "Hall left", Seq: 9, At: galleryTime.Add(3 * time.Hour), Still: 0.3, StillFrom: "what this case makes one believe",
		Usual: casework.SoakPlanned{SoakHistory: casework.SoakHistory{Pattern: "on average", EveryMin: 20, When: "warm"}, Sure: 0.95},
		Plan: &casework.SoakPlan{Event: 7, History: "about every 20 min, only when warmed through", Sure: 0.95, Unit: "minutes", Need: 44, Before: 0.7, After: 0.95, Shows: 0.89, Minutes: 79,
			Steps: []casework.SoakStep{{Words: "Let it run for 35 min to get there; what it does meanwhile does not count, unless the symptom shows", Minutes: 35, Caution: "Stay within call while it runs; not overnight, not unattended"}, {Words: "Let it run for 44 min more, looked at now and then", Minutes: 44, Counts: true}}},
		Tally: &casework.SoakTally{State: "running", On: true, Counted: 18, Pending: 9, Left: 26, Fixed: 0.85, IfClean: 0.9, OnMin: 62, RunMin: 62, Starts: 1, Cold: 1, Heat: 0.98, Words: "18 min of 44 min seen clean: fixed with 85 %; with 9 min more since, if they were clean, 90 %"},
		Shows: []casework.Field{{Finding: "hum", Title: "hums, a low steady tone", Kind: "sign"}},
		Tests: []casework.TestPoint{{ID: "whole", Title: "Put together, nothing left over", How: "Every screw, cable and insulating sheet is back; nothing rattles when you turn it over.", Result: "good", Event: 8},
			{ID: "earth", Title: "Earth continuity", How: "Only if it has an earth contact. With the tester local rules ask for. The limit is in your local rules for testing after repair.", Licensed: true, Cautions: galleryCautions()[:1]}}}
	for i := range 60 {
		x := float64(i)
		v.Curve = append(v.Curve, casework.SoakPoint{X: x, Fixed: 0.7 / (0.7 + 0.3*math.Exp(-x/20))})
	}
	return v
}

func galleryLearnt() *casework.Learnt {
	month := func(n int, fixed int, kg, net float64) casework.SavedMonth {
		return casework.SavedMonth{Month: time.Date(2025, time.Month(n), 1, 0, 0, 0, 0, time.UTC), Fixed: fixed, Hours: 1.4 * float64(fixed), Kg: kg, Net: []casework.NetMoney{{Currency: "EUR", Net: net}}}
	}
	pairs := []casework.MissPair{{Foretold: 5, Real: 6.4}, {Foretold: 12, Real: 9}, {Foretold: 3, Real: 3}, {Foretold: 18, Real: 24}, {Foretold: 8, Real: 7}}
	minutes := []casework.MissPair{{Foretold: 55, Real: 65}, {Foretold: 90, Real: 70}, {Foretold: 40, Real: 52}, {Foretold: 120, Real: 160}, {Foretold: 60, Real: 58}}
	return &casework.Learnt{On: true, Cases: 34, Others: 9, Informed: 31,
		Devices: []casework.LearntDevice{{Device: "invented-speaker", Title: "Powered studio loudspeaker", Cases: 9, Odds: []casework.LearntOdds{
			{Mode: "supply.reservoir.dried-out", Title: "reservoir capacitors dried out", Mean: 1.8, Low: 1.1, High: 2.9, Words: "from 9 cases here: ×1.8"},
			{Mode: "volume.track.dirty", Title: "track of the control dirty", Mean: 0.6, Low: 0.3, High: 1.2, Words: "not seen in any case here: ×0.6"}},
			Others: []casework.LearntOther{{Kind: "success of a repair", Title: "replace the reservoir capacitors", From: 0.97, To: 0.98, Words: "from 8 cases here"}}}},
		Calibration: []casework.Calibrated{{About: "it was this fault", N: 96, BaseRate: 0.24, Brier: 0.11, Skill: 0.4, Reliability: 0.004, Resolution: 0.08, Bins: []casework.CalibratedBin{
			{N: 48, Stated: 0.05, Came: 0.06, Low: 0.01, High: 0.16}, {N: 26, Stated: 0.28, Came: 0.23, Low: 0.1, High: 0.42}, {N: 14, Stated: 0.6, Came: 0.64, Low: 0.37, High: 0.86}, {N: 8, Stated: 0.91, Came: 0.88, Low: 0.5, High: 0.99}}}},
		Costs: []casework.CostMiss{{Currency: "EUR", Money: casework.Miss{N: 5, Bias: 0.68, Error: 1.5, Ratio: 1.07, InRange: 4, Ranges: 5, Pairs: pairs}, Minutes: casework.Miss{N: 5, Bias: 8, Error: 9, Ratio: 1.1, InRange: 5, Ranges: 5, Pairs: minutes}}},
		Savings: casework.Savings{Cases: 34, Fixed: 25, Hours: 38.5, Kg: 121.4, Money: []casework.SavedMoney{{Currency: "EUR", Worth: 1240, Scrap: 60, Spent: 214.5, Net: 1085.5}},
			Months: []casework.SavedMonth{month(9, 4, 18, 160), month(10, 11, 51, 470), month(11, 19, 88.5, 810), month(12, 25, 121.4, 1085.5)}}}
}

func galleryEnding() *casework.Ending {
	dried, contact := galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.71, 0.71), galleryChance("supply.reservoir.contact", "reservoir capacitor lost contact inside", 0.24, 0.24)
	return &casework.Ending{Because: []casework.Chance{dried, contact}, Unknown: 0.02, Kg: 7.5, Saved: casework.Saved{Worth: 70, Spent: 6.4, Net: 63.6, Minutes: 65, Time: 13},
		Sharper: []casework.Sharp{{Check: casework.Ref{ID: "supply.esr", Title: "ESR and capacitance of the reservoirs"}, Before: 5, Repair: "Replace the reservoir capacitors", Mode: dried}}}
}

func galleryHits() []casework.Hit {
	hit := func(id, title string, verdict casework.Verdict, was, why string) casework.Hit {
		return casework.Hit{Case: id, Title: title, Kind: "Powered studio loudspeaker", State: casework.Done, Verdict: verdict, Changed: galleryTime, Symptoms: []string{"hums, a low steady tone"}, Was: []string{was}, Why: why, Score: 0.9}
	}
	return []casework.Hit{hit("hall-right", "Hall right", casework.Fixed, "reservoir capacitors dried out (97 %)", "same sort of device, shares one symptom"),
		hit("stage-2", "Stage 2", casework.KeptForParts, "shield of the signal cable broken (62 %)", "in symptoms")}
}

func galleryAccount() *casework.Account {
	return &casework.Account{Title: "Powered studio loudspeaker", Kind: "Powered studio loudspeaker", Category: "Hi-Fi separates", Age: 14, Demo: true, State: casework.Done, Verdict: casework.Fixed,
		Began: galleryTime, Ended: galleryTime.Add(72 * time.Hour), Hazards: galleryCautions(), Symptoms: []string{"hums, a low steady tone"}, NotThere: []string{"smells hot or burnt"},
		First: []casework.Chance{galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.52, 0.52)},
		Steps: []casework.AccountStep{
			{Event: 3, Kind: "check", ID: "supply.ripple", Title: "Measure the ripple, meter on AC", How: "Under 0.6 V is right, over 1 V is too much.", With: []string{"multimeter"}, Open: "back plate off", Cautions: galleryCautions()[:1], Why: "it tells of reservoir capacitors dried out (52 %)", Found: []string{"ripple on the worse rail: 2.1 V"}, Meant: "reservoir capacitors dried out: 52 % before, 94 % after", Minutes: 8},
			{Event: 5, Kind: "repair", ID: "supply.recap", Title: "Replace the reservoir capacitors", How: "Same pitch, same or higher voltage, 105 °C.", With: []string{"soldering iron"}, Why: "it cures reservoir capacitors dried out (94 %)", Parts: []casework.Item{{What: "electrolytic 4700 µF 63 V", Count: 2, Price: 3.2}}, Minutes: 34, Money: 6.4},
			{Event: 6, Kind: "test", Title: "Try the whole device", Found: []string{"it works"}, Minutes: 13, Works: true}},
		Was: []casework.Chance{galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.97, 0.97)}, Proof: "before the repair it showed about every 20 min; afterwards it ran clean for 62 min in all, switched on once",
		Currency: "EUR", Saved: casework.Saved{Worth: 70, Spent: 6.4, Net: 63.6, Minutes: 65}, Kg: 7.5}
}
