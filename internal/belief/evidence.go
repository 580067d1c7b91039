package belief

// Evidence is everything known about one device: what was seen, and which
// repairs lay between the observations.
//
// Epochs count repairs: epoch 0 is the device as it came, epoch k is after
// Acts[k-1]. The order of Seen does not matter, except that of two
// observations of one finding in one epoch the later stands.
type Evidence struct {
	Seen []Observation
	Acts []Act
}

// Observation is one look at one finding of the model.
//
// For a note.Sign, Value is 1 if it showed and 0 if it was looked for and not
// there; with Of > 0 it showed Value times out of Of. For a note.Pick, Value is
// the index of the answer. For a note.Reading, Number is what the meter said,
// in the finding's base unit; +Inf is an overloaded meter.
type Observation struct {
	Finding int
	Epoch   int
	Value   int
	Of      int
	Number  float64
}

// Act is one repair done. Repair indexes the model's repairs; an Act with
// Repair -1 changes nothing the model knows of, but begins a new epoch all the same.
type Act struct {
	Repair int
}

// settled returns the observations with earlier looks at the same finding in
// the same epoch dropped.
func (ev Evidence) settled() []Observation {
	type key struct{ finding, epoch int }
	last := make(map[key]int, len(ev.Seen))
	for i, o := range ev.Seen {
		last[key{o.Finding, o.Epoch}] = i
	}
	out := make([]Observation, 0, len(last))
	for i, o := range ev.Seen {
		if last[key{o.Finding, o.Epoch}] == i {
			out = append(out, o)
		}
	}
	return out
}

// Without returns the evidence less its i-th observation.
func (ev Evidence) Without(i int) Evidence {
	seen := make([]Observation, 0, len(ev.Seen)-1)
	seen = append(seen, ev.Seen[:i]...)
	seen = append(seen, ev.Seen[i+1:]...)
	return Evidence{Seen: seen, Acts: ev.Acts}
}

// With returns the evidence and one more observation; ev itself is not changed.
func (ev Evidence) With(o Observation) Evidence {
	seen := make([]Observation, len(ev.Seen), len(ev.Seen)+1)
	copy(seen, ev.Seen)
	return Evidence{Seen: append(seen, o), Acts: ev.Acts}
}
