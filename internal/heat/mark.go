package heat

// A Mark says how far a tabulated value can be trusted.
type Mark string

const (
	// Verified: read in the source named beside it.
	Verified Mark = "V"
	// Derived: follows by arithmetic from stated inputs.
	Derived Mark = "D"
	// FromMemory: commonly quoted, not read in a source; or an assumption of this
	// model. Not a safety limit without a check of its own.
	FromMemory Mark = "M"
)

// String gives the mark in words.
func (m Mark) String() string {
	switch m {
	case Verified:
		return "read in a source"
	case Derived:
		return "derived"
	default:
		return "from memory"
	}
}
