package notedesk

import (
	"fettler/internal/failure"
	"fettler/internal/notecraft"
)

// Answers are what one can tell about a device before opening it.
type Answers = notecraft.Answers

// A Power is what a device runs on, the ID of one of Powers.
type Power = notecraft.Power

// Powers are what a device can run on, with the question's words.
func Powers() []failure.Choice {
	words := map[notecraft.Power]string{
		notecraft.Mains: "A mains lead goes into it", notecraft.Adapter: "A separate mains adapter with a low-voltage plug",
		notecraft.Rechargeable: "A built-in battery, charged through a socket", notecraft.Cells: "Loose cells in a compartment",
	}
	var out []failure.Choice
	for _, p := range notecraft.Powers() {
		out = append(out, failure.Choice{ID: string(p), Title: words[p]})
	}
	return out
}

// A Has is something a device may have, as it is asked about.
type Has struct {
	ID    string
	Ask   string
	About string
	Of    func(*Answers) *bool
}

// Features are what a device may have, in the order they are asked.
func Features() []Has {
	return []Has{
		{"motor", "Does something in it turn or move?", "motor, mechanism", func(a *Answers) *bool { return &a.Motor }},
		{"heater", "Does it get hot on purpose?", "heater", func(a *Answers) *bool { return &a.Heater }},
		{"display", "Does it show figures or a picture?", "display", func(a *Answers) *bool { return &a.Display }},
		{"sound", "Does it make sound?", "loudspeaker, buzzer", func(a *Answers) *bool { return &a.Sound }},
		{"light", "Does it give light?", "lamp, light-emitting diodes", func(a *Answers) *bool { return &a.Light }},
		{"air", "Does it move air?", "fan, blower", func(a *Answers) *bool { return &a.Air }},
		{"water", "Does it move water?", "pump, valve", func(a *Answers) *bool { return &a.Water }},
		{"computer", "Is there a computer inside?", "programmes, settings, soft keys", func(a *Answers) *bool { return &a.Computer }},
	}
}

// Assemble writes the beginning of a note from the answers.
func Assemble(a Answers) (id string, text []byte, err error) {
	d, err := notecraft.Assemble(a)
	if err != nil {
		return "", nil, &failure.Error{Code: failure.BadInput, Text: err.Error(), Next: "put that answer right", Err: err}
	}
	return d.ID, d.Text, nil
}
