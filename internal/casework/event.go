package casework

import (
	"encoding/json"

	"fettler/internal/journal"
	"fettler/internal/openrepair"
	"fettler/internal/school"
)

// What a store keeps is package journal's; the names that the events of a case need
// stand here too.
type (
	Event   = journal.Event
	Journal = journal.Journal
	Kind    = journal.Kind
)

// BenchCase is the case-less journal that holds what is true of the whole bench: its settings.
const BenchCase = journal.BenchCase

const (
	KindOpened       Kind = "opened"       // Opened
	KindSaid         Kind = "said"         // Said
	KindNoticed      Kind = "noticed"      // Noticed
	KindChecked      Kind = "checked"      // Checked
	KindOpenedUp     Kind = "opened-up"    // OpenedUp
	KindRepaired     Kind = "repaired"     // Repaired
	KindTested       Kind = "tested"       // Tested
	KindOrdered      Kind = "ordered"      // Ordered
	KindArrived      Kind = "arrived"      // Arrived
	KindRemarked     Kind = "remarked"     // Remarked
	KindPhotographed Kind = "photographed" // Photographed
	KindCorrected    Kind = "corrected"    // Corrected
	KindUndone       Kind = "undone"       // Undone
	KindSettled      Kind = "settled"      // Settled
	KindClosed       Kind = "closed"       // ClosedCase
	KindReopened     Kind = "reopened"     // Reopened
)

// payloadVersion is the form of the payloads below.
const payloadVersion = 1

// The payloads. Names inside them are the notes' stable IDs, never indexes, so
// that a journal can be read beside a newer note. The key "private" of any
// payload holds what must not leave the bench; Public drops it.

// Opened begins a case.
type Opened struct {
	Device   string   `json:"device,omitempty"` // note ID; empty if there is none
	Category string   `json:"category,omitempty"`
	Label    string   `json:"label,omitempty"` // what is written on its tag
	Age      float64  `json:"age,omitempty"`   // years, 0 not known
	Worth    *float64 `json:"worth,omitempty"` // what the working device is worth to its owner
	Demo     bool     `json:"demo,omitempty"`  // invented, for show

	// Record is what the case was taken over from, as it stood in the open repair
	// data of somebody else. Such a case teaches nothing and is no saving of this bench.
	Record *openrepair.Record `json:"record,omitempty"`

	Private *Owner `json:"private,omitempty"`
}

// Owner is whose device it is: private, and not part of any export unless asked for.
type Owner struct {
	Name    string `json:"name,omitempty"`
	Contact string `json:"contact,omitempty"`
}

// A Value is what one look at one finding gave, as one would write it down.
type Value struct {
	Finding string `json:"finding"`
	Shows   *int   `json:"shows,omitempty"`   // sign: 1 showed, 0 did not; with Of, how many times
	Of      int    `json:"of,omitempty"`      // sign: times looked
	Answer  string `json:"answer,omitempty"`  // pick: the answer's words
	Reading string `json:"reading,omitempty"` // reading: "38 V" or "overload"
}

// Said is what somebody said, and what it was read as.
type Said struct {
	Text   string   `json:"text"`
	Read   []Value  `json:"read,omitempty"`   // what counts as evidence
	Doubt  []string `json:"doubt,omitempty"`  // findings that may have been meant and were asked back
	Unread []string `json:"unread,omitempty"` // words nothing accounts for
	Not    []string `json:"not,omitempty"`    // findings it was read as, which was not meant
}

// Noticed is symptoms seen from outside, or looked for and not there.
type Noticed struct {
	Values []Value `json:"values"`
	Before int     `json:"before,omitempty"` // the repair's event before which this held
}

// Checked is a check done. With Before it is the test of a part that the repair
// of that event took out: it speaks of the time before that repair.
type Checked struct {
	Check   string  `json:"check"`
	Values  []Value `json:"values"`
	Minutes float64 `json:"minutes"`
	Before  int     `json:"before,omitempty"`
}

// OpenedUp says how far the device is open now; also used for closing it. A
// check or repair done deeper in the device implies the opening and its minutes.
type OpenedUp struct {
	Access  string  `json:"access"`
	Minutes float64 `json:"minutes"`
}

// Repaired is a repair done: a new epoch begins. A repair the note does not
// know has an empty Repair and says in What what was done.
type Repaired struct {
	Repair  string  `json:"repair,omitempty"`
	What    string  `json:"what,omitempty"` // which items, in words
	Money   float64 `json:"money"`
	Minutes float64 `json:"minutes"`
	Took    []Took  `json:"took,omitempty"` // from the shelf
}

// Tested is a trial of the whole device.
type Tested struct {
	Works   bool    `json:"works"`
	Values  []Value `json:"values,omitempty"` // symptoms that remain or are new, or were looked for and are gone
	Minutes float64 `json:"minutes"`
	Open    bool    `json:"open,omitempty"` // tried without putting the cover back
}

// Ordered is parts bought for repairs.
type Ordered struct {
	Repairs []string `json:"repairs,omitempty"` // repairs these parts are for
	What    string   `json:"what,omitempty"`
	Money   float64  `json:"money"`
	Days    float64  `json:"days,omitempty"`
	Here    bool     `json:"here,omitempty"` // at hand at once, from a shelf or a shop
}

// Arrived says that what was ordered in event Order is there.
type Arrived struct {
	Order int `json:"order"`
}

// Remarked is a remark. One that must not leave the bench has its words in Private,
// as a PrivateRemark; what else stands there a newer version wrote.
type Remarked struct {
	Text    string          `json:"text"`
	Private json.RawMessage `json:"private,omitempty"`
}

// PrivateRemark is a remark for this bench alone.
type PrivateRemark struct {
	Text string `json:"text"`
}

// Words is the remark, and whether it is for this bench alone.
func (r Remarked) Words() (text string, private bool) {
	var p PrivateRemark
	if r.Text == "" && len(r.Private) > 0 && json.Unmarshal(r.Private, &p) == nil && p.Text != "" {
		return p.Text, true
	}
	return r.Text, false
}

// keeping keeps what a newer version wrote into Private.
func (r Remarked) keeping(old json.RawMessage) Remarked {
	var was Remarked
	if json.Unmarshal(old, &was) == nil {
		if _, private := was.Words(); !private {
			r.Private = was.Private
		}
	}
	return r
}

// Photographed names an attachment by its SHA-256.
type Photographed struct {
	Hash    string `json:"hash"`
	Caption string `json:"caption,omitempty"`
	About   int    `json:"about,omitempty"` // the event it shows
	Thumb   string `json:"thumb,omitempty"` // hash of the same picture, small
	Width   int    `json:"width,omitempty"`
	Height  int    `json:"height,omitempty"`
	Side    string `json:"side,omitempty"`  // of the board: "front" or "back"
	Stage   string `json:"stage,omitempty"` // "before" or "after" the repair
}

// Corrected replaces the payload of event Event.
type Corrected struct {
	Event int             `json:"event"`
	Data  json.RawMessage `json:"data"`
}

// Undone says that event Event no longer counts. Undoing an undone brings the event back.
type Undone struct {
	Event int `json:"event"`
}

// Settled changes settings, of the bench (in BenchCase) or of this case. What
// is nil stays as it was.
type Settled struct {
	Currency *string   `json:"currency,omitempty"`
	Rate     *float64  `json:"rate,omitempty"`     // money per hour of own time
	DayRate  *float64  `json:"day-rate,omitempty"` // money per day of waiting
	Worth    *float64  `json:"worth,omitempty"`    // of the working device to its user
	Scrap    *float64  `json:"scrap,omitempty"`    // what the broken one still brings
	Budget   *float64  `json:"budget,omitempty"`   // most to spend, 0 no limit
	Premium  *float64  `json:"premium,omitempty"`  // money per hazardous move
	Lacks    *[]string `json:"lacks,omitempty"`    // instruments this bench has not got
	Refuse   *[]string `json:"refuse,omitempty"`   // kinds of hazard not to go near
	NoLive   *bool     `json:"no-live,omitempty"`  // nothing live with the device open
	Trained  *bool     `json:"trained,omitempty"`  // hands trained on devices that only such hands may open, a microwave oven

	// These are of the bench alone.
	Learn        *bool    `json:"learn,omitempty"`         // reckon with what closed cases teach
	Carbon       *float64 `json:"carbon,omitempty"`        // kg of CO₂ equivalent not emitted per kg kept in use
	CarbonSource *string  `json:"carbon-source,omitempty"` // the publication that says so
}

// Verdict is how a case ended.
type Verdict string

const (
	Fixed        Verdict = "fixed"
	NotWorthIt   Verdict = "not worth it"
	PassedOn     Verdict = "passed on"
	KeptForParts Verdict = "kept for parts"
)

// Verdicts returns all verdicts.
func Verdicts() []Verdict { return []Verdict{Fixed, NotWorthIt, PassedOn, KeptForParts} }

// ClosedCase ends a case. Because says, per fault, the chance that it was what
// was wrong when the device came, all evidence taken together.
type ClosedCase struct {
	Verdict Verdict        `json:"verdict"`
	Because []Share        `json:"because,omitempty"`
	Stated  bool           `json:"stated,omitempty"`  // Because is what the repairer says, not computed
	Unknown float64        `json:"unknown,omitempty"` // chance that it was a fault the note does not know
	Kg      float64        `json:"kg,omitempty"`      // kept from the bin
	Barrier string         `json:"barrier,omitempty"` // what stood in the way, if it was not fixed; one of openrepair.Barriers
	Note    string         `json:"note,omitempty"`    // ID of the note the faults are named by
	Remark  string         `json:"remark,omitempty"`
	Lesson  *school.Lesson `json:"lesson,omitempty"` // what the case teaches; none of a case that is invented or has no note
}

// A Share is a fault mode and the chance that it was there.
type Share struct {
	Mode string  `json:"mode"`
	P    float64 `json:"p"`
}

// Reopened takes a closed case up again.
type Reopened struct {
	Why string `json:"why,omitempty"`
}
