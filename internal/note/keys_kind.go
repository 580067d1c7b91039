package note

// The keys of the table of part kinds.

type kindsDef struct{ kinds []kindDef }

var kindsKeys = []key[kindsDef]{
	{name: "kinds", doc: "part kinds with base failure rates and how each kind fails", must: true,
		shape: mapOf(ref("kind")), read: readKinds},
}

// The names of kinds are words, with blanks; so they are not read by things.
func readKinds(s *sink, n *node, d *kindsDef) {
	if n.kind != mapping {
		s.fail(n, "expected names of kinds", "kinds holds %s", n.what())
		return
	}
	for i, k := range n.keys {
		readKeys(s, n.vals[i], "kind "+k.text, kindKeys, grow(&d.kinds, kindDef{name: k}))
	}
}

var kindKeys = []key[kindDef]{
	required(class(func(k *kindDef) **node { return &k.class })),
	text("subclass", "a finer class in free words", func(k *kindDef) *string { return &k.subclass }),
	required(number("rate", "faults per million hours", 1e5, func(k *kindDef) *float64 { return &k.rate })),
	required(key[kindDef]{name: "modes", doc: "how it fails, with the share of each: {short: 0.2, open: 30 %}",
		shape: namedMap(shape{"anyOf": []any{ref("chance"), objectShape(kindModeKeys)}}), read: readKindModes}),
	text("source", "where the numbers come from", func(k *kindDef) *string { return &k.source }),
}

var kindModeKeys = []key[kindMode]{
	required(chance("share", "the share of this kind's faults", func(m *kindMode) *float64 { return &m.share })),
	text("title", "the fault in plain words, to stand behind the part's title", func(m *kindMode) *string { return &m.title }),
	class(func(m *kindMode) **node { return &m.class }),
	text("subclass", "a finer class in free words", func(m *kindMode) *string { return &m.subclass }),
}

func readKindModes(s *sink, n *node, k *kindDef) {
	if n.kind != mapping {
		s.fail(n, "expected {mode: share}", "%s does not say how often each mode happens", n.what())
		return
	}
	sum := 0.0
	for i, name := range n.keys {
		m := kindMode{name: name}
		switch v := n.vals[i]; {
		case !readName(s, name):
			continue
		case v.kind == mapping:
			readKeys(s, v, "mode "+name.text, kindModeKeys, &m)
		default:
			m.share, _ = readChance(s, v)
		}
		sum += m.share
		k.modes = append(k.modes, m)
	}
	if sum > 1.02 {
		s.fail(n, "they must add up to 1 at most", "the shares of the modes add up to %.3g", sum)
	}
}
