package fit

import "fmt"

func suppression(b *builder) {
	class := b.needWord(Class, "read X1, X2, Y1, Y2 … on the body; without it do not replace the part")
	b.need(Capacitance, "read the body")
	b.add(Inequality{Param: Class, Op: OneOf, Words: []string{class}, Safety: true,
		Why: fmt.Sprintf("class %s is what the device was approved with: the same class, neither a lower nor a supposedly higher one", class)})
	b.add(Inequality{Param: Approved, Op: OneOf, Words: []string{"yes"}, Safety: true, Why: "only parts with approval marks on the body may sit across the mains"})
	b.within(Capacitance, 0.1, 0.1, Inequality{Safety: true, Why: "less filters too little; more raises the leakage current or the charge left on the plug"})
	b.atLeast(VoltsAC, 1, Inequality{Safety: true, Why: "the mains is on it day and night"})
	b.atLeast(TempMax, 1, Inequality{Why: "it sits near warm parts", Optional: true, Slack: 0.15, Risk: "keep it away from warm parts"})
	b.within(Pitch, 0.02, 0.02, Inequality{Why: "creepage distance goes with the pitch", Safety: false, Slack: 0, Optional: true})
	b.caution("the capacitor may hold its charge on the plug's pins: unplug, wait, measure before touching")
}

func fusible(b *builder) {
	b.need(Resistance, "read the bands")
	b.within(Resistance, 0.05, 0.05, Inequality{Safety: true, Why: "the value sets when it opens"})
	if _, ok := b.old.Figures[Power]; !ok && b.err == nil {
		b.err = fmt.Errorf("to replace a %s its rated power must be known: compare the body's size with known ones; the wattage decides when it opens", b.old.Kind)
	}
	b.within(Power, 0.05, 0.05, Inequality{Safety: true, Why: "a larger wattage opens too late or never, a smaller one in normal use: neither is an upgrade"})
	b.add(Inequality{Param: Flameproof, Op: OneOf, Words: []string{"yes"}, Safety: true, Why: "it must open without flame"})
	b.atLeast(VoltsAC, 1, Inequality{Safety: true, Why: "it must hold the mains when open"})
	b.caution("a fusible resistor opens because something behind it shorted: find that first; stand the new one off the board as the old one stood")
}

func fuse(b *builder) {
	b.need(Current, "read the cap: for example T3.15A")
	speed := b.needWord(Speed, "read the letter before the current (F quick, T time-lag) or the board's print")
	b.within(Current, 0, 0, Inequality{Safety: true, Why: "the same current, neither more (it lets things burn) nor less (it blows in use)"})
	b.add(Inequality{Param: Speed, Op: OneOf, Words: []string{speed}, Safety: true, Why: "a slower one lets things burn, a quicker one blows at switch-on"})
	b.atLeast(VoltsAC, 1, Inequality{Safety: true, Why: "it must break the arc"})
	if a, ok := b.old.Figures[Breaking]; ok {
		b.add(Inequality{Param: Breaking, Op: AtLeast, Low: a, Safety: true, Why: "a glass one in place of a sand-filled one may burst"})
	} else {
		b.add(Inequality{Param: Breaking, Op: AtLeast, Low: 1500, Safety: true, Why: "the old one's breaking capacity is not known: the high one is safe in either case"})
	}
	b.same(Package, Inequality{Safety: true, Why: "it must sit firmly in the holder"})
	b.caution("unplug first; a fuse that blew hard (blackened) means a short behind it")
}

func thermalFuse(b *builder) {
	t := b.need(OpensAt, "read the temperature on the body, such as TF 152 °C")
	b.add(Inequality{Param: OpensAt, Op: Within, Low: t, High: t, Safety: true, Why: "the same temperature: a higher one lets the fault grow to a fire, a lower one opens in use"})
	b.atLeast(Current, 1, Inequality{Safety: true, Why: "it heats itself with the current"})
	b.atLeast(VoltsAC, 1, Inequality{Safety: true, Why: "it must stay open against the mains"})
	b.caution("never bridge it; crimp, or solder quickly with a heat clip between joint and body; fix it where the old one sat, touching what it guards")
}

func varistor(b *builder) {
	b.need(ClampVolts, "read the disc, for example 10D471 is 470 V at 1 mA")
	b.within(ClampVolts, 0.02, 0.02, Inequality{Safety: true, Why: "a lower one conducts on the mains and burns, a higher one protects nothing"})
	b.atLeast(Diameter, 1, Inequality{Safety: true, Why: "a smaller disc takes less energy"})
	b.caution("it must sit behind the fuse; keep its sleeve")
}
