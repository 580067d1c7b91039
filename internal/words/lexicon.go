package words

import "strings"

// A concept is one idea of the trade with the ways of saying it.
//
// Patterns are words to be compared by stem, parted by "|". Within a pattern
// ".." lets up to three other words stand between ("turn the lamp on"), and a
// leading "=" asks for that very form ("=stops working"). Longer patterns win.
type concept struct {
	name     string
	neg      bool   // saying it denies the concept: "dead" is "on", denied
	kind     kind   // how it can be affirmed: see kind
	absorbs  string // predicates that speak about this noun: "display dead"
	patterns string
}

// kind says when a concept that stands without a negator counts as affirmed,
// so that "heats fine" denies "does not heat".
type kind uint8

const (
	thing kind = iota // never affirmed by mere mention
	deed              // a verb: affirmed by "heats", "does heat"
	part              // a noun: affirmed by "has sound", "sound is fine"
)

const generic = "@work @on @fault"

// concepts is the table of trade synonyms. Names beginning with "@" cannot
// collide with a stem.
var concepts = []concept{
	// Running and power.
	{"@on", false, deed, "", `turn .. on|turn on|have power|has power|there is power|power is on|power ok|=powers|receive power|switch .. on|switch on|power .. on|power up|power on|start|start up|come on|come to life|
		come alive|go on|fire up|light up and run|switch itself on|put on`},
	{"@on", true, deed, "", `dead|stone dead|no power|without power|nothing happen|nothing happens|show nothing|give nothing|just die|suddenly die|completely die|have die|it die on|no life|no sign of life|no signs of life|lifeless|
		do nothing at all|no nothing|no nothing at all|not a thing|not a peep|not a spark|not a sausage|no sign of live|no sign of power|no power at all|fail to power|no mains|no activity|no sign of activity|do not power|will not power|not power on|not power up|never power|no electricity|get no power|no juice|
		not get power|not get any power|not getting power|not get electricity|not receive power|no response at all|no reaction at all|no longer power`},
	{"@cutout", false, thing, "", `cut out|=turns off|=switches off|=turning off|=switching off|=powers off|=powering off|=turns itself off|=switches itself off|cut off|go off|die|conk out|drop out|pack in|shut down|cut power|lose power|keep turn off|keep switch off|keep cut out|keep shut down|
		keep go off|keep stop|keep cut off|keep turn itself off|turn off again|power keep cut|switch off again|keep power off|=stops working|shutdown`},
	{"@off", false, thing, "", `turn .. off|turn off|switch .. off|switch off|switch itself off|turn itself off|shut off|shut itself off|
		shut itself down|power off|power down|cut itself off|turn it self off|switch it self off`},
	{"@stayon", false, thing, "", `stay on|remain on|stay run|keep run|stay running|always on|constantly on|on all the time|permanently on|run all the time|continue to run|on constantly|keep going`},
	{"@work", true, deed, "", `=stopped`},
	{"@stop", false, thing, "", `stop|halt|stall|quit|come to a stop|come to a halt`},
	{"@work", false, deed, "", `work|function|operate|operational|run|do anything|do something|go well`},
	{"@work", true, deed, "", `do nothing|not do nothing|broken down|break down|out of order|kaput|defunct|give up|given up|gave up|pack up|packed up|give up the ghost|
		inoperative|out of action|inoperable|no function|non functional|nonfunctional|=malfunctions|=malfunctioning|no action`},
	{"@respond", false, deed, "", `respond|react|response|reaction|do anything when press`},
	{"@respond", true, deed, "", `unresponsive|no response|no reaction|nonresponsive|non responsive`},
	{"@fault", false, thing, "", `no good|not good|no use|useless|break|fault|faulty|defective|defect|bust|busted|knackered|dodgy|damage|problem|issue|trouble|bad|wreck|ruin|=gone`},
	{"@boot", false, deed, "", `boot|boot up|load`},
	{"@restart", false, deed, "", `restart|reboot|reset itself|turn itself off and on|switch itself off and on`},
	{"@self", false, thing, "", `by itself|on its own|by it self|itself|on it own|unexpectedly|suddenly|spontaneously|of its own accord|without warning|automatically|
		all by itself|unprompted`},
	{"@while", false, thing, "", `after a while|for a while|a while|after .. minutes|after .. seconds|after .. hour|a few minutes|a few seconds|few second|few minute|a short time|
		after some time|some minutes|for .. minutes|for .. seconds|within seconds|within minutes|short while|a couple of minutes|a couple of seconds|
		in use|during use|while in use|after use|half way through|halfway through|in the middle|mid use|mid cycle|a second|a minute|an hour|a bit|briefly|
		couple of minute|couple of second|seconds|minutes|for a moment|quickly`},
	{"@now", false, thing, "", `immediately|straight away|right away|instantly|at once|straightaway`},
	{"@sometimes", false, thing, "", `=sometimes|come and go|occasionally|intermittent|intermittently|now and then|now and again|from time to time|at =times|every so often|
		once in a while|randomly|random|erratic|sporadic|on and off|off and on|temperamental|every now and then|some of the time|not always|not every time|
		hit and miss|most of the time|unreliable|inconsistent|occasional|unpredictable`},
	{"@trip", false, deed, "", `trip|trip the breaker|blow the breaker|trip the electrics|trip the rcd|take out the rcd|trip the circuit breaker|trip the fuse box|
		trip the house|trip the mains|throw the breaker|take out the electrics|take out the lights|take out the power|trip fuse|trip the fuse|knock out the electrics|trip switch|throw the switch|
		the lights in the house go|lights go out in the house|house lights go|fuse box go|make the lights go out|trip power|trip the power|trip the circuit|trip house electrics|trip circuit|trip main`},
	{"@blowfuse", false, deed, "", `blow .. fuse|blow fuse|fuse .. blow|fuse blow|fuse blown|fuse go|burn fuse|fuse burn|fuse have gone|fuse gone|=fusing|keep blow fuse|
		fuse the house|blow the electrics|pop the fuse`},
	{"@short", false, thing, "", `short circuit|short out|shorted|shorting|short circuited|shortcircuit|=shorts`},
	{"@breaker", false, thing, "", `circuit breaker|breaker|rcd|rcbo|gfci|consumer unit|fuse box|fusebox|fuse board`},
	{"@shock", false, thing, "", `electric shock|shock|tingle|electrocute|zap`},

	// Heat and cold.
	{"@heat", false, deed, generic, `heat|heat up|warm up|get hot|get warm|become hot|become warm|boil|toast|warm|hot|get up to temperature`},
	{"@heat", true, deed, "", `stone cold|stay cold|remain cold|lukewarm|stay cool|still cold`},
	{"@cold", false, thing, "", `cold`},
	{"@cool", false, deed, generic, `cool|cool down|chill|freeze food|get cold|become cold|get cool|refrigerate|make cold`},
	{"@overheat", false, thing, "", `overheat|over heat|too hot|very hot|get very hot|become very hot|become too hot|over hot|excessively hot|get really hot|heat too much|get extremely hot|get too hot|extremely hot|run hot|red hot|hot to touch|too warm|very warm|burn hot|burn food|burn toast|
		burn the toast|burn everything|boil dry|super hot|really hot`},
	{"@element", false, part, generic + " @heat", `heat element|element|heating coil|heating plate|hot plate|hotplate`},
	{"@temperature", false, thing, "", `temperature|temp`},
	{"@thermostat", false, part, generic, `thermostat`},
	{"@vary", false, thing, "", `fluctuate|vary|unstable|not constant|not steady|unsteady|not consistent|up and down|inconsistent`},

	// Motion.
	{"@turn", false, deed, "", `spin|rotate|turn|revolve|turn round|turn around|go round|go around|rotation`},
	{"@motor", false, part, generic + " @turn @move", `motor|engine`},
	{"@fan", false, part, "@turn @move @blow", `fan|blower|impeller|ventilator`},
	{"@blade", false, thing, "", `blade|knife|whisk|beater|cutter|hook`},
	{"@move", false, deed, "", `move|advance|budge|movement`},
	{"@stuck", false, thing, "", `stuck|motor frozen|frozen motor|jam|jammed|seize|seized|bind|wedge|wedged|stick|lock up|locked up|siezed|locked solid|frozen solid|
		hard to turn|difficult to turn|hard to open|difficult to open|not budge`},
	{"@blocked", false, thing, "", `block|blocked|blockage|clog|clogged|bunged up|choked|obstruct|obstruction|obstructed|plugged up`},
	{"@slow", false, deed, "", `slow|slowly|take .. long time|=takes long|=takes too long|=taking long|take age|take forever|sluggish|low speed|half speed|loses speed|slow down|lag|laggy|not .. full speed|not full speed|not fast enough`},
	{"@weak", false, thing, "", `weak|weakly|feeble|low power|lack power|underpowered|no strength|under power|lose power under load|lack of power|struggle|not powerful|
		not strong|poor performance|no oomph|no torque|not much power|reduce power|lose strength|under powered|not enough power`},
	{"@fast", false, thing, "", `too fast|very fast|high speed|full speed|top speed`},
	{"@speed", false, part, "", `speed|speed control|speed regulator|speed setting|speed selector`},
	{"@vibrate", false, deed, "", `vibrate|vibration|shake|judder|out of balance|unbalanced|jump around|wobble when run|shudder`},

	// Noise.
	{"@noise", false, thing, "", `noise|noisy|make a noise|racket|rattle|squeal|squeak|screech|whine|=grinds|=clicks|knock|clatter|bang|clunk|
		grinding noise|rattling noise|clicking noise|whining noise|funny sound|strange sound|weird sound|odd sound|scraping sound|clicking sound|
		grinding sound|bad sound when run|screeching sound|rattling sound|make a sound|make sound|rumble|loud|loudly|funny noise|strange noise|terrible noise|
		awful noise|loud noise|noise loudly|howl|make .. sound when|clank|tick noise|whistle|scrape|unusual sound|knocking sound|high pitched|
		squeaking noise|squealing noise|whirr noise|make .. noise|very loud|too loud|noise when run`},
	{"@beep", false, thing, "", `beep|bleep`},
	{"@hum", false, deed, "", `hum|buzz|drone|hum noise|buzz noise|hum sound|buzz sound|humming noise|buzzing noise|humming sound|buzzing sound`},
	{"@crackle", false, deed, "", `crackle|=crackly|crackling noise|scratchy|distort|distorted|distortion|static|hiss|hissing noise|crackling sound|scratchy sound|static noise|
		break up|garbled|fuzzy sound|muffled|crunchy|scratching noise|scratchy noise|distorted sound|tinny`},

	// Sound and picture.
	{"@sound", false, part, generic + " @play @hear", `sound|audio|music|sound output|audio output`},
	{"@sound", true, part, "", `silent|mute|no volume|not hear anything|not hear|cannot hear|hear nothing|inaudible|nothing to hear|no voice|cannot be heard|not be heard`},
	{"@speaker", false, part, generic, `speaker|loudspeaker|loud speaker|tweeter|woofer`},
	{"@mic", false, part, generic, `microphone|mic`},
	{"@volume", false, thing, "", `volume|volume control|volume knob`},
	{"@quiet", false, thing, "", `hardly hear|barely hear|quiet|=quieter|faint sound|weak sound|low volume|volume low|sound low|volume too low|low sound|not loud enough|volume .. low|sound weak|volume drop`},
	{"@oneside", false, part, generic + " @sound", `one channel|left channel|right channel|one side|left side|right side|only left|only right|one ear|left ear|right ear|
		one speaker|left speaker|right speaker|left earphone|right earphone|left hand side|right hand side|one earphone|one earpiece|mono only|left ear phone|one ear phone|right ear phone|
		on the left|on the right|in one ear|one of the speakers|left headphone|right headphone|one ear piece|left earpiece|right earpiece|left hand channel|
		right hand channel|one earbud|left earbud|right earbud`},
	{"@display", false, part, "@work @on @light @respond @lighton", `display|screen|picture|lcd|image|monitor|read out|readout|display screen|=digitiser|=digitizer|touch panel|tv picture|display panel`},
	{"@display", true, part, "", `blank screen|screen .. blank|display .. blank|display .. dark|black screen|screen .. black|display .. black|nothing on the screen|screen .. dark|
		nothing on the display|nothing on screen|blank display|screen blank|screen black|dark screen|=blank|nothing display|screen go black|no backlight|backlight not work`},
	{"@lines", false, thing, "", `line|stripe|band|streak|vertical line|horizontal line`},
	{"@flicker", false, deed, "", `flicker|flash|blink|flash on and off|blink on and off|strobe`},
	{"@dim", false, thing, "", `dim|not bright|too dark|faint|dimly|weak light|light weak|light .. weak|lose brightness|not bright enough|low light|low brightness`},
	{"@dimmer", false, part, generic, `dimmer|dimmer switch|dimming`},
	{"@light", false, part, generic + " @lit @lighton", `light|led|bulb|lamp|light bulb|lightbulb|fairy light|globe|neon|indicator light|leds|backlight`},
	{"@lit", false, deed, "", `lit|illuminate|glow|light up|shine`},
	{"@error", false, thing, "", `error|error code|message|error number|fault code|error message|warn message|warning message|error sign|fault message|fault light|warn light|warning light|service light|error light`},
	{"@touch", false, part, generic + " @respond", `touch screen|touchscreen|touch|touchpad|touch pad|trackpad|track pad`},
	{"@reception", false, part, generic, `reception|signal|tune|tuner|tuning|radio signal|pick up station|find station|find channel|find any channel|pick up channel|get channel|no channel|find any stations|receive station|station|fm|channels found|dab signal`},
	{"@aerial", false, part, generic, `aerial|antenna`},

	// Battery and charging.
	{"@charge", false, deed, generic + " @take", `charge|recharge|charge up|take a charge|take charge|accept charge|accept a charge|charge the battery|charge battery|battery charge|take any charge`},
	{"@hold", false, deed, "", `hold charge|hold a charge|hold .. charge|keep .. charge|keep charge|retain charge|charge hold|battery last|last long|hold the charge|stay charged|hold power|keep power|hold battery|retain power|hold its charge`},
	{"@hold", true, deed, "", `drain|run flat|go flat|run down|discharge|lose charge|short battery life|battery life .. short|poor battery life|run out quickly|flat battery|battery flat|
		battery .. flat|dead battery|battery dead|battery .. dead|poor battery|weak battery|battery weak|battery die|low battery|battery low|battery .. low|battery .. drain|bad battery|
		battery bad|battery worn out|battery fault|battery swell|swollen battery|battery bulge|battery defective|defective battery|faulty battery|battery life|battery empty|battery gone|
		battery .. gone|battery does not work|battery broken|battery only last|battery .. only last|battery problem|battery issue|worn battery|battery .. worn|battery run out|battery not work|battery fail|battery failure|battery .. shot|battery exhaust`},
	{"@battery", false, thing, "", `battery|batteries|accumulator|rechargeable cell`},
	{"@charger", false, part, generic, `charger|charging lead|charging cable|charge cable|charge lead|battery charger|charging cord|charging brick|charge unit`},
	{"@mainspower", false, thing, "", `on mains|on the mains|mains|plugged in|plug in|on mains power|when plugged`},

	// Cables, sockets, switches.
	{"@cable", false, thing, "", `cable|lead|cord|flex|wire|wiring|power cable|power cord|power lead|mains lead|mains cable|electrical cord|electric cord|electric cable|
		electrical cable|cabling|no power lead|no power cord|no power cable|strap wire|mains flex|power flex|supply cord|electric wire|mains cord|electrical wire`},
	{"@plug", false, thing, "", `plug|mains plug|power plug|electrical plug`},
	{"@psu", false, part, generic, `power supply|power adapter|power adaptor|adapter|adaptor|power brick|power pack|psu|power unit|transformer|mains adapter|mains adaptor|power supply unit`},
	{"@frayed", false, thing, "", `fray|frayed|exposed|bare wire|worn through|chew|chewed|cut through|severed|cracked insulation|split cable|perished|bare`},
	{"@cut", false, thing, "", `=cut|slice through`},
	{"@port", false, part, generic, `charging port|charge port|charger connection|charge connection|power connection|charger port|charger socket|usb connection|charge connector|charging socket|charge socket|usb port|power socket|power jack|headphone jack|headphone socket|jack socket|dc jack|
		socket|port|jack|connector|charge point|charging point|charging connector|power port|power connector|power inlet|aux socket|aux input|hdmi port|usb socket|usb connector|
		jack plug|connection point|power input|input|terminal|usb|hdmi`},
	{"@contact", false, thing, "", `contact|=connection|=connections|electrical contact|electrical =connection`},
	{"@badcontact", false, thing, "", `loose connection|bad connection|poor connection|bad contact|poor contact|loose contact|dodgy connection|dry joint|no contact|
		connection .. loose|contact .. loose|connection problem|contact problem|not make contact|not make good contact|intermittent contact|broken connection|
		intermittent connection|wobbly contact|connection broken|not make a connection|lose contact|faulty connection|connection faulty|loose wire connection|connection poor|contact poor|contact bad|bad solder|broken solder|solder .. broken|
		solder joint`},
	{"@button", false, part, generic + " @respond @press", `button|switch|push button|power button|power switch|on off switch|on off button|knob|key|dial|trigger|joystick|on switch|off switch|start button|
		pushbutton|on button|keyboard|=controls|selector|rocker switch|toggle|buttons|play button|home button|volume button|thumbstick|keypad|pedal|foot pedal|on and off switch|on and off button|on off|off button`},
	{"@remote", false, part, generic + " @respond", `remote control|remote|handset remote|remote controller|controller|mouse`},
	{"@timer", false, part, generic, `timer|clock timer`},

	// Water, air, leaks.
	{"@leak", false, thing, "", `leak|drip|water come out|water escape|lose water|spill water|water run out|leakage|leaky|seep|ooze|weep|dribble|water from the bottom|spit water|water everywhere|water drop|water leak|leak water`},
	{"@leakbatt", false, thing, "", `battery leak|battery .. leak|leak battery|battery acid|battery .. corrode|leaked batteries|old batteries leaked|battery fluid`},
	{"@corrode", false, thing, "", `corrode|corrosion|rust|rusty|rusted|oxidise|oxidize|oxidised|oxidation|verdigris`},
	{"@water", false, thing, "", `water|liquid|coffee come out|coffee`},
	{"@steam", false, part, generic + " @comeout", `steam`},
	{"@pump", false, deed, generic, `pump`},
	{"@pressure", false, part, generic, `pressure`},
	{"@suck", false, deed, generic, `suction|suck|pick anything up|pick up anything|pick up crumbs|sucking power|vacuum up|suck up|suction power|pick up dirt|suction force`},
	{"@suck", true, deed, "", `low suction|weak suction|poor suction|little suction|lose suction|lost suction|suction lost|suction .. weak|suction .. poor|suction .. low|not much suction|reduced suction|suction loss|loss of suction|bad suction|lack of suction`},
	{"@blow", false, deed, "", `blow|air flow|airflow|blow air`},

	// Media, computing.
	{"@disc", false, part, "@work @fault @read @play", `disc|disk|cd|dvd|cds|dvds|compact disc|cd player|dvd player|cd drive|dvd drive|disc drive|optical drive|dvd drive|sim|card`},
	{"@tape", false, part, "@work @fault @play", `tape|cassette|tape player|cassette player|cassette deck|tape deck`},
	{"@play", false, deed, "", `play|playback|play back`},
	{"@read", false, deed, "", `read|recognise|recognize|detect|register|accept|recognition|find disc`},
	{"@skip", false, deed, "", `skip|jump`},
	{"@hang", false, deed, "", `hang|freeze|frozen|crash|lock up|boot loop|blue screen|freezes up|bootloop`},
	{"@logo", false, thing, "", `logo|start screen|startup screen|splash screen|start up screen|loading screen|boot screen|boot logo`},
	{"@connect", false, deed, "", `connect|pair|link up`},
	{"@net", false, part, generic + " @connect @read", `wifi|wi fi|internet|bluetooth|network|wireless|blue tooth|web`},
	{"@password", false, thing, "", `password|lock out|pin code|passcode|pass word|login`},
	{"@os", false, thing, "", `operating system|software|firmware|app`},
	{"@update", false, thing, "", `update|upgrade|reinstall|re install`},
	{"@virus", false, thing, "", `virus|malware`},
	{"@print", false, deed, generic, `print|printing`},
	{"@scan", false, deed, generic, `scan`},
	{"@feed", false, deed, generic, `feed|pick up paper|pull paper|take paper|paper feed|pull in paper|grab paper|pull .. paper|take .. paper|draw in paper|pick up the paper`},
	{"@stitch", false, deed, generic, `stitch|sew`},
	{"@thread", false, thing, "", `thread|yarn`},
	{"@tension", false, part, generic, `tension|tensioner`},

	// Smell, smoke, fire.
	{"@smell", false, deed, "", `smell|odor|stink|stench|whiff|reek|smelly`},
	{"@smoke", false, deed, "", `smoke|fume|catch fire|caught fire|flame|on fire|smoking|smoky`},
	{"@spark", false, deed, "", `spark|arc|flash inside|go bang|went bang|big bang|pop and flash|hear a bang|there be a bang|loud bang`},
	{"@burnt", false, thing, "", `burn|burnt|burned|scorch|char|burn mark|burnt out|burned out|burn out`},
	{"@melt", false, thing, "", `melt|melted|molten`},

	// Damage and mechanics.
	{"@crack", false, thing, "", `crack|cracked|smash|smashed|shatter|shattered|split`},
	{"@detached", false, thing, "", `come off|came off|snap off|broken off|break off|fall off|fell off|snap|snapped|detach|detached|come away|fallen off|
		fall out|fell out|fell apart|fall apart|come apart|came apart|fallen apart|unglued|unhinged|pull off|knock off|drop off|tear off|break away|become detached|pull out|pulled out|ripped off|popped off|sheared`},
	{"@disconnected", false, thing, "", `disconnected|come unsoldered|unsoldered|detached wire|not attached|unattached`},
	{"@away", false, thing, "", `work out|spark plug|unable to open|unable to remove|unable to fix|unable to repair|unable to find|unable to access|could not open|could not be open|not able to open|
		could not be remove|unable to dismantle|could not dismantle|turn up|turn .. up|turn down|turn .. down|turn to max|pressure cooker|sewing machine|fan heater|pressure washer|pressure switch|battery operate|battery drill|music mixer|mouse sander|pat test|pat testing|test pat|drop .. off at|trip over|shock absorber|dropped this off`},
	{"@comeout", false, thing, "", `come out|came out`},
	{"@loose", false, thing, "", `loose|come loose|wobbly|work loose|become loose|wobble|slack|loosened|unstable`},
	{"@slip", false, thing, "", `slip`},
	{"@getout", false, deed, "", `get .. out|get .. off|remove|get it open|get into`},
	{"@standby", false, thing, "", `standby|stand by|red light only|standby mode`},
	{"@open", false, deed, "", `open`},
	{"@close", false, deed, "", `close|shut`},
	{"@lid", false, thing, "", `lid|door|cover|hatch|flap`},
	{"@hinge", false, thing, "", `hinge|door catch|lid catch|catch`},
	{"@need", false, thing, "", `need|require|replace|to be replaced`},
	{"@only", false, thing, "", `only`},
	{"@nocharger", false, thing, "", `no charger|without charger|without a charger|lose charger|lose the charger|missing charger|charger .. missing|need charger|need a charger|no power supply|missing power supply|no charging cable|no charging lead|no adapter|no psu`},
	{"@cycle", false, thing, "", `turn on and off|turn off and on|switch on and off|go on and off|come on and off|turn on then off|turn on and then off|start and stop|start then stop|on then off|cut in and out|turn on then turn off|turn on but .. off|come on then go off|turn on and turn off|start then cut out|start but stop|start and then stop`},
	{"@flow", true, deed, "", `no water|no water come|no water .. come|water not come|no coffee|not pump water|no water flow|water not flow|no flow|no drip through|not pump|no water get through|not draw water|not dispense|not .. come through|not come through|no liquid`},
	{"@flow", false, deed, "", `flow|come through|dispense|squirt|filter through|pour`},
	{"@down", false, deed, "", `stay down|keep .. down|hold .. down|stay .. down|stay in|hold down|stay pressed|lever stay down|lock down|latch|stay on position|keep down|remain down|go down|push down|click in|click into place|lock in|lock into place|stay locked|stay closed down`},
	{"@handle", false, thing, "", `handle|lever|arm|bracket|clip|foot|leg|stand|base|neck|housing|case|casing|frame|body|shaft|axle`},
	{"@gear", false, thing, "", `gear|cog|gearbox|tooth|teeth|sprocket`},
	{"@belt", false, thing, "", `belt|drive belt|rubber band`},
	{"@spring", false, thing, "", `spring`},
	{"@part", false, thing, "", `part|piece|bit|component`},
	{"@torn", false, thing, "", `torn|tear|rip`},
	{"@bent", false, thing, "", `bent|warp|deform|twisted|out of shape`},
	{"@missing", false, thing, "", `miss|missing|lost part|lose part|lack part|not included|without charger|have lost|has lost`},
	{"@wet", false, thing, "", `wet|water damage|liquid damage|spill|spilt|water inside|flood|get wet|got wet|soaked|fall in water|fall into water|fell into water|drop in water|fell in water|moisture|water get in|water got in|in the rain|damp|submerged`},
	{"@drop", false, deed, "", `drop|dropped|have a fall|had a fall|fall down|fell down|fall from|fell from|fell off the|get knocked off|knock over|knocked over|fall on the floor|fell on the floor|toppled`},
	{"@dirty", false, thing, "", `dirty|dusty|dust in|dust inside|amount of dust|dirt inside|lots of dust|filthy|grime|grimy|gunk|full of dust|full of hair|full of fluff|sticky|greasy|gummed up|hair wrapped|hair stuck|hair tangle|hair in|lint`},
	{"@clean", false, deed, "", `clean|cleaning|clean out`},
	{"@service", false, thing, "", `service|maintenance|overhaul|check over|once over|tune up`},
	{"@oil", false, thing, "", `oil|lubricate|lubrication|grease|oiling`},
	{"@scale", false, thing, "", `limescale|lime scale|calcify|calcified|descale|chalk|scaled up|furred up|calcium|lime`},
	{"@clock", false, part, generic + " @tick", `clock|watch|clockwork`},
	{"@keeptime", false, deed, "", `keep time|keep correct time|keep good time|keep accurate time|keep proper time|keep the right time|hold time|tell time`},
	{"@keeptime", true, deed, "", `lose time|gain time|lose .. minutes|gain .. minutes|wrong time|incorrect time|time .. wrong|not correct time`},
	{"@stayup", false, deed, "", `stay up|stay in place|stay put|stay upright|hold position`},
	{"@hands", false, part, "@move @turn", `=hands|minute hand|hour hand|second hand`},
	{"@needle", false, thing, "", `needle|stylus`},
}

// negators deny what follows them. The value is how many content words they
// reach: "no" speaks of a thing, "not" of the whole deed.
var negators = map[string]int{
	"no": 2, "not": 4, "never": 4, "without": 2, "cannot": 4, "nor": 3, "neither": 3,
	"nothing": 2, "none": 2, "barely": 3, "hardly": 3, "non": 1, "zero": 2, "unable": 4,
	"lack": 2, "lacks": 2, "lacking": 2, "nowhere": 3, "nobody": 3, "lost": 1, "loses": 1,
}

// leadIns are short runs that act as one "not".
var leadIns = []string{
	"fail to", "fails to", "failed to", "failing to", "refuses to", "refuse to", "refused to", "refusing to",
	"no longer", "unable to", "free of", "ceased to", "not able to", "impossible to", "not possible to",
	"not want to", "stopped being able to", "difficulty in", "having trouble", "trouble to", "not seem to", "not appear to", "difficult to", "hard to",
	"loss of", "lack of", "absence of", "problem with getting it to",
}

// heads are words that begin a new statement and so end what a negator reaches.
const headWords = `makes make making keeps keep gets has have stays stay just only it they she he we i you but then when while if after because since until
	although though however except which that there this still now also instead says shows plus so as unless before during where once whenever
	due caused even becomes remains seems sounds feels emits gives`

// boundary words part two clauses whatever stands beside them.
const boundaryWords = `but then except however although though while when whenever if because since until unless after before once which
	whereas yet so as despite instead plus during where`

// conditionWords open a clause that says when, not what.
const conditionWords = `when whenever if once after while during before until unless`

// affirmWords make a thing before them affirmed: "the sound is fine".
const affirmWords = `fine ok okay good well perfect perfectly normal normally properly correctly great`

// limitWords keep "works" from meaning that all is well.
const limitWords = `only slowly weakly badly poorly partly partially briefly sometimes occasionally barely hardly intermittently slightly
	less used should supposed unless until previously before otherwise if want wants would initially first times few while short
	some one half cuts too now backwards forwards reverse`

// maybeWords mark a guess.
const maybeWords = `maybe perhaps possibly probably might may could presumably suspect guess think thinks thought likely apparently suspected suspects`

// normalDeeds are what a device is there to do. That it does so is a symptom
// only if it will not stop: "keeps boiling".
var normalDeeds = wordSet(`@heat @turn @work @on @charge @play @move @cool @lit @respond @boot @print @suck @pump @blow @read @feed @stitch @flow`)

// lastingWords say of a deed that it does not end.
var lastingWords = wordSet(`keeps keep kept keeping goes go carries carry continues continue continuously constantly always forever endlessly stays still permanently never`)

// blameWords beside a component make it a stated cause, not a symptom.
const blameWords = `need needs needed require requires required replace replaced replacing replacement new faulty broken defective blown suspect
	worn gone bad`

const componentWords = `battery batteries cable cord lead flex fuse capacitor capacitors motor switch belt bulb element thermostat pump brush brushes
	board pcb transformer bearing bearings gear gears seal gasket valve sensor relay diode resistor led charger adapter adaptor plug
	socket connector spring filter hinge screw screws wire solder cell cells regulator triac varistor washer part parts`

// stopWords carry no meaning of their own here.
const stopWords = `a an the this that these those it its is are was were be been being am i me my we our you your he she him her his hers they them their
	of to in on at by for from with into onto up down out off over under about as and or so if then than too very really quite just still also
	there here have has had having do does did doing done will would can could shall should may might must get gets getting got
	s t ve re ll d m what which who whom whose how why where when while after before again any some all both each few more most other such
	own same but though although because until unless since during between through once ever anymore anyway
	please help item thing things something anything everything stuff unit device appliance machine 	use used using user owner customer visitor client bring brought repair repaired repairing fix fixed fixing check checked want wants wanted like
	now today yesterday recently lately old new bit little lot much many seem seems
	seemingly appear appears say says said think thinks thought know known try tried trying not no never none without
	even either one two three four five six seven eight nine ten fifteen twenty thirty first second another back around way time times day days week weeks month months year years ago
	make makes making made keep keeps keeping go goes going went come comes coming came let lets give gives put take takes took
	show shows showing produce produces producing emit emits generate generates deliver delivers
	works fine ok okay good well perfect perfectly normal normally properly correctly great able possible however
	left long when's etc eg ie vs per via ca else instead plus yet become becomes became remain stay stays whole complete completely totally
	fully maybe perhaps possibly probably sure actually apparently suspected suspect sometimes per`

var (
	headSet      = wordSet(headWords)
	boundarySet  = wordSet(boundaryWords)
	conditionSet = wordSet(conditionWords)
	affirmSet    = wordSet(affirmWords)
	limitSet     = wordSet(limitWords)
	maybeSet     = wordSet(maybeWords)
	blameSet     = wordSet(blameWords)
	componentSet = wordSet(componentWords)
	stopSet      = wordSet(stopWords)
)

func wordSet(list string) map[string]bool {
	set := map[string]bool{}
	for w := range strings.FieldsSeq(list) {
		set[w] = true
	}
	return set
}
