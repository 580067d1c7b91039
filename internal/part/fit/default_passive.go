package fit

import (
	"strings"

	"fettler/internal/part"
)

func electrolytic(b *builder) {
	b.need(Capacitance, "read the sleeve, or measure its twin")
	value(b, 0.2, 0.5, "the reservoir must hold the ripple down, and its own tolerance is ±20 % anyway",
		"less lets more ripple through, more draws a harder inrush through the rectifier")
	b.volts(VoltsDC, "above its rating it leaks, heats and vents", true)
	b.atLeast(TempMax, 1, Inequality{Why: "life halves for every 10 K", Risk: "rated for less heat: count on half the life per 10 K", Slack: 0.2})
	lowESR(b)
	b.atLeast(Ripple, 1, Inequality{Why: "ripple current heats it from inside", Risk: "runs warmer than the old one and ages sooner", Slack: 0.15})
	b.atLeast(Endurance, 1, Inequality{Why: "the new one should last at least as long", Risk: "shorter endurance: expect to do it again", Slack: 0.6, Optional: true})
	if strings.EqualFold(b.old.Words[BipolarType], "bipolar") {
		b.same(BipolarType, Inequality{Why: "the voltage across it changes sign", Safety: true})
	}
	b.size()
	b.caution("polarity: the stripe of an aluminium can is the NEGATIVE lead; reversed it can burst. Check against the old part and the copper, not the ink. Discharge the old one first and measure that it is empty.")
	if b.old.Duty == Coupling {
		b.req.Kinds = append(b.req.Kinds, part.Film)
	}
}

// value sets how far the capacitance may lie, by duty.
func value(b *builder, lo, hi float64, why, risk string) {
	slack := 0.3
	switch b.old.Duty {
	case Timing:
		lo, hi, slack = 0.05, 0.05, 0.1
		why, risk = "the value sets a frequency or a delay", "the frequency or delay shifts by the same share"
	case Coupling:
		lo, hi = 0.1, 1
		why, risk = "less cuts the bass; more is harmless within reason", "the lowest notes weaken, or it takes longer to settle after switching on"
	}
	b.within(Capacitance, lo, hi, Inequality{Why: why, Risk: risk, Slack: slack})
}

func lowESR(b *builder) {
	esr, known := b.old.Figures[ESR]
	low := strings.EqualFold(b.old.Words[Series], "low impedance")
	switch {
	case b.old.Duty == AfterLinear && known:
		b.add(Inequality{Param: ESR, Op: Within, Low: esr * 0.5, High: esr * 2, Slack: 0.5,
			Why: "some regulators oscillate when the ESR is too low, and ripple grows when it is too high", Risk: "look at the output with a scope after fitting"})
	case known:
		b.atMost(ESR, 1, Inequality{Why: "ripple current times ESR is heat and ripple voltage", Risk: "more ripple and more heat than with the old one", Slack: 0.5})
	}
	if low || b.old.Duty == SwitchMode && !known {
		b.add(Inequality{Param: Series, Op: OneOf, Words: []string{"low impedance", "polymer"}, Why: "at tens of kilohertz a general-purpose one has several times the ESR, heats and fails early"})
	}
	if b.old.Duty == AfterLinear {
		b.caution("behind a linear regulator an ESR near zero (polymer, ceramic) may make it oscillate: keep to the same technology unless the regulator's data allow it")
	}
}

func tantalum(b *builder) {
	b.need(Capacitance, "read the three digits (pF) on the block")
	value(b, 0.1, 0.5, "it holds the rail steady", "less lets more noise through")
	b.volts(VoltsDC, "tantalum fails short, with fire, when its rating is neared: twice the rail is the usual choice", true)
	b.atLeast(TempMax, 1, Inequality{Why: "derated above 85 °C", Risk: "keep it cool or choose a higher voltage", Slack: 0.2, Optional: true})
	b.atMost(ESR, 1, Inequality{Why: "ripple current times ESR is heat", Risk: "more ripple", Slack: 0.5, Optional: true})
	b.same(Package, Inequality{Why: "it must sit on the same lands"})
	b.caution("polarity: the bar of a tantalum marks the POSITIVE end, the opposite of an aluminium can; reversed it may burn or explode")
}

// better lists the dielectrics that do instead of another, the same first.
var better = map[string][]string{
	"C0G": {"C0G", "COG", "NP0", "NPO"},
	"X8R": {"X8R", "C0G", "COG", "NP0", "NPO"},
	"X7R": {"X7R", "X8R", "C0G", "COG", "NP0", "NPO"},
	"X6S": {"X6S", "X7R", "X7S", "X8R", "C0G", "COG", "NP0", "NPO"},
	"X5R": {"X5R", "X6S", "X7R", "X7S", "X8R", "C0G", "COG", "NP0", "NPO"},
}

func ceramic(b *builder) {
	b.need(Capacitance, "ceramic chips carry no marking: measure a twin, or reason from the circuit")
	d := strings.ToUpper(b.old.Words[Dielectric])
	switch d {
	case "COG", "NP0", "NPO":
		d = "C0G"
	}
	lo, hi := 0.2, 0.5
	if d == "C0G" {
		lo, hi = 0.05, 0.05
	}
	value(b, lo, hi, "it supplies the short gulps of current", "less decouples less")
	b.volts(VoltsDC, "above its rating it cracks through; class 2 also loses much of its value well below it", false)
	if list, ok := better[d]; ok {
		b.add(Inequality{Param: Dielectric, Op: OneOf, Words: list, Why: "a poorer dielectric loses its value with heat and voltage"})
	}
	b.atLeast(TempMax, 1, Inequality{Why: "it must stand the heat", Slack: 0.2, Risk: "keep it away from hot parts", Optional: true})
	b.same(Package, Inequality{Why: "it must sit on the same lands"})
}

func film(b *builder) {
	b.need(Capacitance, "read the code in pF or the figure in µF")
	value(b, 0.1, 0.1, "film is used where the value or the losses matter", "the circuit shifts by the same share")
	b.volts(VoltsDC, "above its rating the film is punched through", true)
	b.atLeast(VoltsAC, 1, Inequality{Why: "an AC rating is not its DC rating: both must be met", Safety: true})
	b.same(Dielectric, Inequality{Why: "polypropylene stands pulses that polyester does not"})
	b.size()
	b.caution("if it sits across the mains or from mains to earth or output, it is a suppression capacitor: say so, and its class")
}

func resistor(b *builder) {
	b.need(Resistance, "read the bands or the code")
	tol := b.old.Figures[Tolerance]
	if !(tol > 0) {
		tol = 0.05
	}
	b.within(Resistance, tol, tol, Inequality{Why: "the circuit was laid out for this value", Risk: "currents and voltages shift by the same share", Slack: 0.05})
	b.atMost(Tolerance, 1, Inequality{Why: "a tight value was chosen on purpose", Risk: "measure and pick one close to the value", Slack: 4, Optional: true})
	b.atLeast(Power, 1, Inequality{Why: "it must get rid of the heat", Risk: "runs hotter: stand it off the board", Slack: 0.25})
	b.volts(VoltsDC, "small resistors flash over well below their power limit", false)
	b.same(Package, Inequality{Why: "it must sit on the same lands"})
	b.caution("if the old one is white or grey-bodied, drawn with a fuse sign, or sits first in the mains line, it is fusible: say so, it is replaced like for like")
}

func inductor(b *builder) {
	b.need(Inductance, "read the code in µH, or count on its twin")
	b.within(Inductance, 0.2, 0.2, Inequality{Why: "ripple current goes with its inverse", Risk: "more ripple current, or slower response", Slack: 0.3})
	b.atLeast(Saturation, 1, Inequality{Why: "saturated it is a wire, and the switch dies", Slack: 0})
	b.atLeast(Current, 1, Inequality{Why: "copper heat", Risk: "runs hotter", Slack: 0.15})
	b.atMost(DCResistance, 1.2, Inequality{Why: "copper losses and voltage drop", Risk: "a little more heat and drop", Slack: 0.5, Optional: true})
	b.size()
}

func crystal(b *builder) {
	b.need(Frequency, "read the can")
	b.within(Frequency, 50e-6, 50e-6, Inequality{Why: "everything downstream counts its cycles"})
	if c, ok := b.old.Figures[LoadCap]; ok {
		b.add(Inequality{Param: LoadCap, Op: Within, Low: c - 2e-12, High: c + 2e-12, Why: "the wrong load pulls the frequency", Risk: "off by some tens of ppm; clocks gain or lose seconds a day", Slack: 0.5, Optional: true})
	}
	b.same(Mode, Inequality{Why: "an overtone crystal in a fundamental circuit runs at a third of its frequency"})
	b.same(Package, Inequality{Why: "it must fit the lands"})
}
