package appraise

import (
	"strings"

	"fettler/internal/note"
)

// An organ is a part that people name, the class of cause that is meant when
// it is to blame, and what kinds of part in a note it can be.
type organ struct {
	name     string
	class    note.Class
	words    string // ways of saying it, parted by "|"
	kinds    string // parts of a note whose kind, title or ID holds one of these words
	anywhere bool   // it is no part of its own: every mode of the class can be meant, and no other
}

// organs is the trade's list of nameable parts, by the conventions of
// library/records. Judgement of our own; longer ways of saying win.
var organs = []organ{
	{"lead", note.ClassPowerLead, "lead|cable|cord|flex|power lead|power cable|power cord|mains lead|mains cable|power supply cable|mains cord|mains flex|electric cable|electrical cable|electrical cord|electric cord|cord inlet|strain relief|cable entry|live wire of the mains cable|extension lead", "lead|cable|cord", false},
	{"plug", note.ClassPowerLead, "plug|mains plug|plug top|moulded plug|power plug", "plug", false},
	{"adapter", note.ClassPowerLead, "adapter|adaptor|power adapter|power adaptor|mains adapter|mains adaptor|wall adapter|power brick|transformer plug|psu lead|external power supply|charging lead|charging cable|charger cable|charge cable|usb cable", "adapter", false},
	{"fuse", note.ClassFuse, "fuse|plug fuse|internal fuse|mains fuse|fuses|fuse in plug|fuse in the plug", "fuse", false},
	{"switch", note.ClassSwitch, "switch|on off switch|power switch|mains switch|trigger|trigger switch|pedal|foot pedal|foot control|microswitch|micro switch|interlock|safety switch|safety interlock|power button|button|buttons|keys|key|keypad|rocker|selector|dial|cut-out switch|potentiometer|pot|volume control|volume knob|speed dial|joystick|switch contacts|dimmer switch|dimmer|on-off switch|on/off switch", "switch|button|potentiometer|key|pedal|trigger|encoder", false},
	{"thermal", note.ClassThermal, "thermal fuse|thermal cut out|thermal cutout|thermal cut-out|thermostat|thermal switch|overheat switch|cut out switch|thermal trip|thermal link|thermal limiter|temperature fuse|thermo fuse|overheat protection|temperature switch|thermal overload", "thermal|thermostat|limiter", false},
	{"capacitor", note.ClassElcap, "capacitor|capacitors|cap|caps|electrolytic|electrolytics|condenser|smoothing capacitor|suppression capacitor|suppressor|start capacitor|run capacitor", "capacitor", false},
	{"semiconductor", note.ClassSemi, "transistor|transistors|mosfet|mosfets|diode|diodes|bridge rectifier|rectifier|ic|chip|triac|thyristor|output stage|output transistors|amplifier ic|regulator|voltage regulator|varistor|igbt", "transistor|diode|rectifier|triac|IC|regulator|varistor|MOSFET", false},
	{"joint", note.ClassJoint, "solder joint|solder joints|dry joint|dry joints|soldering|solder|cold joint|cold solder joint|dry solder joint|soldered joint|resolder|resoldered|re-soldered|soldered|re-solder|solder connection", "joint|solder", true},
	{"connector", note.ClassConnector, "connector|connectors|connection|connections|contact|contacts|terminal|terminals|socket|jack|jack socket|headphone socket|charging port|charge port|usb port|port|power socket|dc socket|charging socket|battery contacts|battery points|battery terminals|battery compartment|battery spring|battery holder|lampholder|lamp holder|bulb holder|ribbon cable|flex cable|flat cable|inlet|cable contact|ribbon|spade|spade connector|pins|sim slot|light fitting|crimp", "connector|contact|socket|jack|holder|port|terminal|inlet", false},
	{"battery", note.ClassBattery, "battery|batteries|battery pack|rechargeable battery|cell|cells|charger|charging circuit|charging unit|charging base|charging dock|charging station|internal battery|cmos battery|accumulator|battery charger|button cell", "battery|cell|charg|pack", false},
	{"motor", note.ClassMotor, "motor|brushes|carbon brushes|carbon brush|armature|commutator|motor brushes|motor winding|winding|windings|field coil|disc motor|motor bearings|coil resistance|carbons|rotor|stator|electric motor|fan motor|brush worn", "motor|brush|winding|armature", false},
	{"mechanism", note.ClassMechanical, "belt|drive belt|gear|gears|cog|cogs|gearbox|gear wheel|hinge|spring|clip|latch|catch|seal|gasket|hose|lid|tray|drawer|blade|blades|cutter|clutch|coupling|pulley|shaft|screw|screws|bobbin case|needle|hook timing|timing|tension|mechanism|clock movement|movement|tab|tag|cam|ratchet|chain|wheel|handle|casing|housing|bracket|arm|pin on|o-ring|tank|water tank|cassette mechanism|feed dogs|presser foot|bearing|bearings|bushing|lever|hands|stylus|drive band|rubber belt|rubber band|clasp|door|cover|plastic tag|drive shaft|knob|nut|bolt|pivot|jug|chuck", "belt|gear|hinge|spring|latch|seal|hose|lid|tray|blade|coupling|mechan|bobbin|needle|tension|bearing|clutch|cutter|wheel|handle|drive|movement", false},
	{"heater", note.ClassHeater, "element|heating element|heater element|heating elements|element wire|heating wire|heater coil|heating coil|heater|elements|resistance of the element|heat element|hot plate|heating plate", "heating element|heater|element", false},
	{"display", note.ClassDisplay, "display|screen|lcd|backlight|panel|touch screen|touchscreen|digitizer|digitiser|lcd panel|screen glass|glass", "display|screen|panel|backlight|touch", false},
	{"wiring", note.ClassWiring, "wire|wires|internal wire|internal wiring|wiring|speaker cable|speaker lead|headphone cable|internal cable|fine wiring|loose wire|broken wire|internal wires|wire inside|headphone wire|a connection inside", "wire|wiring", true},
	{"dirt", note.ClassDirt, "dirt|dust|lint|fluff|crumbs|crumb|hair|limescale|lime scale|scale|filter|filters|blockage|grease|oil|debris|grit|sand|gunk|jammed paper|paper jam|paper|insects|residue|clog|deposits|descale|lubrication|lubricant|lubricate|ink|stone|dead insect|stuck paper|calcium|mould|food|cotton|thread|threads", "filter|airway|scale|dirt|crumb|vent|dry|clog|nozzle", true},
	{"sensor", note.ClassSensor, "sensor|temperature sensor|light sensor|thermistor|ntc|optical sensor|hall sensor|probe|float switch|motion sensor|pir|humidity sensor|proximity sensor", "sensor|thermistor|PIR", false},
	{"software", note.ClassSoftware, "software|firmware|operating system|windows|update|updates|virus|viruses|malware|password|passwords|reinstall|reinstalled|reset|system reset|factory reset|driver|drivers|app|apps|storage|cache|settings|bios|boot loader|account|memory full|data|files|os", "system|software|firmware|settings", true},
	{"board", note.ClassBoard, "board|circuit board|pcb|control board|power board|main board|mainboard|motherboard|logic board|hard drive|hard disk|hdd|ssd|ram|graphics card|driver board|led driver|bulb|bulbs|led|leds|lamp|transformer|pump|compressor|power supply|psu|speaker|loudspeaker|laser|tuner|aerial|antenna|magnetron|cartridge|print head|power module|inverter|electronics|electronic board|circuit|circuitry|relay|solenoid|electromagnet|power unit|drive unit|microphone|processor|circuit boards|drive board|resistor|resistors|coil|starter|tube|ballast|gpu", "board|bulb|LED|transformer|pump|compressor|drive|supply|laser|aerial|magnet|relay|loudspeaker|resistor|lamp|cartridge", false},
	{"use", note.ClassUser, "user error|instructions|manual|operator error|explained|showed|shown|incorrectly|wrongly|put in wrongly|not plugged|start procedure|wrong charger|not the right one|demonstrated|found off|wrong way|wrong setting|misuse|set up correctly|no fault found|demonstration|wrong type", "use|user|setting|fitted", true},
}

// Words on a part's state.
var (
	goodWords = setOf("good fine ok okay works working intact healthy sound runs")
	badWords  = map[state]map[string]bool{
		stuck: setOf(`stiff stuck jammed jam jams seized blocked clogged sticking sticky blocking tight`),
		dirty: setOf(`dirty rusty rusted rust corroded corrosion greasy oxidised oxidized cleaned cleaning clean dusty full packed
			oiled lubricated descaled dry gummed`),
		loose: setOf(`loose off dislodged detached disconnected came come out pulled slipping slack fell fallen misaligned refitted
			reconnected tightened reattached parted`),
		faulty: setOf(`bad broken break broke burnt burned blown blew faulty fault dead cracked damaged damage failed failure failing
			short shorted melted cut torn perished leaking leaks leak worn gone open snapped split bent defective frayed missing
			exposed disintegrated swollen bulging tired weak flat low empty exhausted severed chewed stripped issue problem trouble kaput bust busted dodgy
			duff intermittent nothing none lacking unsoldered`),
	}
	doing = setOf("work working works run runs running turn turns turning respond move moves moving start starts light lights spin play charge charging")
	// dealtWith tells of a repair: the part was at fault, unless the trouble stayed.
	dealtWith = setOf(`new fresh replace replaced replacing replacement changed swapped repaired repair resoldered soldered need needs needed
		requires required order ordered`)
	newWords    = setOf("new replaced changed fresh replacement swapped")
	wanting     = setOf("need needs needed require requires required want wants order ordered")
	stillWords  = setOf("still unchanged")                              // it was in vain
	betterWords = setOf("change changed difference help helped better") // in vain if denied
	notWords    = setOf("not no never without isnt doesnt didnt cannot cant wont nor dont wasnt havent hasnt arent stopped stops")
)

// stateWord is what one word says of a part; ok is false if it says nothing.
func stateWord(word string) (s state, ok bool) {
	for s = failing; s <= faulty; s++ {
		if badWords[s][word] {
			return s, true
		}
	}
	return named, false
}

func setOf(words string) map[string]bool {
	out := map[string]bool{}
	for _, w := range strings.Fields(words) {
		out[w] = true
	}
	return out
}
