package browsertest

import (
	"testing"
	"time"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/web"
	"fettler/library"
)

// TestProofAndLearning looks whether the pages of proof, learning, finding and
// taking along are sound on a phone and at a desk, and whether the soak's clock ticks.
func TestProofAndLearning(t *testing.T) {
	lib, err := library.Load(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b := casework.New(memory.New(), lib, casework.Options{Photos: memory.NewPhotos(), Files: memory.NewPhotos()})
	url := serve(t, b, web.Options{Notes: lib})
	still := 0.3
	for _, id := range []string{"one", "two", "left"} {
		_, err := b.Open(t.Context(), casework.Opening{ID: id, Device: "powered-loudspeaker"}, casework.Noticing{Answers: []casework.Answer{{Finding: "hum", Text: "yes"}}},
			casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true})
		if err == nil && id != "left" {
			_, err = b.Close(t.Context(), id, casework.Closing{Verdict: casework.Fixed})
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	plan := casework.SoakPlanned{SoakHistory: casework.SoakHistory{Pattern: "on average", EveryMin: 20}, Still: &still}
	if _, err := b.PlanSoak(t.Context(), "left", casework.SoakPlanning{SoakPlanned: plan}); err != nil {
		t.Fatal(err)
	}
	if _, err := b.RecordSoak(t.Context(), "left", casework.Soaking{What: "started"}); err != nil {
		t.Fatal(err)
	}
	c := browse(t, url)
	for _, p := range []string{"/case/left/soak", "/case/left/close", "/case/one/story", "/case/left", "/learnt", "/find?q=loudspeaker", "/take-along"} {
		c.media("light")
		c.open(p)
		c.soundEverywhere(p)
	}
	c.open("/case/left/soak")
	clock := func() string { return eval[string](c, `document.querySelector("[data-clock]").textContent`) }
	for first, until := clock(), time.Now().Add(10*time.Second); clock() == first; {
		if time.Now().After(until) {
			t.Fatalf("the clock stands at %s", first)
		}
		time.Sleep(100 * time.Millisecond)
	}
}
