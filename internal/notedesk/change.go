package notedesk

import (
	"context"

	"fettler/internal/note"
	"fettler/internal/notecraft"
)

// Changes are what a change to a note did.
type Changes struct {
	Old      string      `json:"old"` // ID of the device
	New      string      `json:"new"`
	Faults   Items       `json:"faults"`
	Findings Items       `json:"findings"`
	Checks   Items       `json:"checks"`
	Repairs  Items       `json:"repairs"`
	Priors   []Moved     `json:"priors"` // faults whose chance before anything is seen moved
	Symptoms []Reshuffle `json:"symptoms"`
	Words    string      `json:"words"`
}

// Items are what came, went and got another name, by ID.
type Items struct {
	Added   []string  `json:"added"`
	Removed []string  `json:"removed"`
	Renamed []Renamed `json:"renamed"`
}

// A Renamed item is taken for the same under a new ID.
type Renamed struct {
	Old string `json:"old"`
	New string `json:"new"`
}

// A Moved fault has another chance before anything is seen.
type Moved struct {
	Fault  string  `json:"fault"`
	Before float64 `json:"before"`
	After  float64 `json:"after"`
}

// A Reshuffle is a symptom that raises other suspects, or the same otherwise.
type Reshuffle struct {
	Symptom  string  `json:"symptom"`
	Suspects []Shift `json:"suspects"`
}

// A Shift is one suspect's place and chance; place 0 is: not in that note.
type Shift struct {
	Fault    string  `json:"fault"`
	OldPlace int     `json:"oldPlace"`
	NewPlace int     `json:"newPlace"`
	Before   float64 `json:"before"`
	After    float64 `json:"after"`
}

// Same says that one would notice nothing at the bench.
func (c *Changes) Same() bool {
	return c.Faults.none() && c.Findings.none() && c.Checks.none() && c.Repairs.none() && len(c.Priors)+len(c.Symptoms) == 0
}

func (i Items) none() bool { return len(i.Added)+len(i.Removed)+len(i.Renamed) == 0 }

// Diff compares two notes by what they make one believe.
func Diff(ctx context.Context, old, now *note.Model) (*Changes, error) {
	c, err := notecraft.Diff(ctx, old, now)
	if err != nil {
		return nil, err
	}
	out := &Changes{Old: old.ID, New: now.ID, Faults: items(c.Modes), Findings: items(c.Findings), Checks: items(c.Checks), Repairs: items(c.Repairs),
		Words: c.Words(), Priors: []Moved{}, Symptoms: []Reshuffle{}}
	for _, p := range c.Priors {
		out.Priors = append(out.Priors, Moved{p.Mode, p.Old, p.New})
	}
	for _, s := range c.Symptoms {
		r := Reshuffle{Symptom: s.Symptom}
		for _, x := range s.Suspects {
			r.Suspects = append(r.Suspects, Shift{x.Mode, x.OldPlace, x.NewPlace, x.Old, x.New})
		}
		out.Symptoms = append(out.Symptoms, r)
	}
	return out, nil
}

func items(i notecraft.Items) Items {
	out := Items{Added: append([]string{}, i.Added...), Removed: append([]string{}, i.Removed...), Renamed: []Renamed{}}
	for _, r := range i.Renamed {
		out.Renamed = append(out.Renamed, Renamed{r.Old, r.New})
	}
	return out
}
