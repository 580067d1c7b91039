package heat

import "math"

// watch reads off the state after a step of dt.
func (r *run) watch(dt float64) {
	cold, hot := math.Inf(1), math.Inf(-1)
	least, last := math.Inf(1), 0.0
	temps := make([]float64, len(r.joints))
	for i, j := range r.joints {
		t, low, beyond := r.jointState(j)
		temps[i] = t
		jr := &r.res.Joints[i]
		jr.Peak = max(jr.Peak, t)
		if beyond >= 0 && jr.Molten < 0 && r.time >= 0 {
			jr.Molten = max(r.time-dt*beyond/max(beyond-r.beyond[i], 1e-12), 0)
		}
		r.beyond[i] = beyond
		if !j.required {
			continue
		}
		cold, hot = min(cold, low), max(hot, t)
		least = min(least, beyond)
		last = max(last, jr.Molten)
	}
	if least >= 0 && r.res.Molten < 0 && r.time >= 0 {
		r.res.Molten = last // all are liquid now; the last one sets the time
	}
	r.res.Coldest = max(r.res.Coldest, cold)
	if r.toolOn && int(r.time+1e-9) > len(r.cold)-1 {
		r.cold = append(r.cold, cold)
	}
	if r.toolOn && r.net.tip >= 0 {
		r.res.Tip = min(r.res.Tip, r.net.lumps[r.net.tip].t)
	}
	r.watchBoard(dt)
	s := r.watchBodies(cold, hot, dt)
	r.ramps(moment{r.time, s.Case, r.net.lumps[r.case_].t, s.Die, temps})
}

// jointState is the mean temperature over the pad, that of the coldest node with
// solder, and how far, K, the slowest is beyond being liquid: below zero, temperature
// and latent heat still missing.
func (r *run) jointState(j joint) (t, low, beyond float64) {
	low, beyond = math.Inf(1), math.Inf(1)
	for _, s := range j.cells {
		t += s.of * r.plate.t[s.col*r.plate.nz]
	}
	for _, i := range j.melts {
		m := r.melts[i]
		low = min(low, r.plate.t[m.node])
		beyond = min(beyond, r.plate.t[m.node]-r.alloy.Liquidus-(m.latent-m.got)/r.plate.c[m.node])
	}
	return t, low, beyond
}

func (r *run) watchBoard(dt float64) {
	b, p := &r.res.Board, r.plate
	over := false
	for _, s := range p.rows {
		b.Peak = max(b.Peak, s.peak)
		over = over || s.peak > b.Tg
	}
	if !over {
		return
	}
	b.SecondTg += dt
	for c := range r.hotCol {
		q := c * p.nz
		r.hotCol[c] = max(r.hotCol[c], float32(p.t[q]), float32(p.t[q+p.nz-1]))
	}
}

// watchBodies follows case, die and neighbours.
func (r *run) watchBodies(cold, hot, dt float64) Sample {
	c, die := r.net.lumps[r.case_], r.net.lumps[r.die].t
	top := c.t
	if r.net.jetOn {
		// the surface sits between the air and the middle of the upper half
		h, air := r.caseAir()
		top = c.t + h*r.caseSkin/(1+h*r.caseSkin)*(air-c.t)
	}
	s := Sample{Time: r.time, Coldest: cold, Hottest: hot, Case: top, Die: die}
	if top > r.res.ClassTemp-5 {
		r.res.NearClass += dt
	}
	for i, l := range r.neighbour {
		n := &r.res.Neighbours[i]
		body := r.net.lumps[l].t
		face := body
		if r.net.jetOn {
			k := r.skins[i]
			face = max(body, (body+k.ratio*k.air)/(1+k.ratio))
		}
		if face > n.Peak {
			n.Peak, n.At = face, r.time
		}
		n.Bulk = max(n.Bulk, body)
		s.Neighbours = append(s.Neighbours, face)
	}
	if r.nextTr <= r.time+1e-9 {
		r.res.Trace = append(r.res.Trace, s)
		r.nextTr = r.time + 0.5
	}
	return s
}

// caseAir is the jet on top of the body.
func (r *run) caseAir() (h, air float64) {
	c := r.net.lumps[r.case_]
	if c.h == 0 {
		return 0, 0
	}
	return r.caseH, c.hT / c.h
}

// ramps follows peaks and the change over one second, from moments a tenth of a
// second or more apart.
func (r *run) ramps(m moment) {
	for _, b := range []struct {
		p *Peak
		t float64
	}{{&r.res.Case, m.top}, {&r.res.Die, m.die}} {
		if b.t > b.p.Temp {
			b.p.Temp, b.p.At = b.t, m.time
		}
	}
	if n := len(r.recent); n > 0 && m.time-r.recent[n-1].time < 0.1-1e-9 {
		return
	}
	r.recent = append(r.recent, m)
	for len(r.recent) > 2 && m.time-r.recent[1].time >= 1-1e-9 {
		r.recent = r.recent[1:]
	}
	old := r.recent[0]
	span := m.time - old.time
	if span < 1-1e-9 {
		return
	}
	rate := func(p *Peak, now, was float64) {
		p.RampUp, p.RampDown = max(p.RampUp, (now-was)/span), max(p.RampDown, (was-now)/span)
	}
	rate(&r.res.Case, m.body, old.body)
	rate(&r.res.Die, m.die, old.die)
	for i, t := range m.joints {
		jr := &r.res.Joints[i]
		jr.RampUp = max(jr.RampUp, (t-old.joints[i])/span)
	}
}

// plateau estimates where the coldest joint tends to from three equally spaced
// readings (Aitken's rule), or 0 if it cannot be told.
func (r *run) plateau() float64 {
	n := len(r.cold)
	if n < 9 {
		return 0
	}
	k := (n - 1) / 4
	a, b, c := r.cold[n-1-2*k], r.cold[n-1-k], r.cold[n-1]
	d1, d2 := b-a, c-b
	switch {
	case d2 <= 0 || math.Abs(d2) < 0.05:
		return c
	case d1 <= d2:
		return 0
	}
	return c + d2*d2/(d1-d2)
}

// hopeless says that even at its present rate, which only falls, the coldest joint
// cannot melt within the time.
func (r *run) hopeless() bool {
	n := len(r.cold)
	if n < 31 || r.res.Molten >= 0 {
		return false
	}
	rate := (r.cold[n-1] - r.cold[n-11]) / 10
	return rate < (r.cold[n-11]-r.cold[n-21])/10 &&
		r.cold[n-1]+rate*(r.set.MaxTime-r.time) < r.alloy.Liquidus-2
}

// finish closes the balance and adds the notes.
func (r *run) finish() *Result {
	res := r.res
	if r.set.Frames > 0 {
		r.frame(&res.History, r.time)
	}
	e := &res.Energy
	for q, c := range r.plate.c {
		e.Stored += c * (r.plate.t[q] - r.job.Ambient)
	}
	for i, l := range r.net.lumps {
		if i != r.net.tip {
			e.Stored += l.c * (l.t - r.job.Ambient)
		}
	}
	for _, s := range r.melts {
		e.Stored += s.got
	}
	turned := math.Abs(e.Jet) + math.Abs(e.Preheat) + math.Abs(e.Iron) + math.Abs(e.Loss)
	e.Residual = math.Abs(e.Jet+e.Preheat+e.Iron-e.Loss-e.Stored) / max(turned, 1e-9)
	tip := map[int]bool{} // under the tip it is the pad that is hot
	for _, l := range r.net.links {
		if l.lump == r.net.tip {
			tip[l.node/r.plate.nz] = true
		}
	}
	for c, t := range r.hotCol {
		if float64(t) > res.Board.Tg {
			res.Board.OverTg += r.mesh.area(c) * 1e6
		}
		res.Board.OverTd = res.Board.OverTd || float64(t) > res.Board.Td && !tip[c]
	}
	if res.Molten < 0 {
		res.Plateau = r.plateau()
	}
	if r.net.tip < 0 {
		res.Tip = 0
	}
	r.notes()
	return res
}
