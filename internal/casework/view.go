package casework

import (
	"time"

	"fettler/internal/plan"
	"fettler/internal/shelf"
)

// A View is everything a face shows of one case, in words and numbers. It is a
// pure function of the journal, the notes and the bench's settings. Chances are
// from 0 to 1, money is in Header.Currency, times in minutes.
type View struct {
	Header   Header     `json:"header"`
	Known    []Observed `json:"known"`    // what has been seen, oldest first
	Ask      []Question `json:"ask"`      // free questions not asked yet, most telling first
	Suspects []Suspect  `json:"suspects"` // likeliest first
	Rest     int        `json:"rest"`     // suspects too unlikely to list
	Unknown  Chance     `json:"unknown"`  // a fault the note does not know
	Stories  []Story    `json:"stories"`  // likeliest sets of faults, best first
	Changed  *Change    `json:"changed"`  // what moved the chances last; nil if nothing has yet
	Next     *Card      `json:"next"`     // what to do now; nil if closed or nothing can be advised
	NoNext   string     `json:"noNext"`   // why there is no Next
	RunnerUp *Card      `json:"runnerUp"` // the best of the others that can be done, nil if none
	Ranking  []Card     `json:"ranking"`  // all moves, best first; those that cannot be done here last
	Works    bool       `json:"works"`    // the last trial went well: nothing to find or mend, only to prove and to close
	Outlook  *Outlook   `json:"outlook"`  // nil if there is no Next
	Strain   *Strain    `json:"strain"`   // nil unless the evidence does not fit together
	Warnings []Warning  `json:"warnings"`
	Source   Source     `json:"source"`
	Timeline []Entry    `json:"timeline"` // the journal in words, oldest first

	Symptoms []Field  `json:"symptoms"` // every symptom of the note, for a form
	Checks   []Step   `json:"checks"`   // every check of the note
	Repairs  []Step   `json:"repairs"`  // every repair of the note
	Levels   []Level  `json:"levels"`   // every access level, closed first
	Orders   []Order  `json:"orders"`   // orders still outstanding
	Settings Settings `json:"settings"` // in force for this case
	Limits   Limits   `json:"limits"`   // what the bench leaves alone
	Outcome  *Outcome `json:"outcome"`  // of a closed case

	Out    []OutItem `json:"out"`    // taken off the device and not back
	Turned []string  `json:"turned"` // parts that sit otherwise than they did, in words
}

// State is where a case stands.
type State string

const (
	OnBench State = "on the bench"
	Waiting State = "waiting for parts"
	ToTest  State = "to be tested"
	Done    State = "closed"

	Unreadable State = "cannot be read" // its journal is damaged; Listed.Wrong says what to do
)

// Header is the head of the case's sheet.
type Header struct {
	Case     string    `json:"case"`
	Seq      int       `json:"seq"`   // last event; hand it back as By.Seen
	Title    string    `json:"title"` // label, or the device's title
	Label    string    `json:"label"`
	Device   string    `json:"device"` // note ID, "" if there is none
	Kind     string    `json:"kind"`   // title of the device's note
	Category string    `json:"category"`
	Age      float64   `json:"age"` // years, 0 not known
	Demo     bool      `json:"demo"`
	State    State     `json:"state"`
	Verdict  Verdict   `json:"verdict"` // of a closed case
	Money    float64   `json:"money"`   // spent so far
	Currency string    `json:"currency"`
	Minutes  float64   `json:"minutes"` // spent so far
	Access   Level     `json:"access"`  // how far it is open
	Epoch    int       `json:"epoch"`   // repairs done
	Opened   time.Time `json:"opened"`
	Changed  time.Time `json:"changed"`
	Hazards  []Caution `json:"hazards"` // what can hurt in there
	Owner    Owner     `json:"-"`       // private
}

// A Caution is a hazard with what to do about it.
type Caution struct {
	Kind   string  `json:"kind"`
	Text   string  `json:"text"`
	Volts  float64 `json:"volts"`  // 0 not stated
	Joules float64 `json:"joules"` // stored, 0 not stated
}

// Observed is one thing known. What was looked for and not there is Denied;
// what was not looked at is not here.
type Observed struct {
	Event   int       `json:"event"` // undo or correct this one
	At      time.Time `json:"at"`
	Finding string    `json:"finding"`
	Title   string    `json:"title"`
	Value   string    `json:"value"` // "yes", "no", "3 of 10 times", the answer, "38 V"
	Words   string    `json:"words"` // title and value as one phrase
	Denied  bool      `json:"denied"`
	Bare    bool      `json:"bare"`    // a choice or a reading whose Title says nothing that From does not say
	From    string    `json:"from"`    // "said", "noticed", "tested" or the check's title
	Epoch   int       `json:"epoch"`   // repairs done before it
	Earlier bool      `json:"earlier"` // a later look in the same epoch stands instead
	Implied bool      `json:"implied"` // nobody looked for it: it follows from the whole working
}

// A Field is a finding as a form asks for it.
type Field struct {
	Finding string   `json:"finding"`
	Title   string   `json:"title"`
	Ask     string   `json:"ask"`
	Kind    string   `json:"kind"`    // "sign", "pick" or "reading"
	Comes   bool     `json:"comes"`   // may be counted: "3 of 10"
	Answers []string `json:"answers"` // pick
	Unit    string   `json:"unit"`    // reading: base unit
	Expect  []string `json:"expect"`  // reading: "good: 30 to 42 V", one per state
	Overlap bool     `json:"overlap"` // a reading can lie in two of the ranges; it then speaks for either
	Now     string   `json:"now"`     // value known in this epoch, "" if not looked at
}

// Overloads says whether the meter may show overload in place of a figure.
func (f Field) Overloads() bool { return f.Kind == "reading" && overloads(f.Unit) }

// A Question is a symptom worth asking about.
type Question struct {
	Field
	Bits  float64  `json:"bits"` // expected reduction of uncertainty
	Yes   float64  `json:"yes"`  // chance that it shows
	IfYes []Chance `json:"ifYes"`
	IfNo  []Chance `json:"ifNo"`
}

// A Chance is a suspect in short.
type Chance struct {
	Mode   string  `json:"mode"`
	Title  string  `json:"title"`
	Now    float64 `json:"now"`
	Before float64 `json:"before"` // before the latest event that changed what is known
}

// A Suspect is a fault mode with what speaks for and against it.
type Suspect struct {
	Chance
	Arrival  float64  `json:"arrival"` // that it was there when the device came
	Prior    float64  `json:"prior"`   // before anything was looked at
	Name     string   `json:"name"`    // "dried-out"
	Class    string   `json:"class"`
	Subclass string   `json:"subclass"`
	Part     string   `json:"part"`
	Kind     string   `json:"kind"`  // of part
	Mark     string   `json:"mark"`  // designators
	Value    string   `json:"value"` // of part
	Unit     string   `json:"unit"`  // title of the block
	Basis    string   `json:"basis"` // where the prior comes from, as note and ledger put it
	Usual    string   `json:"usual"` // how often it is so, and what that rests on, in the words of the bench
	Reasons  []Reason `json:"reasons"`
	Checks   []Ref    `json:"checks"`  // checks that would tell, most telling first
	Repairs  []Ref    `json:"repairs"` // repairs that clear it
}

// A Reason is what one observation did to a suspect.
type Reason struct {
	Event   int     `json:"event"`
	Finding string  `json:"finding"`
	Words   string  `json:"words"`  // "hums: 6 × likelier", "lamp stays bright: no, 9 × less likely"
	Factor  float64 `json:"factor"` // of the odds, all else known
}

// A Ref names a check, repair, mode or level.
type Ref struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// A Story is one set of faults that would explain what is known.
type Story struct {
	P       float64 `json:"p"`
	Faults  []Ref   `json:"faults"` // there when the device came
	Now     []Ref   `json:"now"`    // there now
	Unknown bool    `json:"unknown"`
}

// A Change is the latest event that moved the chances.
type Change struct {
	Event int    `json:"event"`
	Words string `json:"words"`
}

// A Level is how far a device is open.
type Level struct {
	ID      string  `json:"id"`
	Title   string  `json:"title"`
	How     string  `json:"how"`
	Minutes float64 `json:"minutes"` // to open it from the level before
	Close   float64 `json:"close"`   // to close it again
	Open    bool    `json:"open"`    // it is open now
}

// A Step is a check or repair as one does it.
type Step struct {
	ID       string       `json:"id"`
	Title    string       `json:"title"`
	Unit     string       `json:"unit"` // title of the block it belongs to; "" for the device itself
	How      string       `json:"how"`
	With     []string     `json:"with"`
	Minutes  float64      `json:"minutes"` // the work itself
	Money    float64      `json:"money"`   // parts not at hand
	Days     float64      `json:"days"`    // waiting for them
	Access   Level        `json:"access"`  // where it is done
	First    []Level      `json:"first"`   // what to open first, in order
	Back     []Level      `json:"back"`    // what to put back before that, in order
	Live     bool         `json:"live"`
	Cautions []Caution    `json:"cautions"` // of the step itself, each kind once
	Around   []Caution    `json:"around"`   // of the device, where the step is done inside it, and not among Cautions
	Been     bool         `json:"been"`     // something was done there before, so that Around was shown
	Harm     float64      `json:"harm"`     // chance of breaking something by it
	Fields   []Field      `json:"fields"`   // check: what to write down
	Buys     []Item       `json:"buys"`     // repair
	Clears   []Chance     `json:"clears"`   // repair: suspects it clears
	Times    int          `json:"times"`    // how often it has been done
	AtHand   bool         `json:"atHand"`   // repair: its parts are here
	Shelf    []shelf.Pick `json:"shelf"`    // repair: what to take from the shelf, all it needs or nothing
	Partly   []shelf.Pick `json:"partly"`   // repair: what of it is on the shelf, if not all of it
	Donors   []shelf.Pick `json:"donors"`   // repair: what is missing and still on a board
}

// An Item is something to buy.
type Item struct {
	What  string  `json:"what"`
	Count int     `json:"count"`
	Price float64 `json:"price"` // of one
}

// A Card is one move as it is laid before the repairer. Kind is "check",
// "repair", "test" or "stop"; a test and stop have no ID.
type Card struct {
	Step
	Kind    string   `json:"kind"`
	Why     string   `json:"why"`     // in a sentence
	Total   float64  `json:"total"`   // minutes with opening and closing
	Cost    Cost     `json:"cost"`    // what it is reckoned to cost, in money
	Expect  float64  `json:"expect"`  // expected cost from now to the end with this first
	Behind  float64  `json:"behind"`  // how much more than the best
	Blocked string   `json:"blocked"` // why it cannot be done here
	Cures   float64  `json:"cures"`   // repair: chance that this clears what is wrong
	Results []Result `json:"results"` // how it may come out, likeliest first
	Pays    string   `json:"pays"`    // the break-even that decided, in words; may be empty
	Batch   string   `json:"batch"`   // why Further go with it before the whole is tried, in words; may be empty
	Further []Ref    `json:"further"` // repairs to make on the same visit
}

// Cost is what a move is reckoned to cost.
type Cost struct {
	Money  float64 `json:"money"`
	Time   float64 `json:"time"`   // minutes of work and access × rate, in money
	Days   float64 `json:"days"`   // days of waiting
	Hazard float64 `json:"hazard"` // premium
	Harm   float64 `json:"harm"`   // chance of doing harm × worth
	Total  float64 `json:"total"`
}

// A Result is one way a move can come out, and what it would mean.
type Result struct {
	Words string   `json:"words"` // "hums: no", "it works"
	Told  []Told   `json:"told"`  // check: the answers it consists of
	Works bool     `json:"works"` // test: it works
	P     float64  `json:"p"`
	Tops  []Chance `json:"tops"`  // what one would then believe
	Means string   `json:"means"` // the same in a sentence
	Then  string   `json:"then"`  // what would follow
}

// Told is an answer to a finding that a move may bring.
type Told struct {
	Finding string `json:"finding"`
	Text    string `json:"text"`  // as one would write it down: "yes", "no", the answer, or a usual reading such as "38 V"
	State   string `json:"state"` // reading: the state it speaks for
	Words   string `json:"words"`
}

// Outlook is what going on from here promises.
type Outlook struct {
	Success float64 `json:"success"` // chance that it will work in the end
	Money   float64 `json:"money"`   // expected, still to spend
	Minutes float64 `json:"minutes"` // expected, still to spend
	Gain    float64 `json:"gain"`    // over stopping now; 0 or less means stop
	StopAt  string  `json:"stopAt"`  // when to stop, said in advance
	Depth   int     `json:"depth"`   // moves looked ahead
	Laid    bool    `json:"laid"`    // of the plan laid out step by step; else a first, rougher reckoning
	Further bool    `json:"further"` // it has looked further ahead than what is there at once
	Goes    string  `json:"goes"`    // from which worth of the working device on going on pays, in words; may be empty
}

// Strain says that the evidence does not fit together.
type Strain struct {
	Text string     `json:"text"`
	Pair []Observed `json:"pair"` // the two that fit least; may be empty
}

// A Warning is trouble that can be seen coming.
type Warning struct {
	Repair string  `json:"repair"` // ID of the repair it is about
	Mode   string  `json:"mode"`   // the cause that would stay
	P      float64 `json:"p"`      // chance that it is there
	Text   string  `json:"text"`

	Likely bool `json:"-"` // what the repair is for may well be there
}

// Pressing are the warnings of repairs that may well be made: of the next two moves, or for
// what is likely there. Those of any other repair are told when it is looked at.
func (v *View) Pressing() []Warning {
	out := []Warning{}
	for _, w := range v.Warnings {
		if w.Likely || v.Next.mends(w.Repair) || v.RunnerUp.mends(w.Repair) {
			out = append(out, w)
		}
	}
	return out
}

// mends says that the move is that repair.
func (c *Card) mends(repair string) bool {
	return c != nil && c.Kind == plan.Repair.String() && c.ID == repair
}

// Source says what the figures rest on.
type Source struct {
	Note    string   `json:"note"`
	Title   string   `json:"title"`
	Own     bool     `json:"own"`     // from the user's own folder
	Generic bool     `json:"generic"` // stands for devices without a note
	Trouble string   `json:"trouble"` // why there is no note; "" if there is
	Ignored []string `json:"ignored"` // what the journal names and the note does not know
	LeftOut float64  `json:"leftOut"` // mass of sets of faults not listed
	Bound   float64  `json:"bound"`   // most by which a chance can be off
}

// An Entry is one event in words.
type Entry struct {
	Event    int       `json:"event"`
	At       time.Time `json:"at"`
	Kind     Kind      `json:"kind"`
	Who      string    `json:"who"`
	Words    string    `json:"words"`
	Was      []string  `json:"was"`     // what it said before corrections, oldest first
	Void     bool      `json:"void"`    // undone: strike it out
	VoidBy   int       `json:"voidBy"`  // the event that undid it
	Ignored  bool      `json:"ignored"` // part of it the note does not know
	CanUndo  bool      `json:"canUndo"`
	CanAmend bool      `json:"canAmend"` // Correct accepts it
	Private  bool      `json:"private"`  // a remark for this bench alone
	Minutes  float64   `json:"minutes"`
	Money    float64   `json:"money"`
	Photo    string    `json:"photo"`   // hash
	PhotoOf  int       `json:"photoOf"` // event it shows
	Epoch    int       `json:"epoch"`
}

// An Order is parts under way.
type Order struct {
	Event   int       `json:"event"`
	At      time.Time `json:"at"`
	What    string    `json:"what"`
	Money   float64   `json:"money"`
	Days    float64   `json:"days"`
	Repairs []Ref     `json:"repairs"`
}

// Outcome is how a closed case ended.
type Outcome struct {
	Verdict Verdict   `json:"verdict"`
	Because []Chance  `json:"because"` // which fault it was, likeliest first
	Unknown float64   `json:"unknown"`
	Stated  bool      `json:"stated"`
	Kg      float64   `json:"kg"`
	Barrier string    `json:"barrier"` // what stood in the way, if it was not fixed
	Remark  string    `json:"remark"`
	At      time.Time `json:"at"`
	Saved   Saved     `json:"saved"`

	Untested string `json:"untested,omitempty"` // closed as fixed, and nothing shows that it works: says so
}

// Settings are in force: the bench's, overlaid by the case's.
type Settings struct {
	Currency string   `json:"currency"`
	Rate     float64  `json:"rate"`
	DayRate  float64  `json:"dayRate"`
	Worth    float64  `json:"worth"`
	Scrap    float64  `json:"scrap"`
	Budget   float64  `json:"budget"`
	Premium  float64  `json:"premium"`
	Lacks    []string `json:"lacks"`
	Refuse   []string `json:"refuse"`
	NoLive   bool     `json:"noLive"`
	LiveSaid bool     `json:"liveSaid"` // somebody has said whether this bench works live
	Trained  bool     `json:"trained"`  // hands trained on devices that only such hands may open

	Learn        bool    `json:"learn"`        // of the bench: reckon with what closed cases teach
	Carbon       float64 `json:"carbon"`       // of the bench: kg of CO₂ equivalent per kg kept in use, 0 none
	CarbonSource string  `json:"carbonSource"` // the publication that says so
}

// A Listed case is a line in the list of cases.
type Listed struct {
	Case    string    `json:"case"`
	Title   string    `json:"title"`
	Kind    string    `json:"kind"`
	Device  string    `json:"device"`
	State   State     `json:"state"`
	Verdict Verdict   `json:"verdict"`
	Demo    bool      `json:"demo"`
	Money   float64   `json:"money"`
	Minutes float64   `json:"minutes"`
	Latest  string    `json:"latest"` // latest thing that happened, in words
	Opened  time.Time `json:"opened"`
	Changed time.Time `json:"changed"`
	Wrong   string    `json:"wrong,omitempty"` // what keeps it from being reckoned or read, and how to get on
}

// Open says that the case can be worked on.
func (l Listed) Open() bool { return l.State != Done && l.State != Unreadable }

// A Device is a note one can open a case with.
type Device struct {
	ID       string   `json:"id"`
	Title    string   `json:"title"`
	About    string   `json:"about"`
	Category string   `json:"category"`
	Names    []string `json:"names"`
	Generic  bool     `json:"generic"`
	Own      bool     `json:"own"`
}

// Found is the answer to FindDevice: Sure says that the first is clearly meant;
// otherwise ask which. With None nothing fits and the generics are offered.
type Found struct {
	Devices []Device `json:"devices"`
	Sure    bool     `json:"sure"`
	None    bool     `json:"none"`
}

// A Receipt says what was written.
type Receipt struct {
	Case string `json:"case"`
	Seq  int    `json:"seq"` // the event of the deed
}

// Heard is what Say made of a text.
type Heard struct {
	Receipt
	Read     []Heed   `json:"read"`     // taken as evidence
	Doubtful [][]Heed `json:"doubtful"` // ask back: alternatives for one piece of text; answer with Notice
	Blamed   []string `json:"blamed"`   // causes the speaker blames; no evidence
	Unread   []string `json:"unread"`   // words nothing accounts for
}

// A Heed is one finding a text states or denies.
type Heed struct {
	Finding string  `json:"finding"`
	Title   string  `json:"title"`
	Ask     string  `json:"ask"`
	Denied  bool    `json:"denied"`
	Comes   bool    `json:"comes"` // said to be so only sometimes
	Sure    float64 `json:"sure"`
	Text    string  `json:"text"` // the words that say so
}
