package casework_test

import (
	"testing"

	"fettler/internal/casework"
)

func TestFindDevice(t *testing.T) {
	b, _ := newBench(t)
	for text, want := range map[string]struct {
		first string
		sure  bool
	}{
		"test-loudspeaker":              {"test-loudspeaker", true},
		"Active Speaker":                {"test-loudspeaker", true},
		"powered loudspeakers":          {"test-loudspeaker", true},
		"powerd loudspeaker":            {"test-loudspeaker", true},  // a slip
		"loudspeker":                    {"test-loudspeaker", false}, // nothing but a slip: ask
		"luodspeaker":                   {"test-loudspeaker", false}, // two letters swapped
		"old Zorblax studio monitor":    {"test-loudspeaker", true},  // a name nobody knows is no hindrance
		"music box with a ballerina":    {"test-music-box", true},
		"a lamp":                        {"generic-lamp", true},
		"invented":                      {"test-music-box", false}, // two are: ask which
		"something from another planet": {"generic-lamp", false},   // nothing fits: the generics
	} {
		f := ok[casework.Found](t)(b.FindDevice(ctx, text))
		if len(f.Devices) == 0 || f.Devices[0].ID != want.first || f.Sure != want.sure {
			t.Errorf("%q: sure %v, %+v; want %s, sure %v", text, f.Sure, f.Devices, want.first, want.sure)
		}
	}
	if f := ok[casework.Found](t)(b.FindDevice(ctx, "zzz")); !f.None || f.Sure {
		t.Errorf("zzz was found: %+v", f)
	}
	for _, text := range []string{"", "  ", "?!", "the"} {
		if _, err := b.FindDevice(ctx, text); casework.CodeOf(err) != casework.BadInput {
			t.Errorf("%q: %v", text, err)
		}
	}
}

func FuzzFindDevice(f *testing.F) {
	b, _ := newBench(f)
	for _, s := range []string{"active speaker", "ß", "\xff\xfe", "a b c d e f", "музыка"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if _, err := b.FindDevice(ctx, s); err != nil && casework.CodeOf(err) != casework.BadInput {
			t.Error(err)
		}
	})
}

func TestFindCase(t *testing.T) {
	b, _ := newBench(t)
	for id, label := range map[string]string{"aaa-1": "Hall, left", "aaa-2": "Hall, right", "bbb-1": ""} {
		ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{ID: id, Device: "test-loudspeaker", Label: label}))
	}
	ok[casework.Receipt](t)(b.Remark(ctx, "aaa-1", casework.Remarking{Text: "x"}))
	ok[casework.Receipt](t)(b.Close(ctx, "bbb-1", casework.Closing{Verdict: casework.PassedOn}))
	for text, want := range map[string]string{"": "aaa-1", "aaa-2": "aaa-2", "bbb": "bbb-1", "hall, LEFT": "aaa-1", "right": "aaa-2", "invented": "bbb-1"} {
		if got, err := b.FindCase(ctx, text); err != nil || got != want {
			t.Errorf("%q: %q, %v; want %q", text, got, err, want)
		}
	}
	for text, code := range map[string]casework.Code{"aaa": casework.Ambiguous, "hall": casework.Ambiguous, "zzz": casework.NotFound} {
		if _, err := b.FindCase(ctx, text); casework.CodeOf(err) != code {
			t.Errorf("%q: %v, want %s", text, err, code)
		}
	}
	if list := ok[[]casework.Listed](t)(b.List(ctx)); list[0].Case != "bbb-1" || list[0].State != casework.Done || list[0].Verdict != casework.PassedOn {
		t.Errorf("list %+v", list)
	}
}

// A category without a note of its own opens with the generic note, or with none.
func TestGeneric(t *testing.T) {
	b, _ := newBench(t)
	lamp := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Category: "Lamp"})).Case
	if v := view(t, b, lamp); v.Source.Note != "generic-lamp" || !v.Source.Generic || len(v.Suspects) == 0 {
		t.Errorf("lamp: %+v", v.Source)
	}
	toaster := ok[casework.Receipt](t)(b.Open(ctx, casework.Opening{Category: "Toaster", Label: "toaster"}, casework.Saying{Text: "does not pop up"})).Case
	ok[casework.Receipt](t)(b.RecordRepair(ctx, toaster, casework.Repairing{What: "bent the latch", Minutes: num(12), Money: num(1)}))
	ok[casework.Receipt](t)(b.RecordTest(ctx, toaster, casework.Testing{Works: true}))
	ok[casework.Receipt](t)(b.Close(ctx, toaster, casework.Closing{Verdict: casework.Fixed, Kg: num(1.2)}))
	v := view(t, b, toaster)
	if v.Source.Trouble == "" || v.NoNext == "" || v.Header.Minutes != 15 || v.Header.Money != 1 || v.Outcome.Kg != 1.2 || len(v.Timeline) != 5 {
		t.Errorf("toaster: %+v, outcome %+v, trouble %q", v.Header, v.Outcome, v.Source.Trouble)
	}
}
