package casework

// How many results of a move are worth reading, and from which chance on.
const (
	resultsRead  = 6
	resultsLeast = 0.02
)

// Read are the results worth reading, likeliest first; the others are so many and
// have that chance together.
func (c *Card) Read() (results []Result, others int, chance float64) {
	n := 0
	for n < len(c.Results) && n < resultsRead && (n == 0 || c.Results[n].P >= resultsLeast) {
		n++
	}
	if n+1 == len(c.Results) && n < resultsRead { // one more is as short as to count it
		n++
	}
	for _, r := range c.Results[n:] {
		chance += r.P
	}
	return c.Results[:n], len(c.Results) - n, chance
}
