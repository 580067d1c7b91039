package fit

func rectifier(b *builder) {
	b.need(VoltsDC, "read the type on the body; with nothing readable take twice the peak it must block")
	b.atLeast(VoltsDC, 1, Inequality{Why: "the reverse voltage it must block", Slack: 0})
	b.atLeast(Current, 1, Inequality{Why: "mean forward current", Risk: "runs hotter: mind the pads", Slack: 0.1})
	b.atMost(Recovery, 1, Inequality{Why: "at switching frequencies a slow diode conducts backwards, heats and fails", Risk: "more switching heat: feel it after a few minutes, unplugged", Slack: 0.25})
	b.atMost(ForwardVolts, 1.1, Inequality{Why: "forward voltage times current is heat", Risk: "a little more heat", Slack: 0.3, Optional: true})
	b.same(Package, Inequality{Why: "it must fit the board and, if bolted, the heat sink"})
	b.same(Pinout, Inequality{Why: "double diodes come in common-cathode and common-anode kinds"})
	if _, ok := b.old.Figures[Recovery]; !ok {
		b.caution("the old one's recovery time is not known: in a switching supply choose a fast or Schottky type, never a mains rectifier")
	}
	b.caution("the band is the cathode")
}

func zener(b *builder) {
	b.need(ZenerVolts, "read the type on the body")
	b.within(ZenerVolts, 0.05, 0.05, Inequality{Why: "it sets the voltage", Risk: "the voltage shifts by the same share", Slack: 0.03})
	b.atLeast(Power, 1, Inequality{Why: "it must get rid of the heat", Slack: 0})
	b.caution("the band is the cathode, which in use is the more positive end")
}

func mosfet(b *builder) {
	b.need(VoltsDC, "read the type on the body and look up its drain-source voltage")
	b.atLeast(VoltsDC, 1, Inequality{Why: "spikes beyond it destroy it", Slack: 0})
	b.atLeast(Current, 1, Inequality{Why: "drain current at temperature", Risk: "less in hand when hot", Slack: 0.1})
	b.atMost(OnResistance, 1, Inequality{Why: "on-resistance times current squared is heat", Risk: "runs hotter", Slack: 0.25})
	b.atMost(GateCharge, 1.2, Inequality{Why: "the driver must move this charge at every edge", Risk: "slower edges, more switching heat in it and the driver", Slack: 0.5})
	b.atMost(GateDrive, 1, Inequality{Why: "the gate is driven with no more than this", Slack: 0})
	b.same(Channel, Inequality{Why: "N and P are mirror images"})
	b.same(Package, Inequality{Why: "it must fit board and heat sink"})
	b.same(Pinout, Inequality{Why: "a crossed pin destroys it at switch-on"})
	b.caution("before fitting: gate resistor, driver and what shorted it; insulated tab or not must match, with its washer and bush")
}

func bipolar(b *builder) {
	b.need(VoltsDC, "read the type and look up its collector-emitter voltage")
	b.atLeast(VoltsDC, 1, Inequality{Why: "collector-emitter voltage", Slack: 0})
	b.atLeast(Current, 1, Inequality{Why: "collector current", Risk: "less in hand", Slack: 0.1})
	b.atLeast(Power, 1, Inequality{Why: "it must get rid of the heat", Risk: "runs hotter", Slack: 0.1})
	b.atLeast(Gain, 0.8, Inequality{Why: "less gain loads the stage before it", Risk: "check the bias after fitting", Slack: 0.3, Optional: true})
	b.atLeast(Transition, 0.8, Inequality{Why: "a slower one may oscillate or roll off", Risk: "look for oscillation", Slack: 0.4, Optional: true})
	b.same(Polarity, Inequality{Why: "NPN and PNP are mirror images"})
	b.same(Package, Inequality{Why: "it must fit board and heat sink"})
	b.same(Pinout, Inequality{Why: "the same outline comes with its legs in different orders"})
}

func regulator(b *builder) {
	b.need(OutputVolts, "read the type; the last two digits are often the voltage")
	b.within(OutputVolts, 0.02, 0.02, Inequality{Why: "everything it feeds was chosen for this voltage"})
	b.atLeast(Current, 1, Inequality{Why: "the load", Risk: "may limit when hot", Slack: 0.1})
	b.atMost(DropOut, 1, Inequality{Why: "input minus output may be no more than this at low mains", Risk: "hum at low mains or high load", Slack: 0.2})
	b.atLeast(InputMax, 1, Inequality{Why: "the raw supply at high mains without load", Slack: 0})
	b.same(Adjustable, Inequality{Why: "a fixed one does not take the old divider"})
	b.same(Package, Inequality{Why: "it must fit board and heat sink"})
	b.same(Pinout, Inequality{Why: "positive, negative and low-drop types differ in their pins; a crossed one puts the raw supply on the output"})
	b.caution("low-drop types want the output capacitor their data call for, in value and ESR")
}

func relay(b *builder) {
	b.need(CoilVolts, "read the body: coil voltage is usually its own line")
	b.within(CoilVolts, 0.05, 0.05, Inequality{Why: "it must pull in, and not burn"})
	b.atLeast(CoilOhms, 0.9, Inequality{Why: "less resistance draws more from the driver transistor", Risk: "the driver carries a little more", Slack: 0.15})
	b.atLeast(ContactAmps, 1, Inequality{Safety: true, Why: "contacts weld beyond their current"})
	b.atLeast(ContactVolts, 1, Inequality{Safety: true, Why: "the gap must break the arc, and the insulation separates coil and mains"})
	b.same(CoilKind, Inequality{Why: "a DC coil hums on AC, an AC coil burns on DC"})
	b.same(Contacts, Inequality{Why: "the same arrangement of contacts"})
	b.same(Package, Inequality{Why: "the pins must meet the holes"})
}
