package casework_test

import (
	"slices"
	"strings"
	"testing"

	"fettler/internal/casework"
)

// That the whole works says that what it came with is gone; that nothing else
// shows follows from it, and does not count as looked for. The journal reads so.
func TestWorksSaysWhatIsGone(t *testing.T) {
	b, j := newBench(t)
	for _, x := range []struct {
		name  string
		deeds []casework.Deed
		test  casework.Testing
		known []string // told by the test
		words string
	}{
		{"a complaint", []casework.Deed{casework.Noticing{Answers: yes("hums")}, casework.Noticing{Answers: no("smell")}, casework.Repairing{Repair: "supply.recap"}},
			casework.Testing{Works: true}, []string{"hums"}, "tested the whole: it works; no more: hums"},
		{"one that came up meanwhile", []casework.Deed{casework.Noticing{Answers: yes("dead")}, casework.Repairing{Repair: "supply.new-fuse"},
			casework.Testing{Answers: append(yes("hums"), no("dead")...)}, casework.Repairing{Repair: "supply.recap"}},
			casework.Testing{Works: true}, []string{"dead", "hums"}, "tested the whole: it works; no more: completely dead; hums"},
		{"others looked for", []casework.Deed{casework.Noticing{Answers: yes("hums")}, casework.Repairing{Repair: "supply.recap"}},
			casework.Testing{Works: true, Answers: no("smell")}, []string{"hums", "smell"}, "tested the whole: it works; no more: hums; smells burnt: no"},
	} {
		id := loudspeaker(t, b, append(x.deeds, x.test)...)
		v := view(t, b, id)
		var got []string
		implied := map[string]bool{}
		for _, k := range v.Known {
			if k.From == "tested" && k.Event == v.Header.Seq {
				if !k.Implied {
					got = append(got, k.Finding)
				} else {
					implied[k.Finding] = true
				}
				if !k.Denied {
					t.Errorf("%s: %+v", x.name, k)
				}
			}
		}
		if strings.Join(got, " ") != strings.Join(x.known, " ") {
			t.Errorf("%s: the test tells of %v, want %v", x.name, got, x.known)
		}
		if dead := !slices.Contains(x.known, "dead"); implied["dead"] != dead {
			t.Errorf("%s: what works is not dead: implied %v, want %v", x.name, implied["dead"], dead)
		}
		if last := v.Timeline[len(v.Timeline)-1].Words; last != x.words {
			t.Errorf("%s: the journal reads %q, want %q", x.name, last, x.words)
		}
		if !v.Works {
			t.Errorf("%s: it does not count as working", x.name)
		}
	}

	// Without a complaint it must mean that nothing shows; but nobody looked.
	id := loudspeaker(t, b, casework.Repairing{Repair: "supply.recap"}, casework.Testing{Works: true})
	v := view(t, b, id)
	for _, k := range v.Known {
		if !k.Implied || !k.Denied {
			t.Errorf("without a complaint: %+v", k)
		}
	}
	if len(v.Known) == 0 || v.Timeline[len(v.Timeline)-1].Words != "tested the whole: it works" {
		t.Errorf("without a complaint: %d known, %q", len(v.Known), v.Timeline[len(v.Timeline)-1].Words)
	}
	if c := project(t, j, id); !c.Works {
		t.Error("it does not count as working")
	}
}
