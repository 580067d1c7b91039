package words_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/words"
)

func generalIndex(t testing.TB) *words.Index {
	t.Helper()
	x, err := words.NewIndex(words.General())
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// said gives ids in the order said: "!" denied, "~" only sometimes, and the
// doubtful ones after "?".
func said(r words.Reading) string {
	var out []string
	for _, m := range r.Matches {
		out = append(out, mark(m))
	}
	for _, g := range r.Doubtful {
		var alt []string
		for _, m := range g {
			alt = append(alt, mark(m))
		}
		out = append(out, "?"+strings.Join(alt, "|"))
	}
	return strings.Join(out, " ")
}

func mark(m words.Match) string {
	s := m.ID
	if m.Intermittent {
		s = "~" + s
	}
	if m.Denied {
		s = "!" + s
	}
	return s
}

// The sentences are made up for this test: common practice, no source.
func TestReadGeneral(t *testing.T) {
	x := generalIndex(t)
	for _, c := range []struct{ name, text, want string }{
		{"contraction without apostrophe", "wont turn on", "dead"},
		{"contraction with a stray half", "doesn t turn on", "dead"},
		{"typographic apostrophe", "won’t power up", "dead"},
		{"wrong contraction and a slip", "dosent swich on, buzing noise", "dead hum"},
		{"two clauses", "makes a burning smell then trips", "smell trips"},
		{"but", "humming but no music", "hum no-sound"},
		{"denied, then stated", "no smell, lamp flickers", "!smell flicker"},
		{"works fine but", "works fine but only left channel works", "!not-working one-channel"},
		{"negator over or", "does not turn on or charge", "dead no-charge"},
		{"no over or", "no smell or smoke", "!smell !smoke"},
		{"no over and", "no sound and picture", "no-sound no-picture"},
		{"two parts, one predicate", "the display and sound are not working", "no-picture no-sound"},
		{"affirmed deed", "heats fine", "!no-heat"},
		{"affirmed part", "Sound is fine but no picture", "!no-sound no-picture"},
		{"limited deed denies nothing", "works on battery", ""},
		{"condition denies nothing", "when it heats it smells", "smell"},
		{"not any more", "not noisy any more", "!noise"},
		{"never any", "never any sparks", "!sparks"},
		{"stopped doing", "Stopped heating, still spins.", "no-heat !no-spin"},
		{"does not stop doing", "doesn't stop humming", "no-stop hum"},
		{"refuses to", "refuses to start", "dead"},
		{"no longer", "no longer heats", "no-heat"},
		{"not only", "not only hums", "hum"},
		{"hedge", "sometimes cuts out after ten minutes", "intermittent ~cuts-out"},
		{"not always", "doesnt always start", "intermittent"},
		{"guess", "I think the battery is dead", "?drains"},
		{"stated cause", "needs new battery", ""},
		{"a part owns its predicate", "display does not come on", "no-picture"},
		{"compound noun", "steam cleaner not working", "not-working"},
		{"repair done", "cleaned and oiled", ""},
		{"advice given", "Suggested to replace the cracked screen", ""},
		{"British spelling", "bad odour", "smell"},
		{"said twice", "dead, no sign of life", "dead"},
		{"a list without commas, then its sum", "no heat no display completely dead", "no-heat dead"},
		{"the sum by itself denied", "no noise just dead", "!noise dead"},
		{"what follows from dead", "no light no sound completely dead", "dead"},
		{"no and the", "no heat and the display is dark", "no-heat no-picture"},
		{"no, only", "no heat only cold air", "no-heat"},
		{"still nothing", "my husband changed the fuse and still nothing", "dead"},
		{"nothing, but something", "nothing on the screen", "no-picture"},
		{"was so once", "used to be loud now very quiet", "quiet"},
		{"now", "worked fine until last week now it wont switch on", "dead"},
		{"lost what cannot be picked up", "it has lost all its suction", "no-suction"},
		{"lost a part", "it has lost its knob", "missing-part"},
		{"there, but", "sound but no picture", "!no-sound no-picture"},
		{"two letters swapped in a short word", "wont trun on", "dead"},
		{"a slip before the ending", "overheting", "too-hot"},
		{"nothing", "", ""},
		{"no words", "?! 12 --", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := said(x.Read(c.text)); got != c.want {
				t.Errorf("%q: got %q, want %q", c.text, got, c.want)
			}
		})
	}
}

// A device's own findings: the bench's words decide, synonyms only where no
// finding uses the word itself.
func TestReadDevice(t *testing.T) {
	x, err := words.NewIndex([]words.Entry{
		{ID: "hum", Title: "Hums", Phrases: []string{"hums", "low hum"}},
		{ID: "buzz", Title: "Buzzes", Phrases: []string{"buzzes"}},
		{ID: "left-dead", Title: "Left woofer silent", Phrases: []string{"no bass from the left", "left woofer dead"}},
		{ID: "hums-no-turn", Title: "Motor hums but does not turn", Phrases: []string{"hums but does not spin"}},
		{ID: "supply-low", Title: "Supply rail low", Phrases: []string{"rail voltage too low"}},
		{ID: "supply-ripple", Title: "Supply rail ripples", Phrases: []string{"ripple on the rail"}},
		{ID: "thump", Title: "Thumps when switched on", Phrases: []string{"thump at switch on"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, want string }{
		{"it hums", "hum"},
		{"buzzing", "buzz"},
		{"it drones", "?hum|buzz"},
		{"no hum at all", "!hum"},
		{"left woofer does not work", "left-dead"},
		{"it hums but won't turn", "hums-no-turn hum"},
		{"there is a thump when I turn it on", "thump"},
		{"no ripple on the rail", "!supply-ripple"},
	} {
		if got := said(x.Read(c.text)); got != c.want {
			t.Errorf("%q: got %q, want %q", c.text, got, c.want)
		}
	}
}

// Readings that exclude each other, bare words, and what one negator reaches.
// The sentences are made up for this test: common practice, no source.
func TestReadApart(t *testing.T) {
	x, err := words.NewIndex([]words.Entry{
		{ID: "dead", Title: "Completely dead", Phrases: []string{"dead", "does not turn on", "no standby light", "no light"}},
		{ID: "wont-start", Title: "Standby light on, does not start", Phrases: []string{"red light on", "light is on", "light on but does not start"}},
		{ID: "flash", Title: "Backlight flashes up", Phrases: []string{"backlight flashes up"}},
		{ID: "no-lamp", Title: "Heats, light stays off", Phrases: []string{"light not working", "no light but heats"}},
		{ID: "boils-on", Title: "Goes on boiling", Phrases: []string{"keeps boiling", "goes on boiling"}},
		{ID: "fills-on", Title: "Goes on filling", Phrases: []string{"keeps filling"}},
		{ID: "no-heat", Title: "Does not heat", Phrases: []string{"does not boil", "does not heat", "not heating"}},
		{ID: "early", Title: "Switches off before it boils", Phrases: []string{"turns off early", "does not boil"}},
		{ID: "light-no-heat", Title: "Light on, stays cold", Phrases: []string{"light on but no heat", "does not boil"}},
		{ID: "loud", Title: "Loud", Phrases: []string{"noisy"}},
		{ID: "no-suction", Title: "No suction", Phrases: []string{"no suction"}},
		{ID: "trips", Title: "Trips the breaker", Phrases: []string{"trips the breaker"}},
		{ID: "no-drain", Title: "Does not drain", Phrases: []string{"not draining"}},
		{ID: "hum", Title: "Hums", Phrases: []string{"hums"}},
		{ID: "silent", Title: "Silent", Phrases: []string{"no sound"}},
		{ID: "box-hum", Title: "The box hums", Phrases: []string{"hums even with no sound"}},
		{ID: "not-mains", Title: "Dead on mains", Phrases: []string{"does not work on mains"}},
		{ID: "not-battery", Title: "Dead on batteries", Phrases: []string{"does not work on batteries"}},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, want string }{
		{"dead, the red light is on", "wont-start ?dead"},
		{"light is on", "?wont-start"},
		{"the light", ""},
		{"backlight", ""},
		{"dead, no light", "dead !wont-start"},
		{"turns off before it boils", "early"},
		{"it keeps boiling", "boils-on"},
		{"fills", ""},
		{"light on but does not boil", "light-no-heat"},
		{"no suction and very noisy", "no-suction loud"},
		{"wont turn on and trips the breaker", "dead trips"},
		{"does not drain or heat", "no-drain no-heat"},
		{"hums but no sound", "hum silent ?box-hum"},
		{"works on mains not on batteries", "not-battery"},
		{"nothing", "dead"},
		{"works on batteries but not on mains", "not-mains"},
	} {
		if got := said(x.Read(c.text)); got != c.want {
			t.Errorf("%q: got %q, want %q", c.text, got, c.want)
		}
	}
}

func TestReadSpans(t *testing.T) {
	r := generalIndex(t).Read("the wombat hums; needs a new fuse")
	cut := func(s words.Span) string { return r.Text[s.Start:s.End] }
	if len(r.Matches) != 1 || r.Text[r.Matches[0].Start:r.Matches[0].End] != "hums" {
		t.Errorf("matches %+v, want one over \"hums\"", r.Matches)
	}
	if len(r.Unread) != 1 || cut(r.Unread[0]) != "wombat" {
		t.Errorf("unread %+v, want \"wombat\"", r.Unread)
	}
	if len(r.Causes) != 1 || !strings.HasSuffix(cut(r.Causes[0]), "fuse") {
		t.Errorf("causes %+v, want one ending in \"fuse\"", r.Causes)
	}
}

// Every phrase of the general list must state its own entry, or be offered.
func TestGeneralReadsItself(t *testing.T) {
	x := generalIndex(t)
	for _, e := range words.General() {
		for _, phrase := range e.Phrases {
			if got := said(x.Read(phrase)); !strings.Contains(got, e.ID) || strings.Contains(got, "!"+e.ID) {
				t.Errorf("%s: its phrase %q reads %q", e.ID, phrase, got)
			}
		}
	}
}

func TestNewIndexRefuses(t *testing.T) {
	for _, c := range []struct {
		name    string
		entries []words.Entry
		hint    string
	}{
		{"no id", []words.Entry{{Title: "Hums"}}, "give it one"},
		{"id twice", []words.Entry{{ID: "a"}, {ID: "a"}}, "rename one"},
		{"empty phrase", []words.Entry{{ID: "a", Phrases: []string{""}}}, "write what is seen"},
		{"phrase of fillers", []words.Entry{{ID: "a", Phrases: []string{"it is"}}}, "write what is seen"},
	} {
		_, err := words.NewIndex(c.entries)
		if err == nil || !strings.Contains(err.Error(), c.hint) {
			t.Errorf("%s: error %v, want one that says %q", c.name, err, c.hint)
		}
	}
	if _, err := words.NewIndex(nil); err != nil {
		t.Errorf("no entries: %v, want an index that finds nothing", err)
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"wont turn on", "no smell, lamp flickers", "doesn’t/it’s - a.b", "\xff\xfe turn on", "turn turn turn on on on",
		"not without no never", "stopped starting to", "’’'", "İstanbul hums", "ﬁne hum"} {
		f.Add(s)
	}
	x, err := words.NewIndex(words.General())
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := x.Read(text)
		if diff := cmp.Diff(r, x.Read(text)); diff != "" {
			t.Fatalf("read twice, read differently (-first +second):\n%s", diff)
		}
		seen := map[string]bool{}
		for _, m := range r.Matches {
			if seen[m.ID] {
				t.Fatalf("%q is matched twice", m.ID)
			}
			seen[m.ID] = true
			checkMatch(t, text, m)
		}
		for _, g := range r.Doubtful {
			if len(g) == 0 {
				t.Fatal("an empty group of alternatives")
			}
			for _, m := range g {
				checkMatch(t, text, m)
			}
		}
		for _, s := range append(r.Unread, r.Causes...) {
			checkSpan(t, text, s.Start, s.End)
		}
	})
}

func checkMatch(t *testing.T, text string, m words.Match) {
	t.Helper()
	checkSpan(t, text, m.Start, m.End)
	if !(m.Score > 0 && m.Score <= 1) {
		t.Fatalf("%s: score %v is not in (0, 1]", m.ID, m.Score)
	}
}

func checkSpan(t *testing.T, text string, start, end int) {
	t.Helper()
	if start < 0 || end <= start || end > len(text) {
		t.Fatalf("span [%d, %d) is not within %d bytes", start, end, len(text))
	}
	if utf8.ValidString(text) && !utf8.ValidString(text[start:end]) {
		t.Fatalf("span [%d, %d) cuts a character", start, end)
	}
}

func BenchmarkNewIndex(b *testing.B) {
	entries := words.General()
	for b.Loop() {
		if _, err := words.NewIndex(entries); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRead(b *testing.B) {
	x := generalIndex(b)
	for b.Loop() {
		x.Read("turns on fine, hums a bit, but there's no sound from the left speaker and it smells hot after ten minutes")
	}
}

func ExampleIndex_Read() {
	x, err := words.NewIndex(words.General())
	if err != nil {
		fmt.Println(err)
		return
	}
	r := x.Read("Turns on but no sound, sometimes crackles. No smell.")
	for _, m := range r.Matches {
		fmt.Printf("%s denied=%t intermittent=%t %q\n", m.ID, m.Denied, m.Intermittent, r.Text[m.Start:m.End])
	}
	// Output:
	// dead denied=true intermittent=false "Turns on"
	// no-sound denied=false intermittent=false "sound"
	// intermittent denied=false intermittent=false "sometimes"
	// crackle denied=false intermittent=true "crackles"
	// smell denied=true intermittent=false "smell"
}
