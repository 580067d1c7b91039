package casework

import (
	"cmp"
	"slices"
)

// A Spot is a place on the map of moves: what is done there, or how it ended.
// What is done is nothing where Works or Rest.
type Spot struct {
	When    string  `json:"when"`  // the result that leads here; "" for the first
	Told    []Told  `json:"told"`  // the answers that result consists of
	Share   float64 `json:"share"` // chance of that result once one is at the place before
	P       float64 `json:"p"`     // chance of ever getting here
	Kind    string  `json:"kind"`  // "check", "repair", "test", "stop"
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	Minutes float64 `json:"minutes"` // 0 where the plan is not laid out any further
	Money   float64 `json:"money"`
	Days    float64 `json:"days"`
	Top     *Chance `json:"top"`   // whom one suspects first here; nil if nobody
	Works   bool    `json:"works"` // an end: it works
	Rest    bool    `json:"rest"`  // the less likely results taken together
	More    bool    `json:"more"`  // it goes on beyond the map
	Spots   []*Spot `json:"spots"` // what may follow, likeliest first
}

const (
	mapLevels   = 3
	mapMost     = 6    // levels that can still be read
	mapBranches = 4    // results of one move shown apart
	mapLeast    = 0.01 // chance of ever getting there below which a place is not shown
)

// Map is the plan's next levels, 0 meaning three, with what is unlikely taken together.
func (r *Rehearsed) Map(levels int) (*Spot, error) {
	if levels == 0 {
		levels = mapLevels
	}
	if levels < 1 || levels > mapMost {
		return nil, fail(BadInput, "take 1 to 6", "a map of %d levels cannot be read", levels)
	}
	if r.First == nil {
		return nil, fail(BadInput, "look at the case", "there is nothing to map")
	}
	return r.First.spot(levels), nil
}

func (x *Stage) spot(levels int) *Spot {
	out := &Spot{P: x.P, Share: 1, Told: []Told{}, Kind: x.Kind, ID: x.ID, Title: x.Title, Minutes: x.Minutes, Money: x.Money, Days: x.Days, Spots: []*Spot{}}
	if len(x.Tops) > 0 {
		out.Top = &x.Tops[0]
	}
	if levels == 1 || x.Folded {
		out.More = x.Folded && x.Kind != "stop" || len(x.Ways) > 0
		return out
	}
	ways := slices.Clone(x.Ways)
	slices.SortStableFunc(ways, func(a, b Way) int { return cmp.Compare(b.P, a.P) })
	rest := &Spot{When: "anything else", Told: []Told{}, Rest: true, Spots: []*Spot{}}
	for i, w := range ways {
		if i >= mapBranches || x.P*w.P < mapLeast {
			rest.Share += w.P
			continue
		}
		next := &Spot{P: x.P * w.P, Kind: "stop", Works: w.Works, Spots: []*Spot{}}
		if w.Next != nil {
			next = w.Next.spot(levels - 1)
		}
		next.When, next.Share, next.Told = w.Brief, w.P, w.Told
		out.Spots = append(out.Spots, next)
	}
	if rest.P = x.P * rest.Share; rest.P > 1e-4 {
		out.Spots = append(out.Spots, rest)
	}
	return out
}
