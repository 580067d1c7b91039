package appraise

import "fettler/internal/note"

// A Result is what is made of one item.
type Result struct {
	ID       string `json:"id"`
	Category string `json:"category"` // the category gone by
	// Devices are the bench notes that were asked, likeliest first.
	Devices []Device `json:"devices"`
	// Suspects has one row per class of cause, likeliest first. The chances
	// of the rows add up to one, or a hair less.
	Suspects []Suspect `json:"suspects"`
	// Heard says for each text, in the order given, symptoms first, what was understood.
	Heard []Heard `json:"heard"`
	// Moves are the next things to do, at most three, best first, by the
	// likeliest device's note.
	Moves []Move `json:"moves"`
}

// A Device is a bench note with its share in the answer.
type Device struct {
	ID    string  `json:"id"`
	Title string  `json:"title"`
	Share float64 `json:"share"`
}

// A Suspect is one class of cause. Subclass, Part and Mode are the likeliest
// way for it to be so, where a note names one; Modes has more of them.
type Suspect struct {
	Class    note.Class `json:"class"`
	Chance   float64    `json:"chance"`
	Subclass string     `json:"subclass,omitempty"`
	Part     string     `json:"part,omitempty"`
	Mode     string     `json:"mode,omitempty"`
	Device   string     `json:"device,omitempty"`
	Modes    []Mode     `json:"modes,omitempty"` // the leading one first, at most five
}

// A Mode is one way in which a part fails, by one note.
type Mode struct {
	Device   string  `json:"device"` // the note's ID
	ID       string  `json:"id"`     // of the mode in the note
	Title    string  `json:"title"`
	Part     string  `json:"part"`
	Subclass string  `json:"subclass,omitempty"`
	Chance   float64 `json:"chance"`
}

// Heard is what was understood of one text.
type Heard struct {
	Text   string   `json:"text"`
	Check  bool     `json:"check"`            // from checks rather than symptoms
	Signs  []Sign   `json:"signs"`            // findings and symptoms it states or denies
	Organs []Organ  `json:"organs"`           // parts it names
	Unread []string `json:"unread,omitempty"` // words nothing was made of
}

// A Sign is a finding that a text states or denies.
type Sign struct {
	ID     string  `json:"id"`               // of the finding, or of the general symptom
	Device string  `json:"device,omitempty"` // the note's ID, empty for a general symptom
	Title  string  `json:"title"`
	Says   string  `json:"says"` // "shows", "absent" or "now and then"
	Words  string  `json:"words"`
	Score  float64 `json:"score"` // 0 to 1, how sure
}

// An Organ is a part that a text names, and in what state.
type Organ struct {
	Name  string     `json:"name"`
	Class note.Class `json:"class"`
	State string     `json:"state"` // "named", "not working", "stuck", "dirty", "loose", "faulty", "good" or "replaced in vain"
	Words string     `json:"words"`
}

// A Move is something to do next.
type Move struct {
	Kind     string   `json:"kind"` // "check", "repair" or "test"
	ID       string   `json:"id,omitempty"`
	Title    string   `json:"title"`
	How      string   `json:"how,omitempty"`
	With     []string `json:"with,omitempty"`
	Minutes  float64  `json:"minutes"` // the work and the opening it takes
	Price    float64  `json:"price"`   // of the parts, in Currency
	Currency string   `json:"currency,omitempty"`
	Cautions []string `json:"cautions,omitempty"`
}
