package heat

import "fmt"

// notes adds where the run leaves firm ground.
func (r *run) notes() {
	n := &r.res.Notes
	add := func(format string, a ...any) { *n = append(*n, fmt.Sprintf(format, a...)) }
	if r.jet != nil {
		*n = append(*n, r.jet.Notes...)
		if e := r.res.Energy; e.Jet > 0.8*e.Offered {
			add("the board takes up %.0f %% of the heat the air carries: the coefficient is too high for this flow", 100*e.Jet/e.Offered)
		}
	}
	if r.job.Tool.HotAir == nil && r.job.Tool.Iron != nil && len(r.tipPads()) < len(r.job.Part.Pads) {
		add("the iron melts %d of %d joints at once: free the others first, or flood all with low-melt alloy", len(r.tipPads()), len(r.job.Part.Pads))
	}
	if r.res.Board.OverTd {
		add("the board passes its decomposition temperature of %.0f °C: it chars and gives off harmful fumes", r.res.Board.Td)
	}
	p := Profile(r.alloy.LeadFree)
	if r.res.Case.RampUp > p.RampUp {
		add("the body rises by up to %.0f K/s; reflow allows %.0f K/s: a moist package may crack", r.res.Case.RampUp, p.RampUp)
	}
	if r.job.Alloy == "" {
		add("no alloy given: %s assumed", DefaultAlloy)
	}
	if r.alloy.Name == "Bi50Pb26.7Sn13.3Cd10" {
		add("this alloy contains cadmium: do not heat it on a bench")
	}
}
