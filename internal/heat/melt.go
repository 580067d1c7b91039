package heat

// While solder melts or freezes its heat is put right after each step, which makes the
// step first order there. It is cut in so many, up to meltSubsteps, that no node
// would change by more than meltCalm in one; where little changes, such as a joint that stays half
// molten under an iron too weak for it, steps are taken together up to meltLong.
const (
	meltSubsteps = 4
	meltCalm     = 0.1  // K
	meltLong     = 0.05 // s
)

// melting says whether some solder is between solid and liquid.
func (m *model) melting() bool {
	for _, x := range m.melts {
		if x.got > 0 && x.got < x.latent {
			return true
		}
	}
	return false
}

// melt moves heat between the temperature of a node and the latent store of its
// solder so that the node follows the line from solidus to liquidus. No heat is lost.
func (m *model) melt() {
	span := m.alloy.Liquidus - m.alloy.Solidus
	for i := range m.melts {
		x := &m.melts[i]
		c := m.plate.c[x.node]
		slope := span / x.latent
		d := c * (m.plate.t[x.node] - m.alloy.Solidus - slope*x.got) / (1 + c*slope)
		d = min(max(d, -x.got), x.latent-x.got)
		x.got += d
		m.plate.t[x.node] -= d / c
	}
}
