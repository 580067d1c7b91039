package note

// The keys of a block, and of the part of a device that has its shape.

var blockKeys = append([]key[blockDef]{
	required(name("block", "the block's name", ref("name"), func(b *blockDef) **node { return &b.id })),
}, bodyKeys(func(b *blockDef) *blockDef { return b })...)

// bodyKeys are what a block and a device share.
func bodyKeys[T any](body func(*T) *blockDef) []key[T] {
	return []key[T]{
		required(text("title", "what it is called, in plain words", func(v *T) *string { return &body(v).title })),
		text("about", "a sentence or two on what it is", func(v *T) *string { return &body(v).about }),
		things("needs", "conditions that another block supplies", "condition", "condition", condKeys, func(v *T, n *node) *condDef {
			return grow(&body(v).needs, condDef{name: n})
		}, false),
		things("gives", "conditions this block makes for others", "condition", "condition", condKeys, func(v *T, n *node) *condDef {
			return grow(&body(v).gives, condDef{name: n})
		}, false),
		things("inside", "conditions nobody outside needs to know", "condition", "condition", condKeys, func(v *T, n *node) *condDef {
			return grow(&body(v).inside, condDef{name: n})
		}, false),
		things("parts", "what can fail", "part", "part", partKeys, func(v *T, n *node) *partDef {
			return grow(&body(v).parts, partDef{name: n, count: 1})
		}, false),
		things("symptoms", "what is seen, heard or smelt from outside for free", "symptom", "finding", findKeys, func(v *T, n *node) *findDef {
			return grow(&body(v).symptoms, findDef{name: n, leak: defaultLeak})
		}, false),
		things("checks", "what one does to learn something", "check", "check", checkKeys, func(v *T, n *node) *checkDef {
			return grow(&body(v).checks, checkDef{name: n})
		}, false),
		things("repairs", "what one does to put it right", "repair", "repair", repairKeys, func(v *T, n *node) *repairDef {
			return grow(&body(v).repairs, repairDef{name: n, success: defaultSuccess})
		}, false),
	}
}

// grow appends and returns the place of the new member.
func grow[T any](list *[]T, v T) *T {
	*list = append(*list, v)
	return &(*list)[len(*list)-1]
}

var condKeys = []key[condDef]{
	text("title", "the condition in plain words", func(c *condDef) *string { return &c.title }),
	required(names("states", "its states from good to worst, such as [good, low, absent]", ref("text"), func(c *condDef) *[]*node { return &c.states })),
	{name: "from", doc: "what upstream trouble does here: {upstream: {its state: state here}}; a state left out passes to the state of the same name",
		shape: mapOf(orNull(mapOf(ref("text")))), read: readFrom},
	names("overload", "the fault mode that an overload on this brings about, or the need to hand it on to", ref("text"), func(c *condDef) *[]*node { return &c.overload }),
}

func readFrom(s *sink, n *node, c *condDef) {
	if n.kind != mapping {
		if !n.null() {
			s.fail(n, "expected {upstream: {its state: state here}}", "%s is not a mapping", n.what())
		}
		return
	}
	for i, k := range n.keys {
		c.from = append(c.from, fromDef{k, readPairs(s, n.vals[i])})
	}
}

var partKeys = []key[partDef]{
	text("title", "the part in plain words", func(p *partDef) *string { return &p.title }),
	name("kind", "its kind, from the table of kinds", ref("text"), func(p *partDef) **node { return &p.kind }),
	text("mark", "designators, such as C1, C2", func(p *partDef) *string { return &p.mark }),
	text("value", "value and rating, such as 4700 µF 63 V", func(p *partDef) *string { return &p.value }),
	count("count", "how many alike there are", func(p *partDef) *int { return &p.count }),
	class(func(p *partDef) **node { return &p.class }),
	text("subclass", "a finer class in free words", func(p *partDef) *string { return &p.subclass }),
	required(things("modes", "the ways in which it fails", "mode", "mode", modeKeys, func(p *partDef, n *node) *modeDef {
		return grow(&p.modes, modeDef{name: n, factor: 1, rate: -1})
	}, true)),
}

var modeKeys = []key[modeDef]{
	text("title", "the fault in plain words", func(m *modeDef) *string { return &m.title }),
	number("factor", "how much more often than usual it fails this way here", 1e4, func(m *modeDef) *float64 { return &m.factor }),
	number("rate", "faults per million hours, stated instead of derived from the kind", 1e5, func(m *modeDef) *float64 { return &m.rate }),
	class(func(m *modeDef) **node { return &m.class }),
	text("subclass", "a finer class in free words", func(m *modeDef) *string { return &m.subclass }),
	pairs("does", "the least severity it forces, for certain: {condition: state}", func(m *modeDef) *[]pairDef { return &m.does }),
	odds("overloads", "the conditions it overloads: {need: chance}", func(m *modeDef) *[]oddsDef { return &m.overloads }),
	odds("brings", "the faults it brings about: {part mode: chance}", func(m *modeDef) *[]oddsDef { return &m.brings }),
}
