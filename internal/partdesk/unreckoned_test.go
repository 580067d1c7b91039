package partdesk_test

import (
	"strings"
	"testing"

	"fettler/internal/failure"
	"fettler/internal/part"
	"fettler/internal/partdesk"
)

// Parts whose substitutes are not reckoned get a sentence that helps to choose by hand.
func TestInsteadOfWhatIsNotReckoned(t *testing.T) {
	b := newBench(t)
	for text, want := range map[string]string{
		"bridge": "rectifier diode 600 V 4 A", "bridge rectifier 600 V 4 A": "order of legs", "triac": "gate current", "Triac 16 A 600 V": "gate current",
		"thyristor": "off-state", "IGBT": "gate charge", "optocoupler": "isolation", "NTC 10 kΩ": "25 °C", "transformer 12 V": "insulation class", "LED": "forward voltage",
	} {
		_, err := partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: text})
		if e, ok := err.(*failure.Error); !ok || e.Code != failure.BadInput || !strings.Contains(e.Next, want) {
			t.Errorf("%s: %+v, want a next step with %q", text, err, want)
		}
	}
	for _, text := range []string{"LED driver fuse T2A 250 V", "rectifier diode 600 V 4 A"} {
		if _, err := partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: text}); err != nil {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// What a sentence gives as an example can be typed as it stands.
func TestExamplesOfParts(t *testing.T) {
	b := newBench(t)
	for _, k := range part.Kinds() {
		_, err := partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: string(k)})
		e, ok := err.(*failure.Error)
		if !ok {
			t.Errorf("%s alone: %v", k, err)
			continue
		}
		example, found := strings.CutPrefix(e.Next, "write it as in: ")
		in, err := partdesk.New(b).Instead(ctx, partdesk.InsteadAsk{Text: example})
		if !found || err != nil || in.Kind != string(k) || len(in.Unread) > 0 {
			t.Errorf("%s: the example %q gives %+v, %v", k, example, in, err)
		}
	}
}
