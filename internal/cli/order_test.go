package cli_test

import (
	"strings"
	"testing"

	"fettler/internal/cli"
)

// -c, and any other flag, may stand before the command and anywhere after it.
func TestFlagsInAnyPlace(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "powered loudspeaker", "--label", "Hall left", "--id", "left")
	b.must("take-in", "kettle", "--id", "kettle")
	for _, args := range [][]string{
		{"-c", "left", "check", "ripple", "ripple=3.2V"},
		{"check", "-c", "left", "ripple", "ripple=3.2V"},
		{"check", "ripple", "-c", "left", "ripple=3.2V"},
		{"check", "ripple", "-cleft", "ripple=3.2V"},
		{"check", "ripple", "--case=left", "ripple=3.2V", "--minutes", "4"},
		{"check", "ripple", "ripple=3.2V", "--minutes", "4", "-c", "left"},
		{"check", "left", "--minutes", "4", "ripple", "-c", "left", "ripple=3.2V"},
		{"say", "it hums", "-c", "left"},
		{"say", "-c", "left", "it hums"},
		{"notice", "hum=yes", "-c", "left", "silent=no"},
		{"repair", "supply.recap", "-c", "left", "--minutes", "20", "--meant"},
		{"test", "still", "-c", "left", "hum=yes"},
		{"correct", "-c", "left", "2", "check", "ripple", "ripple=3.1V"},
		{"correct", "2", "-c", "left", "check", "ripple", "ripple=3.1V"},
		{"correct", "2", "check", "ripple", "-c", "left", "ripple=3.1V"},
		{"part", "read", "brown", "--json", "black", "red", "gold"},
		{"note", "show", "-c", "left", "kettle"},
	} {
		if out, errs, exit := b.run(args...); exit != cli.OK || args[0] != "part" && args[0] != "note" && !strings.Contains(out, "(left)") {
			t.Errorf("fettler %q: exit %d\n%s%s", args, exit, out, errs)
		}
	}
	if _, errs, exit := b.run("check", "ripple", "-c", "left"); exit != cli.Usage || !strings.Contains(errs, "fettler check supply.ripple -c left ripple=...V") {
		t.Errorf("what is to be filled in lost the case: exit %d: %s", exit, errs)
	}
	if _, errs, exit := b.run("say", "-c", "left", "it", "hums"); exit != cli.Usage || !strings.Contains(errs, "-c left already") {
		t.Errorf("a case named twice: exit %d: %s", exit, errs)
	}
	if _, errs, exit := b.run("remark", "-c", "left", "--", "-5 V on the rail"); exit != cli.OK {
		t.Errorf("a text after --: exit %d: %s", exit, errs)
	}
}

// One letter before a text may be the beginning of a case or of the text.
func TestALetterBeforeAText(t *testing.T) {
	b := newBench(t)
	b.must("take-in", "kettle", "--label", "Moka", "--id", "one")
	if out, errs, exit := b.run("say", "M", "it does not heat"); exit != cli.OK || !strings.Contains(out, "Moka (one)") {
		t.Errorf("a text in quotes: exit %d\n%s%s", exit, out, errs)
	}
	if _, errs, exit := b.run("say", "M", "leaks"); exit != cli.Usage || !strings.Contains(errs, `fettler say "M leaks"`) || !strings.Contains(errs, "fettler say one leaks") {
		t.Errorf("a word: exit %d: %s", exit, errs)
	}
	b.must("take-in", "kettle", "--label", "Mill", "--id", "two")
	if _, errs, exit := b.run("say", "M", "it leaks"); exit != cli.Ambiguous || !strings.Contains(errs, `fettler say one "it leaks"`) || !strings.Contains(errs, `fettler say two "it leaks"`) || !strings.Contains(errs, `"M"`) {
		t.Errorf("two cases: exit %d: %s", exit, errs)
	}
}
