package note

import "fettler/internal/quantity"

// The keys of findings, checks and repairs.

var findKeys = []key[findDef]{
	text("title", "what is found, in plain words", func(f *findDef) *string { return &f.title }),
	text("ask", "the question to put to whoever looks", func(f *findDef) *string { return &f.ask }),
	texts("says", "how people put it", func(f *findDef) *[]string { return &f.says }),
	flag("comes", "it may come and go", func(f *findDef) *bool { return &f.comes }),
	names("denies", "symptoms that it cannot have at the same time, as what runs loudly is not dead: [dead]; a block may name those of its device", ref("text"), func(f *findDef) *[]*node { return &f.denies }),
	odds("shows", "each cause, alone, with how often it shows: {condition is state: usually, part mode: often}", func(f *findDef) *[]oddsDef { return &f.shows }),
	chance("leak", "how often it shows with none of these causes", func(f *findDef) *float64 { return &f.leak }),
	name("of", "the one condition or part a table or reading depends on", ref("text"), func(f *findDef) **node { return &f.of }),
	names("answers", "the answers of a table", ref("text"), func(f *findDef) *[]*node { return &f.answers }),
	{name: "gives", doc: "per state, the chance of each answer: {state: {answer: usually}}; what is left is spread over the other answers",
		shape: mapOf(mapOf(ref("chance"))), read: readGives},
	{name: "reads", doc: "per state, where 90 % of readings lie: {state: 8 V .. 28 V}", shape: mapOf(ref("range")), read: readReads},
}

func readGives(s *sink, n *node, f *findDef) {
	if n.kind != mapping {
		s.fail(n, "expected {state: {answer: usually}}", "%s is not a table", n.what())
		return
	}
	for i, k := range n.keys {
		f.gives = append(f.gives, rowDef{k, readOdds(s, n.vals[i])})
	}
}

func readReads(s *sink, n *node, f *findDef) {
	if n.kind != mapping {
		s.fail(n, "expected {state: 8 V .. 28 V}", "%s is not a table of readings", n.what())
		return
	}
	for i, k := range n.keys {
		t, ok := readText(s, n.vals[i])
		if !ok {
			continue
		}
		r, err := quantity.ParseRange(t)
		if err != nil {
			s.fail(n.vals[i], "", "%v", err)
			continue
		}
		f.reads = append(f.reads, readDef{k, distOf(r), r.Unit})
	}
}

// wide is how far apart the ends of a range are before its spread is taken on the logarithm.
const wide = 5

func distOf(r quantity.Range) Dist {
	return Dist{Low: r.Low, High: r.High, Over: r.Over, Under: r.Under,
		Log: !r.Over && !r.Under && r.Low > 0 && r.High > wide*r.Low}
}

var checkKeys = []key[checkDef]{
	required(text("title", "what one does, at the imperative", func(c *checkDef) *string { return &c.title })),
	text("how", "how it is done, so that someone can follow it", func(c *checkDef) *string { return &c.how }),
	texts("with", "the instruments, such as [multimeter]", func(c *checkDef) *[]string { return &c.with }),
	required(minutes("takes", "how long it takes, such as 3 min", func(c *checkDef) *float64 { return &c.minutes })),
	name("at", "how far it must be opened: outside, open, out, or a word of the device", ref("name"), func(c *checkDef) **node { return &c.at }),
	flag("live", "done with the power on", func(c *checkDef) *bool { return &c.live }),
	hazards(func(c *checkDef) *[]Hazard { return &c.hazards }),
	chance("harm", "the chance of breaking something by doing it", func(c *checkDef) *float64 { return &c.harm }),
	required(things("finds", "what it tells", "finding", "finding", findKeys, func(c *checkDef, n *node) *findDef {
		return grow(&c.finds, findDef{name: n, leak: defaultLeak})
	}, false)),
}

var repairKeys = []key[repairDef]{
	required(text("title", "what one does, at the imperative", func(r *repairDef) *string { return &r.title })),
	text("how", "how it is done", func(r *repairDef) *string { return &r.how }),
	texts("with", "the tools, such as [soldering iron]", func(r *repairDef) *[]string { return &r.with }),
	required(key[repairDef]{name: "clears", doc: "what it puts right: everything, {part: all} or {part: [mode, mode]}",
		shape: shape{"anyOf": []any{shape{"const": "everything"}, mapOf(oneOrList(ref("text")))}}, read: readClears}),
	chance("success", "how often it succeeds; nearly always if not stated", func(r *repairDef) *float64 { return &r.success }),
	required(minutes("takes", "how long it takes, such as 25 min", func(r *repairDef) *float64 { return &r.minutes })),
	name("at", "how far it must be opened", ref("name"), func(r *repairDef) **node { return &r.at }),
	flag("live", "done with the power on", func(r *repairDef) *bool { return &r.live }),
	hazards(func(r *repairDef) *[]Hazard { return &r.hazards }),
	{name: "buys", doc: "what must be bought", shape: oneOrList(objectShape(buyKeys)), read: readBuys},
	days("days", "how long one waits for the parts, or, with nothing to buy, for it to dry", func(r *repairDef) *float64 { return &r.days }),
	chance("harm", "the chance of doing harm", func(r *repairDef) *float64 { return &r.harm }),
	name("harms", "the fault mode that harm brings", ref("text"), func(r *repairDef) **node { return &r.harms }),
}

func readClears(s *sink, n *node, r *repairDef) {
	switch {
	case n.kind == scalar && n.text == "everything":
		r.all = true
		return
	case n.kind != mapping:
		s.fail(n, "expected everything, {part: all} or {part: [mode, mode]}", "%s does not say what is cleared", n.what())
		return
	}
	for i, k := range n.keys {
		c := clearDef{part: k}
		for _, m := range items(n.vals[i]) {
			t, ok := readText(s, m)
			switch {
			case !ok:
			case t == "all" || t == "everything":
				c.all = true
			default:
				c.modes = append(c.modes, m)
			}
		}
		if !c.all && len(c.modes) == 0 {
			s.fail(k, "expected all or a list of modes", "nothing of %q is cleared", clip(k.text))
			continue
		}
		r.clears = append(r.clears, c)
	}
}

var buyKeys = []key[buyDef]{
	required(text("what", "what to buy", func(b *buyDef) *string { return &b.what })),
	count("count", "how many", func(b *buyDef) *int { return &b.count }),
	required(cash("price", "the price of one, such as 3.20 EUR", func(b *buyDef) *money { return &b.price })),
}

func readBuys(s *sink, n *node, r *repairDef) {
	for _, item := range items(n) {
		readKeys(s, item, "a thing to buy", buyKeys, grow(&r.buys, buyDef{count: 1}))
	}
}
