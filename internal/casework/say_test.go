package casework_test

import (
	"slices"
	"testing"

	"fettler/internal/casework"
)

func findings(list []casework.Heed) []string {
	var out []string
	for _, r := range list {
		out = append(out, r.Finding)
	}
	return out
}

// TestUnsay takes one of two readings of a text away; the other one stays, in
// the evidence as well, and another unsaying leaves none.
func TestUnsay(t *testing.T) {
	b, _ := newBench(t)
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker"})).Case
	h := ok[casework.Heard](t)(b.Say(ctx, id, casework.Saying{Text: "It hums. No burning smell."}))
	if got := findings(h.Read); !slices.Equal(got, []string{"hums", "smell"}) {
		t.Fatalf("read as %v", got)
	}
	for _, c := range []struct {
		finding string
		left    []string
	}{{"hums", []string{"smell"}}, {"hums", []string{"smell"}}, {"smell", nil}} {
		ok[casework.Receipt](t)(b.Unsay(ctx, id, h.Seq, c.finding, casework.By{}))
		var known []string
		for _, k := range view(t, b, id).Known {
			known = append(known, k.Finding)
		}
		if !slices.Equal(known, c.left) {
			t.Errorf("without %q: %v is known, want %v", c.finding, known, c.left)
		}
	}
	for _, c := range []struct {
		event   int
		finding string
	}{{1, "hums"}, {99, "hums"}, {0, "hums"}} {
		if _, err := b.Unsay(ctx, id, c.event, c.finding, casework.By{}); casework.CodeOf(err) != casework.NotFound {
			t.Errorf("event %d: %v", c.event, err)
		}
	}
	if _, err := b.Unsay(ctx, id, h.Seq, "nonsense", casework.By{}); casework.CodeOf(err) != casework.NotFound {
		t.Errorf("nonsense: %v", err)
	}
}

// TestSaidApart asks back where two things that by the note do not show together
// are said in one breath.
func TestSaidApart(t *testing.T) {
	b, _ := newBench(t)
	id := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Device: "test-loudspeaker"})).Case
	h := ok[casework.Heard](t)(b.Hear(ctx, id, "it is dead and it hums all the time"))
	if len(h.Read)+len(h.Doubtful) == 0 {
		t.Fatal("nothing was understood")
	}
	t.Logf("read %v, asked back %v", findings(h.Read), h.Doubtful)
	if slices.Contains(findings(h.Read), "dead") && slices.Contains(findings(h.Read), "hums") {
		t.Error("read as dead and humming at once")
	}
}
