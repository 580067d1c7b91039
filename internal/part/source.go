package part

// Mark says how far a figure may be trusted.
type Mark string

// The marks of trust, best first.
const (
	Read     Mark = "read in the source named"
	Derived  Mark = "computed from the inputs stated"
	Memory   Mark = "from memory; check before relying on it"
	Practice Mark = "common practice, no source"
)

// Source says where a figure comes from and how far to trust it.
type Source struct {
	Text string // standard and clause, handbook, or how it was computed
	Mark Mark
}

// String gives the source and its mark in one line.
func (s Source) String() string {
	if s.Text == "" {
		return string(s.Mark)
	}
	return s.Text + " (" + string(s.Mark) + ")"
}
