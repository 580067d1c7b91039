package web

import "fettler/internal/casework"

// aheadScreens are the pages on the decision, with invented data.
func (s *Server) aheadScreens() []screen {
	page := func(b Base, title string) Inquiry {
		b.Title = title
		return s.inquiryInto(b, galleryView())
	}
	return []screen{
		{"case-further", "the advice has looked further ahead, and what decided", "case", func(b Base) any {
			p := newCasePage(b, with(func(v *casework.View) {
				galleryNext(v, 3)
				v.Next.Pays = "Doing it untested pays while it takes under 38 min (20 min here); above that, “Measure the ripple, meter on AC” comes first."
				v.Next.Batch = "While it is open, do both: the other takes 8 minutes now, another round trip 25 minutes, and that would be needed with a chance of 42 %."
				v.Next.Further = []casework.Ref{{ID: "volume.clean", Title: "Clean the control"}}
				v.Outlook.Depth, v.Outlook.Further, v.Outlook.Goes = 3, true, "Going on pays if it is worth more than 18.00 EUR when it works (reckoned with 70.00 EUR)."
			}))
			p.Ahead = galleryRehearsed()
			return p
		}},
		{"ahead", "how far it may go", "ahead", func(b Base) any { return &aheadPage{page(b, "If you go on"), galleryRehearsed()} }},
		{"map", "map of moves", "map", func(b Base) any {
			r := galleryRehearsed()
			r.Instead = "Look at the reservoirs"
			return newMapPage(page(b, "Map of moves"), r, gallerySpot(), 3)
		}},
		{"why", "every finding on every suspect", "why", func(b Base) any { return newWhyPage(page(b, "Why"), galleryBecause(), galleryMinds()) }},
		{"why-new", "nothing looked at yet", "why", func(b Base) any {
			return newWhyPage(page(b, "Why"), &casework.Because{}, &casework.Minds{Top: galleryMinds().Top, First: "Clean the control"})
		}},
		{"what-if", "nothing supposed yet", "what-if", func(b Base) any { return newWhatIfPage(page(b, "What if …?")) }},
		{"what-if-so", "what an answer would change", "what-if", func(b Base) any {
			p := newWhatIfPage(page(b, "What if …?"))
			p.choose("supply.ripple.volts", "1.9 V")
			would := with(func(v *casework.View) { galleryNext(v, 3); v.Outlook.Success = 0.91 })
			would.Suspects[0].Before, would.Suspects[0].Now = 0.63, 0.94
			p.W = &casework.WhatIf{Case: "hall-left", If: []string{"Measure the ripple, meter on AC: 1.9 V"}, Was: p.V.Next, Would: would}
			p.fill()
			return p
		}},
	}
}

func galleryRehearsed() *casework.Rehearsed {
	return &casework.Rehearsed{Success: 0.78, Currency: "EUR", Money: casework.Spread{Low: 0, Mid: 6.4, High: 25, Mean: 9.1}, Minutes: casework.Spread{Low: 40, Mid: 55, High: 110, Mean: 62},
		Days: casework.Spread{High: 3, Mean: 1.6}, Gain: casework.Spread{Low: -14, Mid: 40, High: 52, Mean: 31.5}, Ways: 214, Folded: 0.06,
		StopAt: "If it still fails after “Replace the reservoir capacitors” and nothing else was learnt, stop: going on costs more than it is worth.",
		Goes:   "Going on pays if it is worth more than 18.00 EUR when it works (reckoned with 70.00 EUR).", First: &casework.Stage{Kind: "check", Title: "Another source, cable and input"}}
}

func gallerySpot() *casework.Spot {
	top := galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.71, 0.63)
	replace := func(when string, share, p float64) *casework.Spot {
		return &casework.Spot{When: when, Share: share, P: p, Kind: "repair", ID: "supply.new-reservoirs", Title: "Replace the reservoir capacitors", Minutes: 32, Money: 6.4, Days: 3, More: true, Top: &top}
	}
	ripple := &casework.Spot{When: "fault gone with another source: no", Share: 0.86, P: 0.86, Kind: "check", ID: "supply.ripple", Title: "Measure the ripple, meter on AC", Minutes: 10, Top: &top,
		Spots: []*casework.Spot{replace("1 V .. 8 V (rippling)", 0.66, 0.57), {When: "30 mV .. 600 mV (good)", Share: 0.32, P: 0.28, Kind: "repair", ID: "volume.clean", Title: "Clean the control", Minutes: 8, Money: 0.5, More: true},
			{When: "anything else", Share: 0.02, P: 0.017, Rest: true}}}
	test := &casework.Spot{When: "fault gone with another source", Share: 0.14, P: 0.14, Kind: "test", Title: "try the whole device", Minutes: 5,
		Spots: []*casework.Spot{{When: "it works", Share: 0.97, P: 0.136, Kind: "stop", Works: true}, {When: "still wrong", Share: 0.03, P: 0.004, Kind: "stop", Title: "leave off"}}}
	return &casework.Spot{Share: 1, P: 1, Kind: "check", ID: "inputs.other", Title: "Another source, cable and input", Minutes: 3, Spots: []*casework.Spot{ripple, test}}
}

func galleryBecause() *casework.Because {
	v := galleryView()
	out := &casework.Because{Seen: v.Known, Rest: v.Rest, Unknown: v.Unknown}
	factors := [][]float64{{6, 1, 2.1}, {0.9, 14, 1}, {1.4, 1, 0.11}, {2.2, 1, 1.1}, {1.2, 1, 1}}
	words := [][]string{{"6.0 × likelier", "says nothing", "2.1 × likelier"}, {"1.1 × less likely", "14 × likelier", "says nothing"}, {"1.4 × likelier", "says nothing", "9.1 × less likely"},
		{"2.2 × likelier", "says nothing", "1.1 × likelier"}, {"1.2 × likelier", "says nothing", "says nothing"}}
	for i, x := range v.Suspects {
		w := casework.Weighed{Chance: x.Chance, Unit: x.Unit, Mark: x.Mark, Prior: x.Prior}
		for k := range factors[i] {
			w.Effects = append(w.Effects, casework.Effect{Factor: factors[i][k], Words: words[i][k]})
		}
		out.Suspects = append(out.Suspects, w)
	}
	return out
}

func galleryMinds() *casework.Minds {
	first, second := galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.63, 0.63), galleryChance("volume.pot.scratchy", "track of the control dirty", 0.48, 0.22)
	good := casework.Told{Finding: "supply.ripple.volts", Text: "200 mV", State: "good", Words: "Measure the ripple, meter on AC: 30 mV .. 600 mV (good)"}
	smell := casework.Told{Finding: "burnt-smell", Text: "yes", Words: "smells burnt"}
	return &casework.Minds{Top: first, First: "Replace the reservoir capacitors",
		Suspects: []casework.Mind{{Told: good, P: 0.34, Check: &casework.Ref{ID: "supply.ripple", Title: "Measure the ripple, meter on AC"}, Top: second, First: "Clean the control"}},
		Moves: []casework.Mind{{Told: good, P: 0.34, Check: &casework.Ref{ID: "supply.ripple", Title: "Measure the ripple, meter on AC"}, Top: second, First: "Clean the control"},
			{Told: smell, P: 0.03, Top: first, First: "try the whole device"}}}
}
