package note

import (
	"math"
	"strconv"
	"strings"

	"fettler/internal/quantity"
)

// The readers of single values. Each returns a key that reads into a field.

// readText reads a scalar as text.
func readText(s *sink, n *node) (string, bool) {
	if n.kind != scalar || n.null() {
		s.fail(n, "", "expected a text, found %s", n.what())
		return "", false
	}
	text := strings.TrimSpace(n.text)
	if text == "" {
		s.fail(n, "", "expected a text, found an empty one")
		return "", false
	}
	return text, true
}

func text[T any](name, doc string, field func(*T) *string) key[T] {
	return key[T]{name: name, doc: doc, shape: ref("text"), read: func(s *sink, n *node, v *T) {
		if t, ok := readText(s, n); ok {
			*field(v) = t
		}
	}}
}

// texts reads a list of texts; one alone needs no brackets.
func texts[T any](name, doc string, field func(*T) *[]string) key[T] {
	return key[T]{name: name, doc: doc, shape: oneOrList(ref("text")), read: func(s *sink, n *node, v *T) {
		for _, item := range items(n) {
			if t, ok := readText(s, item); ok {
				*field(v) = append(*field(v), t)
			}
		}
	}}
}

// items returns the members of a list, or the value itself.
func items(n *node) []*node {
	switch {
	case n.kind == sequence:
		return n.vals
	case n.null():
		return nil
	}
	return []*node{n}
}

// name reads a scalar that names something else and keeps its place.
func name[T any](called, doc string, sh shape, field func(*T) **node) key[T] {
	return key[T]{name: called, doc: doc, shape: sh, read: func(s *sink, n *node, v *T) {
		if _, ok := readText(s, n); ok {
			*field(v) = n
		}
	}}
}

// names reads a list of them; one alone needs no brackets.
func names[T any](called, doc string, sh shape, field func(*T) *[]*node) key[T] {
	return key[T]{name: called, doc: doc, shape: oneOrList(sh), read: func(s *sink, n *node, v *T) {
		for _, item := range items(n) {
			if _, ok := readText(s, item); ok {
				*field(v) = append(*field(v), item)
			}
		}
	}}
}

// class reads a class of cause.
func class[T any](field func(*T) **node) key[T] {
	all := classNames()
	return key[T]{name: "class", doc: "the class of cause it is counted under", shape: ref("class"), read: func(s *sink, n *node, v *T) {
		t, ok := readText(s, n)
		switch {
		case !ok:
		case !contains(all, t):
			s.fail(n, hintNames(t, all), "unknown class %q", clip(t))
		default:
			*field(v) = n
		}
	}}
}

func classNames() []string {
	var all []string
	for _, c := range Classes() {
		all = append(all, string(c))
	}
	return all
}

func contains(all []string, s string) bool {
	for _, a := range all {
		if a == s {
			return true
		}
	}
	return false
}

func flag[T any](name, doc string, field func(*T) *bool) key[T] {
	return key[T]{name: name, doc: doc, shape: ref("flag"), read: func(s *sink, n *node, v *T) {
		yes, ok := yesNo(n)
		if !ok {
			s.fail(n, "expected true or false", "%s is neither true nor false", n.what())
			return
		}
		*field(v) = yes
	}}
}

// yesNo reads true/yes and false/no.
func yesNo(n *node) (yes, ok bool) {
	if n.kind != scalar {
		return false, false
	}
	switch n.text {
	case "true", "yes":
		return true, true
	case "false", "no":
		return false, true
	}
	return false, false
}

func readChance(s *sink, n *node) (float64, bool) {
	if n.kind != scalar {
		s.fail(n, "expected a word such as usually, or 30 %", "%s is not a chance", n.what())
		return 0, false
	}
	p, hint, err := parseChance(n.text)
	if err != nil {
		s.fail(n, hint, "%v", err)
		return 0, false
	}
	return p, true
}

func chance[T any](name, doc string, field func(*T) *float64) key[T] {
	return key[T]{name: name, doc: doc, shape: ref("chance"), read: func(s *sink, n *node, v *T) {
		if p, ok := readChance(s, n); ok {
			*field(v) = p
		}
	}}
}

// odds reads a mapping from names to chances.
func odds[T any](name, doc string, field func(*T) *[]oddsDef) key[T] {
	return key[T]{name: name, doc: doc, shape: mapOf(ref("chance")), read: func(s *sink, n *node, v *T) {
		*field(v) = append(*field(v), readOdds(s, n)...)
	}}
}

func readOdds(s *sink, n *node) []oddsDef {
	if n.kind != mapping {
		if !n.null() {
			s.fail(n, "expected names with their chances, such as {name: usually}", "%s has no chances", n.what())
		}
		return nil
	}
	out := make([]oddsDef, 0, len(n.keys))
	for i, k := range n.keys {
		if p, ok := readChance(s, n.vals[i]); ok {
			out = append(out, oddsDef{k, p})
		}
	}
	return out
}

// pairs reads a mapping from names to names.
func pairs[T any](name, doc string, field func(*T) *[]pairDef) key[T] {
	return key[T]{name: name, doc: doc, shape: mapOf(ref("text")), read: func(s *sink, n *node, v *T) {
		*field(v) = append(*field(v), readPairs(s, n)...)
	}}
}

func readPairs(s *sink, n *node) []pairDef {
	if n.kind != mapping {
		if !n.null() {
			s.fail(n, "expected {name: name}", "%s is not a mapping", n.what())
		}
		return nil
	}
	out := make([]pairDef, 0, len(n.keys))
	for i, k := range n.keys {
		if _, ok := readText(s, n.vals[i]); ok {
			out = append(out, pairDef{k, n.vals[i]})
		}
	}
	return out
}

// readNumber reads a plain number from low to high.
func readNumber(s *sink, n *node, low, high float64) (float64, bool) {
	if n.kind == scalar {
		if v, err := strconv.ParseFloat(strings.TrimSpace(n.text), 64); err == nil && v >= low && v <= high {
			return v, true
		}
	}
	hint := "expected a number of " + strconv.FormatFloat(low, 'g', -1, 64) + " or more"
	if !math.IsInf(high, 1) {
		hint = "expected a number from " + strconv.FormatFloat(low, 'g', -1, 64) + " to " + strconv.FormatFloat(high, 'g', -1, 64)
	}
	s.fail(n, hint, "%s does not do here", n.what())
	return 0, false
}

func number[T any](name, doc string, high float64, field func(*T) *float64) key[T] {
	sh := shape{"type": "number", "minimum": 0, "maximum": high}
	return key[T]{name: name, doc: doc, shape: sh, read: func(s *sink, n *node, v *T) {
		if x, ok := readNumber(s, n, 0, high); ok {
			*field(v) = x
		}
	}}
}

func count[T any](name, doc string, field func(*T) *int) key[T] {
	const most = 1000
	sh := shape{"type": "integer", "minimum": 1, "maximum": most}
	return key[T]{name: name, doc: doc, shape: sh, read: func(s *sink, n *node, v *T) {
		x, ok := readNumber(s, n, 1, most)
		if ok && x != math.Trunc(x) {
			s.fail(n, "expected a whole number", "%s does not do here", n.what())
			return
		}
		if ok {
			*field(v) = int(x)
		}
	}}
}

// measure reads a quantity of one dimension that is not negative, divided by per.
func measure[T any](name, doc, base string, per float64, field func(*T) *float64) key[T] {
	return key[T]{name: name, doc: doc, shape: ref("quantity"), read: func(s *sink, n *node, v *T) {
		t, ok := readText(s, n)
		if !ok {
			return
		}
		x, err := quantity.ParseIn(t, base)
		switch {
		case err != nil:
			s.fail(n, "", "%v", err)
		case x < 0:
			s.fail(n, "expected 0 or more", "%q is negative", clip(t))
		default:
			*field(v) = x / per
		}
	}}
}

// minutes reads a time into minutes.
func minutes[T any](name, doc string, field func(*T) *float64) key[T] {
	return measure(name, doc, "s", 60, field)
}

// days reads a number of days, with or without the word.
func days[T any](name, doc string, field func(*T) *float64) key[T] {
	timed := measure(name, doc, "s", 86400, field)
	sh := shape{"anyOf": []any{shape{"type": "number", "minimum": 0, "maximum": 365}, ref("quantity")}}
	return key[T]{name: name, doc: doc, shape: sh, read: func(s *sink, n *node, v *T) {
		x, err := strconv.ParseFloat(strings.TrimSpace(n.text), 64)
		if n.kind == scalar && err == nil {
			if !(x >= 0 && x <= 365) {
				s.fail(n, "expected 0 to 365 days", "%s days does not do here", n.what())
				return
			}
			*field(v) = x
			return
		}
		timed.read(s, n, v)
	}}
}

func cash[T any](name, doc string, field func(*T) *money) key[T] {
	return key[T]{name: name, doc: doc, shape: ref("money"), read: func(s *sink, n *node, v *T) {
		t, ok := readText(s, n)
		if !ok {
			return
		}
		q, err := quantity.ParseMoney(t)
		if err != nil {
			s.fail(n, "", "%v", err)
			return
		}
		*field(v) = money{q.Value, q.Unit, n}
	}}
}

// part of a table that holds named things of another table.
func things[T, U any](called, doc, what, def string, keys []key[U], add func(v *T, name *node) *U, empty bool) key[T] {
	inner := ref(def)
	if empty {
		inner = orNull(inner)
	}
	return key[T]{name: called, doc: doc, shape: namedMap(inner), read: func(s *sink, n *node, v *T) {
		if n.null() {
			return
		}
		if n.kind != mapping {
			s.fail(n, "expected names with what they stand for", "%s holds %s", called, n.what())
			return
		}
		for i, k := range n.keys {
			if readName(s, k) {
				readKeys(s, n.vals[i], what+" "+k.text, keys, add(v, k))
			}
		}
	}}
}
