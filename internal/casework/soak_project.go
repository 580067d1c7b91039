package casework

import (
	"encoding/json"
	"fmt"

	"fettler/internal/quantity"
	"fettler/internal/soak"
)

const (
	mostStill    = 0.9999 // beyond it nothing is to be proved
	assumedStill = 0.5    // where nothing can be reckoned and nobody says
)

// proof is what the events of proof amount to. The zero value is nothing done.
type proof struct {
	soaks  []soaking // in the order they were planned
	points map[string]pointNow
}

// soaking is one soak; it speaks of the epoch it was planned in.
type soaking struct {
	plan   SoakPlanned
	event  int
	epoch  int
	looks  int // observations known when it was planned
	events []soak.Event
	log    []int // events of the journal
	failed bool
}

type pointNow struct {
	event int
	done  PointDone
}

// takeProof applies an event of proof that counts.
func (c *Case) takeProof(e Event, data json.RawMessage) error {
	switch e.Kind {
	case KindSoakPlanned:
		return with(e, data, func(p SoakPlanned) {
			c.proof.soaks = append(c.proof.soaks, soaking{plan: p, event: e.Seq, epoch: len(c.Evidence.Acts), looks: len(c.Evidence.Seen)})
		})
	case KindSoaked:
		return with(e, data, func(p Soaked) { c.soaked(e, p) })
	case KindGoneOver:
		return with(e, data, func(p GoneOver) {
			if c.proof.points == nil {
				c.proof.points = map[string]pointNow{}
			}
			for _, x := range p.Points {
				if x.Result == "" {
					delete(c.proof.points, x.Point)
					continue
				}
				c.proof.points[x.Point] = pointNow{e.Seq, x}
			}
		})
	}
	return nil
}

func (c *Case) soaked(e Event, p Soaked) {
	k := c.soakNow()
	if k == nil {
		c.Ignored = append(c.Ignored, fmt.Sprintf("event %d: no soak has been planned", e.Seq))
		return
	}
	k.events = append(k.events, soak.Event{At: e.At, Kind: soak.EventKind(p.What), Heat: soak.Heat(p.Heat)})
	k.log = append(k.log, e.Seq)
	if p.What == string(soak.Recurred) {
		k.failed = true
		c.Works = false
		c.look(e, "soaked", p.Values, 0)
	}
}

// soakNow is the soak of the present epoch, nil if there is none.
func (c *Case) soakNow() *soaking {
	n := len(c.proof.soaks)
	if n == 0 || c.proof.soaks[n-1].epoch != len(c.Evidence.Acts) {
		return nil
	}
	return &c.proof.soaks[n-1]
}

// on says whether the device is on.
func (k *soaking) on() bool {
	on := false
	for _, e := range k.events {
		switch e.Kind {
		case soak.Started:
			on = true
		case soak.Paused, soak.Recurred:
			on = false
		}
	}
	return on
}

func (p SoakPlanned) question(still float64) soak.Question {
	return soak.Question{History: p.soak(), Still: still, Confidence: p.Sure}
}

// proofWords is an event of proof in words.
func (c *Case) proofWords(e Event, data json.RawMessage) (string, error) {
	words := ""
	var err error
	switch e.Kind {
	case KindSoakPlanned:
		err = with(e, data, func(p SoakPlanned) { words = "soak planned: before the repair it showed " + p.SoakHistory.Words() })
	case KindSoaked:
		err = with(e, data, func(p Soaked) {
			words = map[string]string{"started": "soak: switched on", "paused": "soak: clean until switched off", "clean": "soak: still runs clean", "recurred": "soak: it came back"}[p.What]
			if p.Heat != "" {
				words += ", " + p.Heat
			}
			words = joined(": ", words, c.valueWords(p.Values))
		})
	case KindGoneOver:
		err = with(e, data, func(p GoneOver) {
			words = "test list"
			for i, x := range p.Points {
				sep := "; "
				if i == 0 {
					sep = ": "
				}
				result := x.Result
				if result == "" {
					result = "taken back"
				}
				words += sep + joined(", ", pointTitle(x.Point)+" "+result, x.Words)
			}
		})
	}
	return words, err
}

// Words is the history as one says it.
func (h SoakHistory) Words() string {
	words := h.Pattern
	switch soak.Pattern(h.Pattern) {
	case soak.EachTime:
		words = "each time it was switched on"
		if h.Of > 0 {
			words += fmt.Sprintf(" (tried %d times)", h.Of)
		}
	case soak.OnAverage:
		words = "about every " + span(h.EveryMin)
		if h.Seen > 0 {
			words += fmt.Sprintf(" (seen %d times)", h.Seen)
		}
	case soak.InTime:
		words = fmt.Sprintf("%d times in %s", h.Times, span(h.InMin))
		if h.Times == 1 {
			words = "once in " + span(h.InMin)
		}
	case soak.OfStarts:
		words = fmt.Sprintf("at %d of %d starts", h.Shown, h.Of)
	}
	switch soak.When(h.When) {
	case soak.Cold:
		words += ", only while cold"
	case soak.Warm:
		words += ", only when warmed through"
	case soak.Late:
		words += ", only after " + span(h.AfterMin) + " of running"
	}
	return words
}

// span is a length of time in words.
func span(min float64) string {
	switch {
	case min < 0.995:
		return fmt.Sprintf("%.0f s", 60*min)
	case min < 9.95:
		return fmt.Sprintf("%.2g min", min)
	case min < 90:
		return fmt.Sprintf("%.0f min", min)
	case min < 48*60:
		return fmt.Sprintf("%.3g h", min/60)
	}
	return quantity.Plain(min/60/24, 3) + " days"
}
