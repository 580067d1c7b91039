package heat

import (
	"context"
	"slices"
	"sync"
)

// soaks keeps what the preheater's soak came to, for runs of one job that differ only in
// what is not on during it: the heat of air or tip, the distance, shields. The state it
// goes on from is the same to the last bit as if each had soaked by itself.
type soaks struct {
	mu   sync.Mutex
	kept map[soakKey]*soaked
}

type soakKey struct {
	pre  Preheat
	vary Factors // without the distance
}

type soaked struct {
	once sync.Once
	run  *run
	err  error
}

func (s *soaks) of(pre Preheat, vary Factors) *soaked {
	vary.Distance = 1
	s.mu.Lock()
	defer s.mu.Unlock()
	key := soakKey{pre, vary}
	if s.kept[key] == nil {
		if s.kept == nil {
			s.kept = map[soakKey]*soaked{}
		}
		s.kept[key] = &soaked{}
	}
	return s.kept[key]
}

// soak runs the preheater alone, or goes on from where a run like this one has done so.
func (r *run) soak(ctx context.Context, all *soaks) error {
	pre := r.job.Tool.Preheat
	if pre == nil || pre.Soak <= 0 {
		return nil
	}
	if all == nil {
		return r.warmUp(ctx)
	}
	s := all.of(*pre, r.set.Vary)
	s.once.Do(func() {
		first := newRun(newModel(r.job, r.set))
		s.run, s.err = first, first.warmUp(ctx)
	})
	if s.err == nil {
		r.goOn(s.run)
	}
	return s.err
}

// warmUp is the soak itself.
func (r *run) warmUp(ctx context.Context) error {
	pre := r.job.Tool.Preheat
	r.tool(false, true)
	r.time = -pre.Soak
	r.nextFr, r.nextTr = r.time, r.time
	return r.advance(ctx, pre.Soak, r.set.soakStep(), func() bool { return false })
}

// goOn takes over the state of a run that has soaked, which stays as it is.
func (r *run) goOn(from *run) {
	copy(r.plate.t, from.plate.t)
	for i := range r.net.lumps {
		if i != r.net.tip {
			r.net.lumps[i].t = from.net.lumps[i].t
		}
	}
	copy(r.melts, from.melts)
	r.stepper.grow(r.model)
	copy(r.stepper.w, from.stepper.w)
	r.stepper.last = from.stepper.last
	r.time, r.nextFr, r.nextTr, r.rate = from.time, from.nextFr, from.nextTr, from.rate
	r.recent, r.beyond, r.cold, r.hotCol = slices.Clone(from.recent), slices.Clone(from.beyond), slices.Clone(from.cold), slices.Clone(from.hotCol)
	res := *from.res
	res.Jet, res.Neighbours = r.res.Jet, slices.Clone(from.res.Neighbours)
	for i := range res.Neighbours {
		res.Neighbours[i].Shielded = r.res.Neighbours[i].Shielded
	}
	res.Joints, res.Trace, res.Notes = slices.Clone(res.Joints), slices.Clone(res.Trace), slices.Clone(res.Notes)
	res.History.Frames = slices.Clone(res.History.Frames)
	r.res = &res
}
