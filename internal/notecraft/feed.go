package notecraft

// feed adds what brings power in.
func (d *draft) feed() {
	switch d.a.Power {
	case Mains:
		without := ""
		if !d.a.Computer {
			without = "without: [parts.switch]" // the device's own switch is a block of its own
		}
		d.block("inlet", "mains-inlet", without)
		d.source = "inlet.mains"
		d.cause("cuts-out", "inlet.contact is intermittent: usually")
		d.cause("trips", "inlet.trip is yes: nearly always")
	case Adapter:
		d.block("inlet", "dc-barrel-inlet")
		d.source = "inlet.rail"
		d.cause("weak", "inlet.rail is low: often")
	case Rechargeable:
		d.block("inlet", "usb-power-inlet")
		d.block("pack", "li-ion-pack-protection")
		d.block("charger", "charging-circuit", "wire: {input: inlet.rail, pack: pack.battery}")
		d.source = "charger.battery"
	case Cells:
		d.block("cells", "battery-compartment")
		d.source = "cells.battery"
		d.cause("weak", "cells.battery is short-lived: usually")
	}
	d.rail = d.source
	if d.mains() && (d.a.Sound || d.a.Display && !d.board() || d.a.Computer && !d.board()) {
		d.block("supply", "small-linear-supply", "wire: {mains: inlet.mains}")
		d.rail = "supply.rail"
		d.cause("dead", "supply.rail is absent: nearly always")
		d.cause("cuts-out", "supply.rail is low: sometimes")
	}
}

// board tells whether a household control board rules the device: one that
// switches mains loads.
func (d *draft) board() bool {
	return d.mains() && d.a.Computer && (d.a.Heater || d.a.Motor || d.a.Water || d.a.Air)
}

// rule adds what switches the device on and tells it what to do.
func (d *draft) rule() {
	switch {
	case d.board():
		d.block("board", "control-board-household", "wire: {mains: inlet.mains}")
		d.block("keypad", "keypad-membrane")
		d.power, d.order, d.turn, d.hot, d.stuck = d.source, "board.awake", "board.motor", "board.heater", "board.stuck"
		d.cause("dead", "board.awake is absent: nearly always")
		d.cause("hangs", "board.awake is erratic: often", "board.micro upset: usually", "keypad.keys is one held: sometimes")
		d.cause("runs-on", "board.stuck is yes: nearly always", "board.motor-stuck is yes: nearly always")
	case d.a.Computer:
		piece(&d.inside, `
run:
  title: its electronics run
  states: [good, erratic, absent]
  from: {`+d.rail+`: {absent: absent, low: absent, rippling: erratic}}`)
		if d.rail == "charger.battery" || d.rail == "cells.battery" {
			d.inside[len(d.inside)-1] = "  from: {" + d.rail + ": {absent: absent, short-lived: good}}"
		}
		piece(&d.parts, brainParts)
		piece(&d.checks, brainChecks)
		piece(&d.repairs, brainRepairs)
		d.block("keypad", "keypad-membrane")
		d.power, d.order = d.source, "run"
		d.turn, d.hot = "run", "run"
		d.cause("dead", "run is absent: nearly always")
		d.cause("hangs", "run is erratic: usually", "software hung: often")
		d.cause("cuts-out", "run is erratic: often")
	default:
		d.block("switch", "trigger-switch", "wire: {mains: "+d.source+"}", d.dry("repairs", "refit-wires", "new-switch"))
		d.power, d.order, d.turn, d.hot, d.stuck = "switch.command", "switch.command", "switch.command", "switch.command", "switch.stuck"
		d.cause("dead", "switch.command is absent: nearly always")
		d.cause("cuts-out", "switch.command is erratic: usually")
		if d.rail == d.source {
			d.rail = "switch.command"
		}
	}
}

const brainParts = `
board:
  title: electronics board
  kind: processor
  modes:
    dead: {title: electronics board dead, rate: 1, class: board/other, does: {run: absent}}
    wet: {title: liquid or corrosion on the board, rate: 0.8, class: dirt/blockage/lubrication, subclass: corrosion, does: {run: absent}}
    joint: {title: a joint on the board cracked, rate: 0.5, class: solder joint, does: {run: erratic}}
software:
  title: software
  kind: firmware
  modes:
    hung: {title: software hung, rate: 0.6, does: {run: absent}}
button:
  title: power button
  kind: push-button
  modes:
    dead: {title: power button dead, rate: 0.8, does: {run: absent}}`

const brainChecks = `
restart:
  title: Take all power off for five minutes, then hold the power button for 20 seconds
  with: [hands]
  takes: 6 min
  finds:
    cured: {title: it runs after that, shows: {software hung: nearly always}, leak: almost never}
look-board:
  title: Look at the electronics board
  how: Power off. Look for stains, green crust and cracked rings round pins.
  with: [eyes]
  takes: 4 min
  at: open
  finds:
    stains: {title: stains or crust, shows: {board wet: nearly always}, leak: 3 %}
    ring: {title: a cracked joint, shows: {board joint: usually}, leak: 1 %}
fed-board:
  title: Measure the voltage that arrives at the electronics board
  how: Keep to the low-voltage side. Meter on DC volts, black on ground.
  with: [multimeter]
  takes: 4 min
  at: open
  live: true
  finds:
    fed: {title: 'it is fed, but dead', shows: {board dead: nearly always, board wet: nearly always, software hung: nearly always, button dead: nearly always}, leak: 2 %}
press-button:
  title: Measure across the power button while pressing it
  how: Power off. It must close each time.
  with: [multimeter]
  takes: 3 min
  at: open
  finds:
    open: {title: it does not close, shows: {button dead: nearly always}, leak: almost never}`

const brainRepairs = `
restart: {title: Reset it, clears: {software: all}, success: usually, takes: 6 min}
wash: {title: Wash and dry the board, clears: {board: [wet]}, success: sometimes, takes: 35 min, at: open, hazards: [fumes]}
resolder-board: {title: Resolder the joint, with: [soldering iron], clears: {board: [joint]}, success: usually, takes: 15 min, at: out, hazards: [hot tools, fumes]}
new-board: {title: Swap the electronics board, clears: {board: all, software: all}, success: usually, takes: 35 min, at: out, buys: [{what: board or donor, price: 20 EUR}], days: 8}
new-button: {title: Replace the power button, with: [soldering iron], clears: {button: all}, takes: 20 min, at: out, hazards: [hot tools], buys: [{what: push-button, price: 0.50 EUR}], days: 4}`
