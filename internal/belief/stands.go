package belief

// Stands returns the findings that were looked at and of which nothing has been
// touched since: every condition and mode they depend on is out of reach of the
// repairs made after the look. To look again would tell nothing new.
func (e *Engine) Stands(ev Evidence) (map[int]bool, error) {
	n, err := newNetwork(e.m, ev)
	if err != nil {
		return nil, err
	}
	last := n.epochs - 1
	out := map[int]bool{}
	for k := range n.looks {
		l := &n.looks[k]
		stands := true
		for cond := range l.nodes {
			stands = stands && n.at[last][cond] <= l.Epoch
		}
		for _, t := range l.direct {
			runs := n.runs[t.Mode]
			stands = stands && runs[len(runs)-1].first <= l.Epoch
		}
		if stands {
			out[l.Finding] = true
		}
	}
	return out, nil
}
