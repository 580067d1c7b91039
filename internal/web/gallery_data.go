package web

import (
	"strings"
	"time"

	"fettler/internal/casework"
)

// Invented data for the gallery: no such device, part or case exists. The
// figures are chosen to look at, not computed.

var galleryTime = time.Date(2026, 3, 14, 18, 40, 0, 0, time.UTC)

func galleryChance(mode, title string, now, before float64) casework.Chance {
	return casework.Chance{Mode: mode, Title: title, Now: now, Before: before}
}

func galleryLevels() []casework.Level {
	return []casework.Level{{ID: "outside", Title: "closed", Open: true},
		{ID: "open", Title: "back plate off", How: "Eight screws. Lay it on its front on a towel.", Minutes: 6, Close: 6}}
}

func galleryCautions() []casework.Caution {
	return []casework.Caution{
		{Kind: "mains", Text: "Pull the plug before you open it; a switch is not enough."},
		{Kind: "stored charge", Text: "Pull the plug, wait, then discharge through a resistor with insulated leads. Measure that it is below 5 V, and measure again before you touch.", Volts: 42, Joules: 8}}
}

// galleryView is a case in the middle of a repair.
func galleryView() *casework.View {
	levels := galleryLevels()
	v := &casework.View{
		Header: casework.Header{Case: "hall-left", Seq: 4, Title: "Hall left", Label: "Hall left", Device: "invented-speaker", Kind: "Powered studio loudspeaker",
			Category: "Hi-Fi separates", Age: 14, Demo: true, State: casework.OnBench, Money: 0, Currency: "EUR", Minutes: 11, Access: levels[0],
			Opened: galleryTime, Changed: galleryTime.Add(30 * time.Minute), Hazards: galleryCautions()},
		Settings: casework.Settings{Currency: "EUR", Worth: 70, Scrap: 5, Rate: 12},
		Source:   casework.Source{Note: "invented-speaker", Title: "Powered studio loudspeaker", LeftOut: 0.004, Bound: 0.00002},
		Levels:   levels, Rest: 41,
		Unknown: galleryChance("", "a fault this note does not know", 0.06, 0.05),
		Changed: &casework.Change{Event: 3, Words: "Listen with nothing plugged in: still hums"},
		Outlook: &casework.Outlook{Success: 0.78, Money: 6.4, Minutes: 55, Gain: 31.5, StopAt: "If it still fails after “Replace the reservoir capacitors” and nothing else was learnt, stop: going on costs more than it is worth.", Depth: 2},
	}
	v.Known = galleryKnown()
	v.Suspects = gallerySuspects()
	v.Stories = []casework.Story{{P: 0.52, Faults: []casework.Ref{{ID: "supply.reservoir.dried-out", Title: "reservoir capacitors dried out"}}},
		{P: 0.11, Faults: []casework.Ref{{ID: "supply.reservoir.dried-out", Title: "reservoir capacitors dried out"}, {ID: "volume.pot.scratchy", Title: "track of the control dirty"}}},
		{P: 0.06, Unknown: true}}
	v.Symptoms = []casework.Field{gallerySign("hum", "hums, a low steady tone", "Does it hum?", true), gallerySign("dead", "does nothing at all", "Is it quite dead, no light, no sound?", false),
		gallerySign("burnt-smell", "smells burnt", "Does it smell burnt?", false)}
	v.Ask = galleryAsk()
	v.Checks, v.Repairs = galleryChecks(levels), galleryRepairs(levels)
	galleryMoves(v)
	v.Timeline = galleryTimeline()
	return v
}

func galleryKnown() []casework.Observed {
	return []casework.Observed{
		{Event: 2, At: galleryTime, Finding: "hum", Title: "hums, a low steady tone", Value: "yes", Words: "hums, a low steady tone", From: "said"},
		{Event: 2, At: galleryTime, Finding: "volume.scratchy", Title: "crackles when the control is turned", Value: "3 of 10 times", Words: "crackles when the control is turned, 3 of 10 times", From: "said"},
		{Event: 3, At: galleryTime.Add(20 * time.Minute), Finding: "quiet", Title: "the hum is gone with nothing plugged in", Value: "no", Words: "the hum is gone with nothing plugged in: no", Denied: true, From: "Listen with nothing plugged in"}}
}

func gallerySuspects() []casework.Suspect {
	return []casework.Suspect{
		{Chance: galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.63, 0.31), Arrival: 0.63, Prior: 0.08, Name: "dried-out", Class: "electrolytic capacitor",
			Part: "reservoir capacitors", Mark: "C1, C2", Value: "4700 µF 63 V", Unit: "Bridge and reservoirs", Basis: "invented for the gallery",
			Reasons: []casework.Reason{{Event: 2, Finding: "hum", Words: "hums, a low steady tone: 6 × likelier", Factor: 6}, {Event: 3, Finding: "quiet", Words: "the hum is gone with nothing plugged in: no: 2.1 × likelier", Factor: 2.1}},
			Checks:  []casework.Ref{{ID: "supply.ripple", Title: "Measure the ripple, meter on AC"}}, Repairs: []casework.Ref{{ID: "supply.new-reservoirs", Title: "Replace the reservoir capacitors"}}},
		{Chance: galleryChance("volume.pot.scratchy", "track of the control dirty", 0.22, 0.24), Arrival: 0.22, Prior: 0.09, Part: "volume control", Unit: "Rotary volume control"},
		{Chance: galleryChance("inputs.ground.broken", "signal earth broken at the input socket", 0.04, 0.29), Arrival: 0.04, Prior: 0.05, Part: "input socket", Unit: "Inputs",
			Reasons: []casework.Reason{{Event: 3, Finding: "quiet", Words: "the hum is gone with nothing plugged in: no, 9 × less likely", Factor: 0.11}}},
		{Chance: galleryChance("supply.bridge.open", "one rectifier diode open", 0.035, 0.02), Arrival: 0.035, Prior: 0.02, Mark: "D1…D4", Unit: "Bridge and reservoirs"},
		{Chance: galleryChance("amp.output.leaky", "output transistor leaky", 0.004, 0.004), Arrival: 0.004, Prior: 0.004, Mark: "Q7", Unit: "Amplifier"}}
}

func galleryTold(finding, text string) []casework.Told {
	return []casework.Told{{Finding: finding, Text: text}}
}

func gallerySign(id, title, ask string, comes bool) casework.Field {
	return casework.Field{Finding: id, Title: title, Ask: ask, Kind: "sign", Comes: comes}
}

func galleryAsk() []casework.Question {
	return []casework.Question{
		{Field: gallerySign("hum-warm", "hums less when warm", "Does it hum less after half an hour?", false), Bits: 0.3, Yes: 0.4,
			IfYes: []casework.Chance{galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.81, 0.63)}},
		{Field: gallerySign("burnt-smell", "smells burnt", "Does it smell burnt?", false), Bits: 0.05, Yes: 0.03,
			IfYes: []casework.Chance{galleryChance("amp.output.leaky", "output transistor leaky", 0.2, 0.004)}}}
}

func galleryChecks(levels []casework.Level) []casework.Step {
	ripple := casework.Step{ID: "supply.ripple", Title: "Measure the ripple, meter on AC", How: "Clip the meter to one rail before you switch on: AC volts, insulated clips, one hand. Read, switch off, then the other rail.",
		With: []string{"multimeter"}, Minutes: 4, Access: levels[1], First: levels[1:], Live: true, Cautions: galleryCautions(),
		Fields: []casework.Field{{Finding: "supply.ripple.volts", Title: "Measure the ripple, meter on AC", Ask: "How many volts AC on the worse rail?", Kind: "reading", Unit: "V",
			Expect: []string{"good: 30 mV .. 600 mV", "rippling: 1 V .. 8 V"}}}}
	look := casework.Step{ID: "supply.look", Title: "Look at the reservoirs", How: "Domed tops, brown crust at the feet, a smell of fish.", With: []string{"eyes", "nose"}, Minutes: 2, Access: levels[1], First: levels[1:], Cautions: galleryCautions(),
		Fields: []casework.Field{gallerySign("supply.look.dome", "a top is domed", "Is a top domed?", false), gallerySign("supply.look.crust", "brown crust at the feet", "Is there brown crust at the feet?", false)}}
	source := casework.Step{ID: "inputs.other", Title: "Another source, cable and input", How: "Take a player and a cable known to be good.", With: []string{"known-good part"}, Minutes: 3, Access: levels[0],
		Fields: []casework.Field{gallerySign("inputs.other.gone", "fault gone with another source", "Is the fault gone with another source?", true)}}
	tone := casework.Step{ID: "amp.tone", Title: "Follow the signal with a tone", How: "A quiet tone at the input; listen at the amplifier's input, then its output.", With: []string{"ears"}, Minutes: 6, Access: levels[1], First: levels[1:], Live: true, Cautions: galleryCautions(),
		Fields: []casework.Field{{Finding: "amp.tone.out", Title: "Tone at the output", Ask: "How is the tone at the amplifier's output?", Kind: "pick", Answers: []string{"clean", "noisy", "distorted", "nothing"}}}}
	return []casework.Step{ripple, look, source, tone}
}

func galleryRepairs(levels []casework.Level) []casework.Step {
	return []casework.Step{
		{ID: "supply.new-reservoirs", Title: "Replace the reservoir capacitors", How: "Mark the polarity first. Same value, voltage no lower, 105 °C, the same pitch of the pins.", With: []string{"soldering iron", "braid"}, Minutes: 20, Money: 6.4, Days: 3,
			Access: levels[1], First: levels[1:], Cautions: append(galleryCautions(), casework.Caution{Kind: "hot tools", Text: "Iron and hot air burn and set fire: use the stand, clear the bench, air the room."}),
			Buys: []casework.Item{{What: "4700 µF 63 V 105 °C", Count: 2, Price: 3.2}}, Clears: []casework.Chance{galleryChance("supply.reservoir.dried-out", "reservoir capacitors dried out", 0.63, 0.31)}},
		{ID: "volume.clean", Title: "Clean the control", How: "One squirt into the gap, then thirty turns.", With: []string{"contact cleaner"}, Minutes: 8, Money: 0.5, Access: levels[1], First: levels[1:]}}
}

func galleryCard(kind string, s casework.Step, behind float64) casework.Card {
	total := s.Minutes
	for _, l := range s.First {
		total += l.Minutes
	}
	return casework.Card{Step: s, Kind: kind, Total: total, Behind: behind, Cost: casework.Cost{Money: s.Money, Time: total / 5, Days: s.Days, Total: s.Money + total/5}}
}

func galleryMoves(v *casework.View) {
	next := galleryCard("check", v.Checks[2], 0)
	next.Why = "It takes 3 minutes and parts the two likeliest suspects. All told it is expected to come 1.20 EUR cheaper than “Measure the ripple, meter on AC” first."
	next.Results = []casework.Result{
		{Words: "fault gone with another source: no", Told: galleryTold("inputs.other.gone", "no"), P: 0.86, Means: "then most likely reservoir capacitors dried out (71 %, now 63 %)", Then: "Measure the ripple, meter on AC"},
		{Words: "fault gone with another source", Told: galleryTold("inputs.other.gone", "yes"), P: 0.14, Means: "then most likely a fault outside the device", Then: "try the whole device"}}
	ripple := galleryCard("check", v.Checks[0], 1.2)
	ripple.Results = []casework.Result{{Words: "Measure the ripple, meter on AC: 1 V .. 8 V (rippling)", P: 0.66, Means: "then most likely reservoir capacitors dried out (94 %, now 63 %)", Then: "Replace the reservoir capacitors"},
		{Words: "Measure the ripple, meter on AC: 30 mV .. 600 mV (good)", P: 0.34, Means: "then most likely track of the control dirty (48 %, now 22 %)", Then: "Clean the control"}}
	look := galleryCard("check", v.Checks[1], 1.9)
	look.Results = []casework.Result{{Words: "a top is domed: no; brown crust at the feet: no", P: 0.6, Means: "then most likely reservoir capacitors dried out (49 %, now 63 %)", Then: "Measure the ripple, meter on AC"},
		{Words: "a top is domed; brown crust at the feet: no", P: 0.25, Means: "then most likely reservoir capacitors dried out (95 %, now 63 %)", Then: "Replace the reservoir capacitors"}}
	tone := galleryCard("check", v.Checks[3], 3.4)
	tone.Results = []casework.Result{{Words: "Tone at the output: noisy", Told: galleryTold("amp.tone.out", "noisy"), P: 0.55, Means: "then most likely reservoir capacitors dried out (70 %, now 63 %)", Then: "Measure the ripple, meter on AC"}}
	buy := galleryCard("repair", v.Repairs[0], 2.6)
	buy.Cures, buy.Why = 0.58, "It clears what is wrong with a chance of 58 % and takes 26 minutes and 6.40 EUR."
	buy.Results = []casework.Result{{Words: "done", P: 1, Then: "try the whole device"}}
	clean := galleryCard("repair", v.Repairs[1], 8)
	clean.Blocked = "you have no contact cleaner"
	stop := casework.Card{Kind: "stop", Step: casework.Step{Title: "Leave off", How: "Pass it on to somebody who wants it, keep it for parts, or take it to a collection point. Write down how far you came."},
		Behind: 31.5, Why: "Whatever else is done is expected to cost more than the working device is worth."}
	v.Next, v.RunnerUp = &next, &ripple
	v.Ranking = []casework.Card{next, ripple, look, buy, tone, stop, clean}
}

func galleryTimeline() []casework.Entry {
	return []casework.Entry{
		{Event: 1, At: galleryTime, Kind: casework.KindOpened, Words: "opened: Hall left, Powered studio loudspeaker, 14 years old (invented, for show)", CanAmend: true},
		{Event: 2, At: galleryTime.Add(time.Minute), Kind: casework.KindSaid, Who: "Ida", Words: "said: “hums, crackles when I turn it up” — read as hums, a low steady tone; crackles when the control is turned, 3 of 10 times", CanUndo: true, CanAmend: true},
		{Event: 3, At: galleryTime.Add(20 * time.Minute), Kind: casework.KindChecked, Who: "Ida", Words: "Listen with nothing plugged in: still hums", Was: []string{"Listen with nothing plugged in: quiet"}, Minutes: 1, CanUndo: true, CanAmend: true},
		{Event: 4, At: galleryTime.Add(22 * time.Minute), Kind: casework.KindRemarked, Words: "the owner wants it back on Friday", Void: true, VoidBy: 4}}
}

// with returns the gallery's case with changes.
func with(change func(*casework.View)) *casework.View {
	v := galleryView()
	change(v)
	return v
}

// galleryNext puts the ranked move first, as if it were advised.
func galleryNext(v *casework.View, i int) {
	c := v.Ranking[i]
	c.Behind = 0
	if c.Why == "" {
		c.Why = "It parts the likeliest suspects for the least time."
	}
	v.Next, v.RunnerUp = &c, &v.Ranking[0]
}

func galleryLong(v *casework.View) {
	long := "Loudspeaker with a name that goes on and on " + strings.Repeat("and on ", 8) + strings.Repeat("unbreakable", 12)
	v.Header.Title, v.Header.Kind = long, long
	v.Suspects[0].Title, v.Suspects[0].Mark = long, strings.Repeat("C1234,", 30)
	v.Next.Title, v.Next.How = long, strings.Repeat(long+" ", 3)
	v.Known[0].Title = long
	v.Timeline[1].Words = long
	v.Ask[0].Ask = long + "?"
}
