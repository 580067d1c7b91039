package note

// The keys of a device.

var deviceKeys = append(append([]key[deviceDef]{
	required(name("device", "the device's name; one that starts with generic- stands for devices not in the library", ref("name"), func(d *deviceDef) **node { return &d.id })),
	required(name("category", "product category of the open repair data standard", ref("category"), func(d *deviceDef) **node { return &d.category })),
	texts("names", "other words people use for it", func(d *deviceDef) *[]string { return &d.names }),
	measure("mass", "the mass of one, such as 7.5 kg", "kg", 1, func(d *deviceDef) *float64 { return &d.mass }),
	cash("worth", "what a working one is worth second-hand, such as 70 EUR", func(d *deviceDef) *money { return &d.worth }),
	cash("scrap", "what a dead one is worth for its parts", func(d *deviceDef) *money { return &d.scrap }),
	minutes("try", "what trying whether it works takes, if more than a few minutes", func(d *deviceDef) *float64 { return &d.try }),
	{name: "mix", doc: "how far repair records of the category move the priors: full, weak or none", shape: shape{"enum": mixWords}, read: readMix},
	hazards(func(d *deviceDef) *[]Hazard { return &d.hazards }),
	things("access", "how it is opened; outside always exists", "access", "access", accessKeys, func(d *deviceDef, n *node) *accessDef {
		return grow(&d.access, accessDef{name: n})
	}, false),
	things("blocks", "the blocks it is made of", "block", "use", useKeys, func(d *deviceDef, n *node) *useDef {
		return grow(&d.uses, useDef{name: n, burden: -1})
	}, false),
}, bodyKeys(func(d *deviceDef) *blockDef { return &d.blockDef })...),
	key[deviceDef]{name: "trials", doc: "test cases: with these findings, expect this suspect", shape: listOf(ref("trial")), read: readTrials})

var accessKeys = []key[accessDef]{
	required(text("title", "what is then open, such as back cover off", func(a *accessDef) *string { return &a.title })),
	text("how", "how it is opened", func(a *accessDef) *string { return &a.how }),
	name("behind", "the access one has to pass first", ref("name"), func(a *accessDef) **node { return &a.behind }),
	required(minutes("takes", "how long opening takes", func(a *accessDef) *float64 { return &a.opens })),
	minutes("back", "how long closing takes", func(a *accessDef) *float64 { return &a.closes }),
	flag("tries", "whether the device can be powered and tried while it is this far open; if left out, it can where a live check is made", func(a *accessDef) *bool {
		a.tries = new(bool)
		return a.tries
	}),
}

var useKeys = []key[useDef]{
	required(name("use", "the block's name", ref("name"), func(u *useDef) **node { return &u.use })),
	text("title", "what it is called here, if the block's own title does not do", func(u *useDef) *string { return &u.title }),
	{name: "wire", doc: "who supplies each of its needs: {need: unit.condition}", shape: mapOf(oneOrList(ref("text"))), read: readWire},
	chance("burden", "the share of this device's faults that sit in this block", func(u *useDef) *float64 { return &u.burden }),
	pairs("at", "the block's access words and this device's: {open: back-off}", func(u *useDef) *[]pairDef { return &u.at }),
	{name: "change", doc: "what is different here, in the shape of the block", shape: ref("change"), read: func(s *sink, n *node, u *useDef) {
		if n.kind != mapping {
			s.fail(n, "expected keys of a block such as parts:", "%s is not a change", n.what())
			return
		}
		u.change = n
	}},
	names("without", "what this device does not have, such as checks.speaker-swap", shape{"type": "string"}, func(u *useDef) *[]*node { return &u.without }),
}

// mixWords say how well the category stands for the device.
var mixWords = []string{"full", "weak", "none"}

func readMix(s *sink, n *node, d *deviceDef) {
	t, ok := readText(s, n)
	switch {
	case !ok:
	case !contains(mixWords, t):
		s.fail(n, hintNames(t, mixWords), "mix is %q, not full, weak or none", clip(t))
	default:
		d.mix = t
	}
}

func readWire(s *sink, n *node, u *useDef) {
	if n.kind != mapping {
		s.fail(n, "expected {need: unit.condition}", "%s is not a mapping", n.what())
		return
	}
	for i, k := range n.keys {
		w := wireDef{need: k}
		for _, f := range items(n.vals[i]) {
			if _, ok := readText(s, f); ok {
				w.from = append(w.from, f)
			}
		}
		u.wire = append(u.wire, w)
	}
}

var trialKeys = []key[trialDef]{
	text("title", "what the case is", func(t *trialDef) *string { return &t.title }),
	required(key[trialDef]{name: "given", doc: "what was found: finding, not finding, or {finding: answer or reading}",
		shape: oneOrList(shape{"anyOf": []any{ref("text"), mapOf(shape{})}}), read: readGiven}),
	required(names("expect", "the suspect that comes first, or several any of which may", ref("text"), func(t *trialDef) *[]*node { return &t.expect })),
	count("within", "among the first so many; 1 if not stated", func(t *trialDef) *int { return &t.within }),
}

func readTrials(s *sink, n *node, d *deviceDef) {
	for _, item := range items(n) {
		readKeys(s, item, "a trial", trialKeys, grow(&d.trials, trialDef{at: item, within: 1}))
	}
}

func readGiven(s *sink, n *node, t *trialDef) {
	for _, item := range items(n) {
		if item.kind == mapping {
			for i, k := range item.keys {
				t.given = append(t.given, givenDef{finding: k, value: item.vals[i]})
			}
			continue
		}
		if text, ok := readText(s, item); ok {
			g := givenDef{finding: item}
			if rest, not := cutNot(text); not {
				c := *item
				c.text = rest
				g.finding, g.not = &c, true
			}
			t.given = append(t.given, g)
		}
	}
}
