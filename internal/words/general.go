package words

import "strings"

// General returns the symptoms any electrical device may show, for a device
// that has no bench note of its own. Each call returns a fresh copy.
//
// The ids are stable: records appraised with them may be kept. Every phrase is
// meant to be enough on its own to state the symptom; variants that differ only
// by a trade synonym, a spelling or an ending are left to the lexicon.
func General() []Entry {
	out := make([]Entry, 0, len(general))
	for _, g := range general {
		e := Entry{ID: g.id, Title: g.title}
		for p := range strings.SplitSeq(g.phrases, "|") {
			e.Phrases = append(e.Phrases, strings.TrimSpace(p))
		}
		out = append(out, e)
	}
	return out
}

type generalEntry struct{ id, title, phrases string }

var general = []generalEntry{
	{"dead", "Does not turn on", `does not turn on|dead|no power|nothing happens|no sign of life|
		will not start|does not come on|no lights, no sound|does not respond when switched on|no response when power is pressed|no electricity|
		does not get power|completely dead|stays in standby|does not come out of standby|stuck in standby|only standby light`},
	{"not-working", "Does not work, not said how", `does not work|not working|stopped working|does not function|
		no longer works|kaput|defunct|broken down|gave up|packed up|stopped|out of order|does not run`},
	{"cuts-out", "Stops or switches itself off", `cuts out|turns off by itself|will turn off by itself|turn off after a few minutes|stops after a while|switches off after a few minutes|
		shuts down|keeps turning off|turns on then off|starts then stops|starts for a few seconds then stops|works for a while then stops|
		dies after a few minutes|turns off again|does not stay on|goes off after a while|runs for a few seconds|
		stops suddenly|only works for a few minutes|stops when it gets hot|trips out after a while|loses power suddenly|
		turns off immediately|stops in the middle`},
	{"intermittent", "Works only now and then", `works intermittently|sometimes works|intermittent fault|works on and off|
		only works when moved|works when the cable is held|intermittent power|on and off|does not always turn on|
		does not always work|temperamental|erratic|works when tapped|works when wiggled|works in some positions|have to hit it to make it work|comes on when wiggled|turns on when the lead is moved|unreliable|sometimes turns on|intermittent`},
	{"trips", "Trips the breaker or blows a fuse", `trips the breaker|blows the fuse|takes out the electrics|
		short circuit|shorts out|trips the electrics|fuse keeps blowing|blew the fuse|blown fuse|fuse has blown|
		circuit breaker goes`},
	{"shock", "Gives an electric shock or tingle", `gives an electric shock|gives a shock|tingles when touched|
		live casing|case is live|got a shock|electric shock`},
	{"no-heat", "Does not heat", `does not heat|no heat|stays cold|does not get hot|does not boil|heating not working|
		element does not heat|does not warm up|not hot enough|does not heat up|heats poorly|
		does not reach temperature|only lukewarm|only heats a little|heats on one side only|element not working|element gone|comes out cold|does not toast|not heating`},
	{"too-hot", "Gets too hot", `overheats|gets too hot|runs hot|too hot|gets very hot|burns the food|thermostat does not cut out|
		boils dry|temperature too high`},
	{"no-cool", "Does not cool", `does not cool|not cold|does not get cold|not cooling|warm inside|blows warm air`},
	{"no-spin", "Motor or mechanism does not turn", `motor does not turn|does not spin|does not rotate|blade does not turn|
		fan does not spin|motor does not run|drum does not turn|hands do not move|does not move|no movement|motor dead|
		brush does not rotate|wheel does not turn|turntable does not turn|belt does not move|
		motor does not work|tray does not turn|platter does not spin`},
	{"slow", "Slow, weak or low on power", `slow|weak|runs slowly|low power|lacks power|no strength|sluggish|loses speed|
		runs at half speed|speed too low|underpowered|motor struggles|poor performance|takes a long time`},
	{"speed", "Speed cannot be set or is wrong", `only works at one speed|speed control does not work|speed cannot be changed|
		only works at full speed|runs too fast|stuck at one speed|speed not constant|only one speed works|wrong speed|too fast`},
	{"noise", "Makes an unusual noise", `makes a noise|noisy|loud noise|grinding noise|rattles|squeals|squeaks|strange noise|
		clicking noise|clicks|loud|whines|knocks|scraping sound|screeching|grinds|beeping|beeps|bangs|makes a funny sound`},
	{"vibrates", "Shakes or vibrates", `vibrates|shakes|wobbles when running|judders|out of balance|jumps around`},
	{"hum", "Hums or buzzes", `hums|buzzing|humming noise|mains hum|drone|buzzes when on`},
	{"crackle", "Sound crackles or is distorted", `crackles|sound is distorted|scratchy sound|static noise|sound breaks up|
		noisy volume control|crackly when turning the volume|hissing sound|bad sound quality|poor sound|sound cuts in and out`},
	{"no-sound", "No sound", `no sound|silent|no audio|no music|speaker does not work|sound does not work|cannot hear anything|
		does not play sound|no volume|microphone does not work|no sound from the speakers`},
	{"one-channel", "Sound from one side only", `only left channel works|one speaker does not work|sound on one side only|
		no sound from left speaker|right channel dead|left side dead|one side not working|one ear does not work|
		only one channel|only works in one ear|no sound on the right`},
	{"quiet", "Sound too quiet", `sound too quiet|low volume|volume too low|very quiet|weak sound|faint sound|volume drops`},
	{"reception", "Poor radio or signal reception", `poor reception|no reception|does not pick up stations|no signal|
		cannot find any stations|bad signal|does not tune|loses signal|weak signal|tuning does not work|
		aerial broken|tuner not working`},
	{"no-picture", "No picture or display", `no picture|blank screen|screen is black|display does not work|no display|
		display is dead|nothing on the screen|screen does not light|no image|screen does not come on|
		no backlight|sound but no picture|lcd not working`},
	{"bad-picture", "Picture faulty", `lines on the screen|picture distorted|wrong colours|spots on the screen|half the screen missing|
		vertical lines on picture|missing segments on display|display is faint|display problem|screen discoloured|picture breaks up|
		parts of the display missing|ghost image|display unreadable|dark picture|blurred picture|does not focus`},
	{"cracked-screen", "Screen cracked", `cracked screen|broken screen|smashed screen|cracked digitiser|screen shattered|broken glass on display|
		broken display|screen needs replacing|cracked glass`},
	{"touch", "Touch screen does not respond", `touch screen does not respond|touch does not work|screen does not react to touch|
		touch pad does not work|screen does not respond to touch`},
	{"no-light", "A lamp or LED does not light", `light does not come on|lamp does not light|bulb does not light|no light|
		led not working|light not working|some lights do not work|bulb not working|half the lights out|does not light up|
		only some lights work|backlight dead|bulb blown|leds are dead`},
	{"flicker", "Flickers or flashes", `flickers|flashes|blinks|light flashes|flickering light|lights flash`},
	{"dim", "Too dim", `dim|too dark|light is weak|not bright|lost brightness|dims|dimmer does not work`},
	{"error-shown", "Shows an error code or warning", `error code|error message|shows an error|fault light on|warning light|
		displays error|says error|error on display|displays message|red light flashing`},
	{"no-charge", "Does not charge", `does not charge|battery does not charge|not charging|no charging|charging does not work|
		charger does not work|cannot be charged|charging problem|does not recharge|charge light does not come on|only charges in one position`},
	{"drains", "Battery worn or does not hold charge", `battery does not hold charge|battery drains fast|battery runs flat|battery life is short|
		battery goes flat quickly|poor battery|battery dead|battery worn out|battery flat|weak battery|
		only works when plugged in|only works on mains|loses charge|battery does not last|battery swollen|battery empty|
		battery problem`},
	{"battery-leak", "Battery has leaked or contacts corroded", `battery has leaked|leaking battery|corroded battery contacts|
		corroded|rusty|corrosion on contacts|battery acid|rusted contacts|contacts dirty|rust|battery corroded`},
	{"loose-cable", "Cable or lead damaged", `damaged cable|broken cable|frayed cable|cable loose|cut cable|cable needs replacing|
		exposed wires|wire broken|wire came off|lead worn|cable pulled out|cable came out|bad cable|plug broken|cable damaged at the plug|
		needs new cable|needs new plug|loose wire|wire disconnected|wire detached|wire came out|cracked wire|cracked cable|cable worn|cable missing insulation|cable chewed|broken wire|cable faulty|cable twisted|cord short`},
	{"loose-connection", "Bad contact at a socket or connector", `loose connection|bad contact|socket loose|jack loose|
		charging port loose|charging port broken|plug does not fit|does not fit properly|connection problem|contact broken|connector disconnected|poor connection|broken connector|usb port damaged|
		usb socket broken|have to wiggle the plug|have to jiggle the plug|headphone socket does not work|power socket loose|bad connection|port not working|
		connector came off|contact problem|input does not work|pin bent|socket damaged`},
	{"button", "Button does nothing", `button does nothing|button does not work|switch does not work|
		power button broken|key does not respond|keys do not work|on off switch broken|button faulty|
		does not respond to buttons|controls do not work|knob does nothing|trigger does not work|dial does not work|
		switch faulty|button does not respond|joystick does not work|buttons stopped working|button broken|keyboard does not work|
		remote control does not work|switch broken|volume cannot be adjusted|cannot adjust|timer does not work|controller does not work|mouse does not work`},
	{"latch", "Does not stay down, latch or click in", `does not stay down|lever does not stay down|does not latch|button does not stay in|
		does not hold down|handle does not stay down|pops up|toast does not stay down|switch does not stay on|does not click in|
		does not lock|bread does not stay down|does not pop up`},
	{"jammed", "Stuck, jammed or seized", `stuck|jammed|seized|does not come out|does not come off|cannot get it off|does not eject|door stuck|cannot be removed|blocked|does not open|cannot be opened|paper jam|clogged|
		button stuck|stiff|tray does not open|stuck inside|locked up|hard to turn|wedged|lid stuck|something stuck`},
	{"no-close", "Does not close or shut", `does not close|door does not shut|lid does not close|door does not close|does not shut properly|
		lid does not stay closed|hinge broken|broken hinge|catch broken`},
	{"no-stop", "Cannot be switched off", `does not turn off|is not turning off|does not shut down|does not stop|always on|stays on|runs all the time|cannot be switched off|
		keeps running|switch stuck on|does not switch off automatically|on all the time`},
	{"leaks", "Leaks", `leaks|does not hold water|does not hold liquid|water comes out|drips|leaking water|loses water|oil leak|water leaks from the bottom|leaks from underneath|spits water`},
	{"no-water", "Water, steam or coffee does not come", `no water comes out|no steam|does not pump|does not steam|no coffee comes out|
		does not spray|water does not flow|pump does not work|no pressure|does not draw water|steam does not work|low pressure|
		water does not come through`},
	{"no-suction", "Poor suction or air flow", `no suction|does not suck|poor suction|lost suction|weak suction|does not blow|no air flow|
		does not pick up dirt|suction lost|not picking up|low suction|blows weakly`},
	{"no-play", "Does not read or play the medium", `does not play cds|does not read discs|does not play|disc not recognised|cd skips|
		tape does not play|cassette does not play|eats tapes|does not read card|sim card not recognised|no disc|needle does not drop|
		record skips|cd player not working|tape deck not working|cd does not work|dvd does not play|skips|does not recognise card`},
	{"no-boot", "Starts but does not boot", `does not boot|stuck at logo|stuck on start screen|does not load|blue screen|
		freezes|hangs|crashes|freezes at startup|boot loop|operating system does not load|
		does not get past the logo|stuck on startup|stuck in loading screen`},
	{"resets", "Restarts by itself", `restarts by itself|keeps restarting|reboots|resets itself|turns itself off and on|turns on by itself`},
	{"software", "Program, password or settings trouble", `forgot password|software problem|needs update|update failed|
		virus|memory full|no storage left|needs reset|does not update|needs reinstall|password unknown|needs software|app does not work|
		wants a new operating system|out of memory|account locked`},
	{"no-connect", "Does not connect to other equipment", `does not connect|no wifi|bluetooth does not work|no internet|
		does not pair|not recognised by the computer|no connection|usb not recognised|wifi does not work|loses connection|
		not detected by the computer|does not connect to wifi|does not find network|cannot connect to bluetooth|does not transfer`},
	{"bad-print", "Prints badly or not at all", `does not print|prints badly|streaks on the print|faint print|blank pages|ink does not come out|
		does not scan|prints black lines|ink clogged|print head blocked|does not print colour|does not recognise cartridge|poor print quality`},
	{"no-feed", "Does not feed or pull material in", `does not feed|does not pull paper in|does not take paper|fabric does not move|
		paper feed problem|feed does not work|does not shred|does not grab the paper|feed dogs do not work|does not pick up paper`},
	{"stitch", "Does not stitch properly", `does not stitch|does not sew|thread breaks|thread tangles|skips stitches|tension problem|
		bobbin problem|needle stuck|needle does not move|thread jams|bad stitches|bobbin thread does not catch|tension wrong|
		needle broken|needle does not go down|loops in the thread|thread bunches up|thread bunches underneath|needle out of position|needle hits the plate|does not pick up bobbin thread`},
	{"timekeeping", "Clock wrong or stopped", `loses time|does not keep time|clock runs slow|clock stopped|runs fast|wrong time|watch stopped|
		does not tick|clock does not run|hands stopped|hands stuck|does not chime|does not tell the time|clock not working|watch not working`},
	{"smell", "Smells", `smells|burning smell|smells of burning|bad smell|smells of plastic|burnt smell|smells hot`},
	{"smoke", "Smokes", `smokes|smoke comes out|gives off smoke|puff of smoke|went up in smoke|caught fire|flames`},
	{"sparks", "Sparks or flashes inside", `sparks|sparking|arcs|sparks from the motor|flash inside|bang and a flash|went bang`},
	{"burnt", "Burnt or melted part", `burnt out|melted|burn marks|scorched|motor burnt out|burnt plug|charred|melted plastic`},
	{"broken-part", "Something mechanical broken off", `broken part|broken handle|snapped off|came off|fell apart|broken plastic|
		cracked casing|broken gear|broken lid|broken door|part broken off|broken clip|handle came off|damaged housing|broken spring|
		broken foot|broken switch cover|casing cracked|fell off|broken off|broken lever|broken arm|torn|
		broken belt|belt came off|stripped gear|broken tooth|belt slips|bent|broken base|broken neck|broken stand`},
	{"loose-part", "Something loose or wobbly", `loose|wobbly|part loose|screw loose|head wobbles|
		blade loose|slips|loose screw|handle loose`},
	{"missing-part", "A part is missing", `part missing|missing screw|lost part|no charger|missing charger|charger missing|lid missing|
		missing cable|missing power supply|no power supply|lost the charger|cable missing|parts missing|needs charger|missing knob`},
	{"wet", "Got wet", `got wet|water damage|dropped in water|liquid spilled|spilled coffee on it|water inside|fell in water|
		liquid damage|left in the rain|wet`},
	{"dropped", "Was dropped", `was dropped|fell on the floor|had a fall|got knocked over|dropped it|fell down`},
	{"wrong-temperature", "Temperature wrong or not steady", `temperature not constant|thermostat broken|temperature cannot be set|
		wrong temperature|thermostat not working|temperature varies|temperature control does not work|does not switch off at temperature|
		temperature fluctuates`},
	{"dirty", "Dirty or due for a service", `dirty|needs cleaning|full of dust|needs service|needs oil|dusty|needs lubrication|full of hair|
		needs maintenance|wants a service|blocked filter|sticky|gummed up|hair wrapped round`},
}
