package casework_test

import (
	"slices"
	"testing"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/store/memory"
	"fettler/library"
)

// brought are devices of the shipped notes with what they came with.
var brought = []struct {
	device string
	came   []casework.Answer
}{
	{"kettle", yes("base.wont-stay-on")},
	{"vacuum-mains", answers("burnt-smell", "yes", "airway.no-suction", "yes")},
	{"toaster", yes("dead")},
}

// What is announced to follow a result is what is advised once that is written down, after the likeliest
// and after the least likely result alike; and so is what a what-if says of it.
func TestWhatIsForetoldComes(t *testing.T) {
	lib, err := note.Load(ctx, library.Notes())
	if lib == nil {
		t.Fatal(err)
	}
	b := casework.New(memory.New(), lib, casework.Options{})
	quick, likely, laid, supposed, all := 0, 0, 0, 0, 0
	for _, d := range brought {
		deeds := []casework.Deed{casework.Noticing{Answers: d.came}}
		for range 2 {
			id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: d.device}, deeds...)).Case
			v := view(t, b, id)
			if v.Next == nil || v.Next.Kind != "check" {
				break
			}
			deep := ok[*casework.View](t)(b.LaidOut(ctx, id))
			check := *v.Next
			var first casework.Deed
			for _, k := range slices.Compact([]int{0, len(check.Results) - 1}) {
				r := check.Results[k]
				deed := casework.Checking{By: casework.By{Really: true}, Check: check.ID, Answers: told(r)}
				if k == 0 {
					first = deed
				}
				other := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: d.device}, append(slices.Clone(deeds), deed)...)).Case
				then := view(t, b, other)
				title := "leave off"
				if then.Next != nil {
					title = then.Next.Title
				}
				all++
				same := func(n *int, what, said string) {
					if equalTitle(said, title) {
						*n++
					} else {
						t.Logf("%s, %s (%.3f): %s %q, then %q", d.device, r.Words, r.P, what, said, title)
					}
				}
				if k == 0 && r.P >= 0.25 {
					likely++
					same(&quick, "announced at once", r.Then)
				}
				if deep.Next != nil && deep.Next.ID == check.ID {
					same(&laid, "announced with the plan laid out", deep.Next.Results[k].Then)
				} else {
					same(&laid, "with the plan laid out first", deep.Next.Title)
				}
				w := ok[*casework.WhatIf](t)(b.WhatIf(ctx, id, deed))
				if w.Would.Next != nil {
					same(&supposed, "what if", w.Would.Next.Title)
				}
			}
			if first == nil {
				break
			}
			deeds = append(deeds, first)
		}
	}
	if all < 8 || likely < 4 || quick < likely || laid < all || supposed < all {
		t.Errorf("of %d likely results %d were announced rightly at once; of %d in all %d with the plan laid out, %d by a what-if", likely, quick, all, laid, supposed)
	}
}

func told(r casework.Result) []casework.Answer {
	var out []casework.Answer
	for _, x := range r.Told {
		out = append(out, casework.Answer{Finding: x.Finding, Text: x.Text})
	}
	return out
}

// equalTitle says that two titles name the same move.
func equalTitle(a, b string) bool {
	if a == "try the whole device" {
		a = "Try the whole device"
	}
	if a == "leave off" {
		a = "Leave off"
	}
	if b == "leave off" {
		b = "Leave off"
	}
	return a == b
}
