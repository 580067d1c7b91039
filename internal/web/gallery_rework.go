package web

import (
	"time"

	"fettler/internal/casework"
	"fettler/internal/heatdesk"
)

// reworkScreens are the pages of work at the board, with invented data.
func (s *Server) reworkScreens() []screen {
	board := func(b Base) Board {
		return Board{Base: b, Style: s.static.path("rework.css"), Script: s.static.path("rework.js")}
	}
	return []screen{
		{"rework", "work at the board", "rework", func(b Base) any { b.Title = "Work at the board"; return newReworkPage(board(b), galleryBoard()) }},
		{"rework-empty", "work at the board, nothing yet", "rework", func(b Base) any {
			b.Title = "Work at the board"
			return newReworkPage(board(b), &casework.BoardWork{Case: "hall-left", Title: "Hall left"})
		}},
		{"steps", "steps to tick", "steps", func(b Base) any {
			v := galleryBoard()
			return newStepsPage(board(b), v, v.Jobs[0])
		}},
		{"repair-way", "a repair whose parts sit the wrong way round", "repair", func(b Base) any {
			p, err := newRepairPage(b, galleryView(), "supply.new-reservoirs")
			if err != nil {
				return &errorPage{Problem: explain(err)}
			}
			p.Ways, p.Style, p.AskMeant = wayForms(galleryBoard().Polar), s.static.path("rework.css"), "It is meant so: write the repair down"
			pr := explain(refusal(galleryBoard().Polar[0].Mismatch, "do not power it: look at the board again"))
			p.Problem = &pr
			return p
		}},
		{"case-left-over", "screws are still out", "case", func(b Base) any {
			return newCasePage(b, with(func(v *casework.View) { v.Out = galleryBoard().Out }))
		}},
		{"placement", "placement sheet", "placement", func(b Base) any { b.Title = "Placement sheet"; return newPlacementPage(board(b), galleryBoard()) }},
		{"heat-form", "asking how hot and how long", "heat", func(b Base) any { b.Title = "Heat at the board"; return newHeatPage(board(b), heatdesk.Usual()) }},
		{"heat-wait", "heat is being reckoned", "heat", func(b Base) any {
			b.Title = "Heat at the board"
			p := newHeatPage(board(b), heatdesk.Usual())
			p.take(heatdesk.State{Key: "x", Takes: 7 * time.Second})
			p.Again = "/heat"
			return p
		}},
		{"heat-answer", "how hot and how long", "heat", func(b Base) any {
			b.Title = "Heat at the board"
			p := newHeatPage(board(b), heatdesk.Usual())
			p.take(heatdesk.State{Key: "x", Ready: true, Answer: galleryHeat()})
			return p
		}},
		{"limits", "alloys and limits", "limits", func(b Base) any {
			b.Title = "Alloys and limits"
			t, err := heatdesk.AlloysAndLimits(true, 2012, "Pb-free")
			if err != nil {
				return &errorPage{Problem: explain(err)}
			}
			return &limitsPage{Board: board(b), T: t, Year: "2012", Marking: "Pb-free"}
		}},
	}
}

func galleryBoard() *casework.BoardWork {
	v := &casework.BoardWork{Case: "hall-left", Seq: 9, Title: "Hall left"}
	if j, err := casework.NewReworkJob("qfn", "U3"); err == nil {
		j.Steps[0].Done, j.Steps[0].At, j.Done = true, galleryTime, 1
		j.Polar = []casework.Polar{{Mark: "U3", Part: "battery charger", Kind: "charging IC", Sort: "IC", Look: "the notch or dot (pin 1)", Why: "backwards it is dead at once, and may take the rail with it"}}
		v.Jobs = append(v.Jobs, j)
	}
	v.Out = []casework.OutItem{{Event: 4, At: galleryTime, Sort: "screws", What: "long ones, amplifier plate", Where: "tray A", Count: 8, Left: 5},
		{Event: 5, At: galleryTime, Sort: "cable", What: "woofer plug, red and black", Where: "hangs at the woofer", Count: 1, Left: 1}}
	v.Polar = []casework.Polar{{Mark: "C1", Part: "reservoir capacitors", Kind: "electrolytic capacitor", Sort: "electrolytic", Look: "the stripe (minus)", Why: "backwards it heats up, vents or bursts",
		Before: &casework.Sitting{Event: 6, Side: "front", Points: "left", Words: "towards the mains inlet"}, After: &casework.Sitting{Event: 8, Side: "front", Points: "right"},
		Mismatch: "C1: the stripe (minus) pointed left before and points right now: backwards it heats up, vents or bursts"},
		{Mark: "C2", Part: "reservoir capacitors", Kind: "electrolytic capacitor", Sort: "electrolytic", Look: "the stripe (minus)", Why: "backwards it heats up, vents or bursts"}}
	v.Placement = []casework.Placed{{Mark: "C1", Side: "front", Words: "C1, front side, the stripe (minus) left, towards the mains inlet"}, {Mark: "U3", Side: "back", Words: "U3, back side, the notch or dot (pin 1) up left"}}
	return v
}

// galleryHeat is an invented answer with a picture of one hot spot.
func galleryHeat() *heatdesk.Answer {
	a := &heatdesk.Answer{Ask: heatdesk.Usual(), Verdict: "with care", Summary: "370 °C hot air, 5 mm nozzle, 20 l/min, 15 mm away: the last joint of U1 melts after about 30 s, most likely between 25 s and 40 s; shield C9 with tape or a screen.",
		Window: heatdesk.Window{Nominal: 30, Early: 25, Late: 40, Earliest: 18, Latest: 77, Words: "25 to 40 s"}, Body: heatdesk.Body{Peak: 241, Limit: 260, Trust: "read in a source"},
		Alloy:    heatdesk.Alloy{Name: "Sn96.5Ag3Cu0.5", Solidus: 217, Liquidus: 220.6, Why: []string{"year unknown: reckoned as lead-free, the harder case"}},
		Reasons:  []string{"No preheater is needed."},
		Cautions: []string{"Flux and hot laminate give off harmful fumes: air the room or extract at the board."}, Options: []heatdesk.Option{{Words: "hot air 370 °C", Molten: 30}, {Words: "hot air 320 °C", Molten: -1, Faults: []string{"not molten: U1 204 of 221 °C"}}},
		Neighbours: []heatdesk.Seen{{Name: "C9", Kind: "electrolytic capacitor", Peak: 96, Worst: 119, Limit: 125, Shielded: true, Words: "fine", Why: "radial cans are not for reflow (from memory)"},
			{Name: "J2", Kind: "plastic connector", Peak: 190, Worst: 204, Limit: 180, Words: "too hot: take it off first", Why: "thermoplastics soften (from memory)"}}}
	p := heatdesk.Picture{Width: 40, Height: 30, Boxes: []heatdesk.Box{{Kind: "pad", X: 17, Y: 11, W: 1, H: 2}, {Kind: "part", Name: "U1", X: 16, Y: 12, W: 8, H: 6}, {Kind: "neighbour", Name: "C9", X: 28, Y: 11, W: 8, H: 8}}}
	for k, peak := range []float64{60, 160, 235, 120} {
		m := heatdesk.Moment{Time: float64(10 * k), Peak: peak, Joint: peak - 10, Nx: 20, Ny: 15}
		for y := range m.Ny {
			for x := range m.Nx {
				dx, dy := float64(x)-9.5, float64(y)-7
				m.Values = append(m.Values, 20+(peak-20)/(1+(dx*dx+dy*dy)/12))
			}
		}
		m.Lines = []heatdesk.Line{{Level: 60, Label: "60 °C", Closed: true, Points: [][2]float64{{12, 15}, {20, 8}, {28, 15}, {20, 22}}}}
		p.Moments = append(p.Moments, m)
	}
	p.Moments[2].Note = "all joints molten: lift"
	a.Picture = p
	return a
}
