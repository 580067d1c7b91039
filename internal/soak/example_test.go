package soak_test

import (
	"fmt"
	"time"

	"fettler/internal/soak"
)

// The hum of an invented loudspeaker came back about every twenty minutes, only
// when warm; three sightings. The repair leaves one chance in four that it is still there.
func Example() {
	q := soak.Question{
		History: soak.History{Pattern: soak.OnAverage, EveryMin: 20, Seen: 3, When: soak.Warm},
		Still:   0.25,
	}
	p, err := soak.Make(q)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range p.Steps {
		fmt.Printf("%s for %.0f min, counts: %v\n", s.Kind, s.OnMin, s.Counts)
	}

	seven := time.Date(2030, 3, 1, 19, 0, 0, 0, time.UTC)
	events := []soak.Event{{At: seven, Kind: soak.Started}}
	t, err := soak.Follow(q, events, seven.Add(50*time.Minute))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.0f of %.0f min if clean, then fixed with %.0f %%\n", t.State, t.Pending, t.Need, 100*t.IfClean)
	// Output:
	// warm up for 20 min, counts: false
	// run for 51 min, counts: true
	// running: 30 of 51 min if clean, then fixed with 91 %
}
