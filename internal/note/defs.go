package note

// The definitions are a note as it was written, typed but not yet resolved:
// names are still names. They keep a node wherever a later stage may have to
// point at the place. The key tables in keys_*.go say how they are read.

// blockDef is a block, and the part of a device that has the same shape.
type blockDef struct {
	id       *node
	title    string
	about    string
	needs    []condDef
	gives    []condDef
	inside   []condDef
	parts    []partDef
	symptoms []findDef
	checks   []checkDef
	repairs  []repairDef
}

type deviceDef struct {
	blockDef
	category *node
	names    []string
	mass     float64 // kg
	worth    money
	scrap    money
	try      float64 // minutes
	mix      string  // one of mixWords, or empty
	hazards  []Hazard
	access   []accessDef
	uses     []useDef
	trials   []trialDef
}

type money struct {
	amount   float64
	currency string
	at       *node
}

type condDef struct {
	name     *node
	title    string
	states   []*node
	from     []fromDef
	overload []*node
}

type fromDef struct {
	up   *node
	maps []pairDef // states of the upstream condition → state of this one
}

// pairDef is one "key: value" whose both sides are names.
type pairDef struct{ key, val *node }

// oddsDef is one "key: chance".
type oddsDef struct {
	key    *node
	chance float64
}

type partDef struct {
	name     *node
	title    string
	kind     *node
	mark     string
	value    string
	count    int
	class    *node
	subclass string
	modes    []modeDef
}

type modeDef struct {
	name      *node
	title     string
	factor    float64
	rate      float64 // per million hours; negative if not stated
	class     *node
	subclass  string
	does      []pairDef
	overloads []oddsDef
	brings    []oddsDef
}

type findDef struct {
	name    *node
	title   string
	ask     string
	says    []string
	comes   bool
	denies  []*node
	shows   []oddsDef
	leak    float64
	of      *node
	answers []*node
	gives   []rowDef
	reads   []readDef
}

type rowDef struct {
	states *node
	cells  []oddsDef
}

type readDef struct {
	states *node
	dist   Dist
	unit   string
}

type checkDef struct {
	name    *node
	title   string
	how     string
	with    []string
	minutes float64
	at      *node
	live    bool
	hazards []Hazard
	harm    float64
	finds   []findDef
}

type repairDef struct {
	name    *node
	title   string
	how     string
	with    []string
	all     bool // clears: everything
	clears  []clearDef
	success float64
	minutes float64
	at      *node
	live    bool
	hazards []Hazard
	buys    []buyDef
	days    float64
	harm    float64
	harms   *node
}

type clearDef struct {
	part  *node
	all   bool
	modes []*node
}

type buyDef struct {
	what  string
	count int
	price money
}

type accessDef struct {
	name   *node
	title  string
	how    string
	behind *node
	opens  float64
	closes float64
	tries  *bool // whether the device can be tried this far open; nil if not stated
}

type useDef struct {
	name    *node
	use     *node
	title   string
	wire    []wireDef
	burden  float64 // negative if not stated
	at      []pairDef
	change  *node
	without []*node
}

type wireDef struct {
	need *node
	from []*node
}

type trialDef struct {
	at     *node
	title  string
	given  []givenDef
	expect []*node
	within int
}

type givenDef struct {
	finding *node
	not     bool
	value   *node // nil: it shows, or with not it does not
}

type kindDef struct {
	name     *node
	class    *node
	subclass string
	rate     float64
	modes    []kindMode
	source   string
}

type kindMode struct {
	name     *node
	share    float64
	title    string
	class    *node
	subclass string
}
