package notecraft

// The loads: what the device is there for.

// loads is how many things the device does that one would notice.
func (a Answers) loads() int {
	n := 0
	for _, has := range []bool{a.Motor, a.Heater, a.Display, a.Sound, a.Light, a.Air, a.Water} {
		if has {
			n++
		}
	}
	return n
}

// fails says what shows when one load gives out. Where it is the only one, that
// is all that one sees, whatever is behind it. Where others tell that the device
// has power, people mean that this one alone gives out, so only its own faults count.
func (d *draft) fails(symptom, condition string, own ...string) {
	if d.a.loads() > 1 {
		for _, mode := range own {
			d.cause(symptom, mode+": nearly always")
		}
		return
	}
	d.cause(symptom, condition+": nearly always")
	if !d.a.Computer {
		d.cause("dead", condition+": often")
	}
}

// ruled adds the faults of a control board to those of a load it switches.
func (d *draft) ruled(own []string, board ...string) []string {
	if d.board() {
		return append(own, board...)
	}
	return own
}

// air adds a fan with its own motor; Motor then means a further one.
func (d *draft) air() {
	own := []string{"fan.wheel loose", "fan.wheel jammed", "fan-motor.bearings seized"}
	if d.mains() {
		own = d.ruled(append(own, "fan-motor.winding open", "fan-motor.wires broken"), "board.motor-triac open")
		d.block("fan-motor", "shaded-pole-motor", "wire: {mains: "+d.power+", command: "+d.turn+", load: fan.load}")
	} else {
		own = append(own, "fan-motor.motor brushes-worn", "fan-motor.wires off", "fan-motor.rectifier short")
		d.block("fan-motor", "pm-dc-motor", "wire: {battery: "+d.power+", command: "+d.turn+", load: fan.load}")
	}
	d.cause("burnt-smell", "fan-motor.burning is yes: usually")
	d.block("fan", "fan-impeller", "wire: {motion: fan-motor.motion}")
	d.fails("no-air", "fan.flow is absent", own...)
	d.cause("noisy", "fan-motor.motion is noisy: nearly always")
	if d.a.Heater { // the air that no longer carries the heat away
		d.cause("too-hot", "fan.wheel dusty: often", "fan.wheel loose: often", "fan.wheel jammed: often", "fan-motor.bearings seized: sometimes")
	}
}

func (d *draft) heater() {
	if !d.mains() {
		d.lowHeater()
		return
	}
	d.block("heater", "heater-thermostat-thermal-fuse", "wire: {mains: "+d.power+", command: "+d.hot+"}")
	d.fails("no-heat", "heater.heat is absent", d.ruled([]string{"heater.element open", "heater.thermostat stuck-open", "heater.thermal-fuse open",
		"heater.terminals burnt", "heater.wires broken"}, "board.relay burnt-contacts", "board.joints burnt")...)
	d.cause("not-hot", "heater.heat is weak: nearly always")
	d.cause("too-hot", "heater.overheat is yes: nearly always")
	d.cause("trips", "heater.trip is yes: nearly always")
	d.cause("burnt-smell", "heater.overheat is yes: sometimes", "heater.terminals burnt: often")
	if d.stuck != "" {
		d.cause("too-hot", d.stuck+" is yes: often")
	}
}

// lowHeater is a small element on a low voltage, as in a heated garment or a cup warmer.
func (d *draft) lowHeater() {
	piece(&d.inside, `
heat:
  title: heating
  states: [good, weak, absent]
  from:
    `+d.hot+`: {erratic: weak, absent: absent}`)
	piece(&d.parts, `
element:
  title: low-voltage heating element
  kind: heating element
  modes:
    open: {title: heating element or its lead open, rate: 1.2, does: {heat: absent}}
    half: {title: one of several heating wires open, rate: 0.4, does: {heat: weak}}
sensor:
  title: temperature switch or sensor
  kind: thermostat
  modes:
    open: {title: temperature switch open, rate: 0.6, class: thermal fuse/thermostat, does: {heat: absent}}
    closed: {title: temperature switch does not open any more, rate: 0.2, class: thermal fuse/thermostat}`)
	piece(&d.checks, `
element-ohms:
  title: Measure the heating element
  how: Power off, one lead off. Volts squared over watts gives the ohms it should have.
  with: [multimeter]
  takes: 3 min
  at: open
  finds:
    element:
      of: element
      answers: [as reckoned, much higher, open]
      gives:
        sound: {as reckoned: nearly always}
        open: {open: nearly always}
        half: {much higher: usually, as reckoned: seldom}
sensor-ohms:
  title: Measure the temperature switch, cold and warmed
  how: Power off. Closed when cold; it should open when warmed with a hairdryer.
  with: [multimeter, hairdryer]
  takes: 5 min
  at: open
  finds:
    sensor:
      of: sensor
      answers: [closed and opens warm, open, never opens]
      gives:
        sound: {closed and opens warm: nearly always}
        open: {open: nearly always}
        closed: {never opens: usually}`)
	piece(&d.repairs, `
new-element: {title: Replace the heating element or mend its lead, clears: {element: all}, success: usually, takes: 30 min, at: out, buys: [{what: heating element, price: 8 EUR}], days: 7}
new-sensor: {title: Replace the temperature switch, clears: {sensor: all}, takes: 20 min, at: open, buys: [{what: temperature switch of the same temperature, price: 2 EUR}], days: 5}`)
	d.fails("no-heat", "heat is absent", "element open", "sensor open")
	d.cause("not-hot", "heat is weak: nearly always")
	d.cause("too-hot", "sensor closed: usually")
}

func (d *draft) motor() {
	own := []string{"gears.soft-gear stripped", "gears.soft-gear split", "gears.pin sheared", "gears.foreign jammed", "motor.bearings seized"}
	if d.mains() {
		own = d.ruled(append(own, "motor.brushes worn", "motor.brushes stuck", "motor.field open", "motor.protector open", "motor.leads off"), "board.motor-triac open")
		d.block("motor", "universal-motor-brushes", "wire: {mains: "+d.power+", command: "+d.turn+", load: gears.load}")
		d.cause("trips", "motor.trip is yes: nearly always")
	} else {
		own = append(own, "motor.motor brushes-worn", "motor.wires off", "motor.rectifier short")
		d.block("motor", "pm-dc-motor", "wire: {battery: "+d.power+", command: "+d.turn+", load: gears.load}")
	}
	d.block("gears", "gear-train", "wire: {motion: motor.motion}")
	d.fails("still", "gears.driven is stopped", own...)
	d.cause("slow", "gears.driven is slow: nearly always")
	d.cause("noisy", "gears.driven is noisy: usually", "motor.motion is noisy: nearly always")
	d.cause("burnt-smell", "motor.burning is yes: usually")
	if d.stuck != "" && !d.board() {
		d.cause("runs-on", d.stuck+" is yes: nearly always")
	}
}

func (d *draft) water() {
	if d.mains() {
		d.block("pump", "water-pump-rotary", "wire: {mains: "+d.power+", command: "+d.turn+"}")
		d.fails("no-water", "pump.flow is absent", d.ruled([]string{"pump.impeller blocked", "pump.coil open", "pump.coil seized"}, "board.motor-triac open")...)
		d.cause("little-water", "pump.flow is weak: nearly always")
		d.cause("leaks", "pump.leak is yes: nearly always")
		return
	}
	piece(&d.inside, `
flow:
  title: water moved
  states: [good, weak, absent]
  from:
    `+d.turn+`: {erratic: weak, absent: absent}`)
	piece(&d.parts, `
pump:
  title: small pump
  kind: pump
  modes:
    blocked: {title: pump or strainer blocked, rate: 1.6, class: dirt/blockage/lubrication, does: {flow: absent}}
    dead: {title: pump's motor dead, rate: 0.8, class: board/other, subclass: pump, does: {flow: absent}}
    weak: {title: pump worn or drawing air, rate: 0.6, class: belt/gear/mechanical, does: {flow: weak}}
seal:
  title: pump's seal or a hose
  kind: seal
  modes:
    leaking: {title: seal or hose leaks, rate: 0.5}`)
	piece(&d.checks, `
look-pump:
  title: Take the strainer out and turn the pump's wheel
  how: Power off, water out.
  with: [eyes, hands]
  takes: 5 min
  hazards: [water]
  finds:
    pump:
      of: pump
      answers: [clean and free, blocked, loose or worn]
      gives:
        sound: {clean and free: nearly always}
        blocked: {blocked: nearly always}
        dead: {clean and free: nearly always}
        weak: {loose or worn: often, clean and free: sometimes}
    wet: {title: wet at the seal or a hose, shows: {seal leaking: usually}, leak: 3 %}
pump-direct:
  title: Feed the pump straight from a supply
  how: Its leads off. Bench supply at its voltage with a current limit, a bowl of water under it.
  with: [bench supply]
  takes: 5 min
  at: open
  hazards: [water]
  finds:
    dead: {title: it does not turn, shows: {pump dead: nearly always, pump blocked: often}, leak: 2 %}`)
	piece(&d.repairs, `
clear-pump: {title: Clear the pump and its strainer, clears: {pump: [blocked]}, takes: 12 min, hazards: [water]}
new-pump: {title: Replace the pump, clears: {pump: all}, takes: 25 min, at: open, hazards: [water], buys: [{what: pump of the same voltage, price: 9 EUR}], days: 6}
new-seal: {title: Replace the seal or hose, clears: {seal: all}, takes: 20 min, at: open, buys: [{what: seal or hose, price: 3 EUR}], days: 5}`)
	d.fails("no-water", "flow is absent", "pump blocked", "pump dead")
	d.cause("little-water", "flow is weak: nearly always")
	d.cause("leaks", "seal leaking: nearly always")
}

func (d *draft) display() {
	awake := d.order
	if !d.a.Computer {
		awake = d.rail
	}
	d.block("display", "display-seven-segment", "wire: {awake: "+awake+"}", d.dry("checks", "press-glass"))
	d.cause("dead", "display.picture is absent: sometimes")
}

func (d *draft) sound() {
	signal := ""
	if d.a.Computer {
		signal = ", signal: " + d.order
	}
	d.block("amp", "amplifier-class-d", "wire: {rail: "+d.rail+signal+"}", d.dry("checks", "supply", "touch", "tap"))
	d.block("speaker", "loudspeaker-drivers", "wire: {low: amp.out}",
		"without: [parts.tweeter, parts.crossover, parts.wires.modes.tweeter-off]")
	d.fails("silent", "speaker.bass is absent", "amp.chip dead", "amp.chip short", "amp.filter open", "speaker.woofer open", "speaker.wires open")
	d.cause("bad-sound", "speaker.bass is distorted: nearly always", "speaker.bass is noisy: nearly always", "speaker.bass is weak: often")
	d.cause("sound-breaks", "amp.contact is intermittent: nearly always")
}

func (d *draft) light() {
	if d.mains() {
		d.block("lamp", "led-lamp-driver", "wire: {mains: "+d.lampPower()+"}", "without: [parts.switch]")
		d.fails("dark", "lamp.light is absent", "lamp.driver dead", "lamp.reservoir short", "lamp.fusible open", "lamp.leds open", "lamp.wire broken")
		return
	}
	piece(&d.inside, `
light:
  title: light
  states: [good, flickering, absent]
  from:
    `+d.order+`: {erratic: flickering, absent: absent}`)
	piece(&d.parts, `
led:
  title: LED or bulb
  kind: LED
  modes:
    open: {title: LED or bulb dead, rate: 1.2, class: board/other, subclass: LED, does: {light: absent}}
lamp-contact:
  title: contact or wire of the light
  kind: wiring
  modes:
    open: {title: wire to the light broken, rate: 0.7, does: {light: absent}}
    loose: {title: contact of the light loose, rate: 0.6, class: connector/contact, does: {light: flickering}}`)
	piece(&d.checks, `
light-test:
  title: Test the light with the meter's diode range
  how: Power off. A good LED glows; a bulb reads a few ohms.
  with: [multimeter]
  takes: 3 min
  at: open
  finds:
    dark: {title: it does not glow or conduct, shows: {led open: nearly always}, leak: 1 %}
    wire: {title: 'its wire is off, or reads open', shows: {lamp-contact open: nearly always}, leak: 1 %}
    loose: {title: the reading jumps when moved, shows: {lamp-contact loose: usually}, leak: 2 %}`)
	piece(&d.repairs, `
new-led: {title: Replace the LED or bulb, with: [soldering iron], clears: {led: all}, takes: 15 min, at: open, hazards: [hot tools], buys: [{what: LED or bulb, price: 1 EUR}], days: 4}
mend-lamp-wire: {title: Mend the wire or contact of the light, with: [soldering iron], clears: {lamp-contact: all}, takes: 12 min, at: open, hazards: [hot tools]}`)
	d.fails("dark", "light is absent", "led open", "lamp-contact open")
	d.cause("flickers", "light is flickering: nearly always")
}

// lampPower is what feeds a lamp on the mains: the board's order where there is one.
func (d *draft) lampPower() string {
	if d.a.Computer {
		return d.order
	}
	return d.power
}
