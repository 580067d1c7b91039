package note

import (
	"strings"

	"fettler/internal/quantity"
)

// hazards reads a list of hazards: "mains", "stored charge 325 V 25 J", or
// either of them with ": special words".
func hazards[T any](field func(*T) *[]Hazard) key[T] {
	one := shape{"anyOf": []any{ref("hazard"), mapOf(ref("text"))}}
	return key[T]{name: "hazards", doc: "ways to get hurt, such as mains or stored charge 325 V 25 J", shape: oneOrList(one),
		read: func(s *sink, n *node, v *T) {
			for _, item := range items(n) {
				if item.kind != mapping {
					addHazard(s, item, "", field(v))
					continue
				}
				for i, k := range item.keys {
					if words, ok := readText(s, item.vals[i]); ok {
						addHazard(s, k, words, field(v))
					}
				}
			}
		}}
}

func addHazard(s *sink, n *node, words string, to *[]Hazard) {
	t, ok := readText(s, n)
	if !ok {
		return
	}
	if short, more, ok := strings.Cut(t, ": "); ok { // the same, written as one text in quotes
		t, words = strings.TrimSpace(short), strings.TrimSpace(more)
	}
	h := Hazard{Text: words}
	for _, k := range hazardKinds {
		if t == k.Name || strings.HasPrefix(t, k.Name+" ") {
			h.Kind = k.Name
		}
	}
	if h.Kind == "" {
		s.fail(n, hintNames(t, hazardNames()), "unknown hazard %q", clip(t))
		return
	}
	fields := strings.Fields(strings.TrimPrefix(t, h.Kind))
	for i := 0; i < len(fields); i++ {
		value := fields[i]
		if i+1 < len(fields) { // a value and its unit are two words
			value += " " + fields[i+1]
			i++
		}
		q, err := quantity.Parse(value)
		switch {
		case err != nil:
			s.fail(n, "expected volts and joules, such as stored charge 325 V 25 J", "%v", err)
			return
		case q.Value < 0:
			s.fail(n, "expected 0 or more", "%q is negative", value)
			return
		case q.Unit == "V":
			h.Volts = q.Value
		case q.Unit == "J":
			h.Joules = q.Value
		default:
			s.fail(n, "expected volts and joules, such as stored charge 325 V 25 J", "%q tells nothing about a hazard", value)
			return
		}
	}
	*to = append(*to, h)
}
