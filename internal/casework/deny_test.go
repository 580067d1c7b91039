package casework_test

import (
	"testing"

	"fettler/internal/casework"
)

// What runs, loudly or for a minute, is not dead: the lead and the fuse in its plug
// are good enough, though nobody said so. (Common practice, no source.)
func TestWhatRunsIsNotDead(t *testing.T) {
	b := shipped(t)
	fuse := func(deeds ...casework.Deed) (chance float64, v *casework.View) {
		r, err := b.Open(ctx, casework.Opening{Device: "vacuum-mains"}, deeds...)
		if err != nil {
			t.Fatal(err)
		}
		v = view(t, b, r.Case)
		for _, s := range v.Suspects {
			if s.Mode == "lead.plug-fuse.blown" {
				chance = s.Now
			}
		}
		return chance, v
	}
	fresh, _ := fuse()
	runs, v := fuse(casework.Noticing{Answers: yes("cuts-out")})
	if fresh == 0 || runs > fresh/10 {
		t.Errorf("plug fuse %.4f before, %.4f where it runs and stops by itself", fresh, runs)
	}
	implied := false
	for _, k := range v.Known {
		implied = implied || k.Finding == "dead" && k.Denied && k.Implied
	}
	if !implied {
		t.Errorf("that it is not dead does not follow: %+v", v.Known)
	}
	// Said to be dead as well, that stands.
	both, v := fuse(casework.Noticing{Answers: yes("cuts-out")}, casework.Noticing{Answers: yes("dead")})
	for _, k := range v.Known {
		if k.Finding == "dead" && k.Denied {
			t.Errorf("said to be dead, yet %+v", k)
		}
	}
	if both < fresh {
		t.Errorf("plug fuse %.4f, said to be dead too %.4f", fresh, both)
	}
}
