package heat

import (
	"context"
	"fmt"
	"math"
)

// Simulate runs one job: the preheater's soak, the tool until every joint that must
// melt has done so and the hold time is over (or MaxTime), then cooling.
//
// It returns a [*FieldError] for bad input, the context's error when cancelled, and
// an error wrapping [ErrBalance] with the result if the energy balance misses 0.1 %.
func Simulate(ctx context.Context, job Job, settings Settings) (*Result, error) {
	return simulate(ctx, job, settings, nil)
}

// simulate is Simulate for one of several runs of a job, which share their soaks.
func simulate(ctx context.Context, job Job, settings Settings, all *soaks) (*Result, error) {
	job, err := job.withDefaults()
	if err != nil {
		return nil, err
	}
	settings, err = settings.withDefaults(job)
	if err != nil {
		return nil, err
	}
	r := newRun(newModel(job, settings))
	if err := r.phases(ctx, all); err != nil {
		return nil, fmt.Errorf("heat: the computation was stopped: %w", err)
	}
	res := r.finish()
	if !(res.Energy.Residual <= 1e-3) {
		return res, fmt.Errorf("heat: %w: off by %.2g of the heat turned over", ErrBalance, res.Energy.Residual)
	}
	return res, nil
}

// A run carries the watch over a model while it steps.
type run struct {
	*model
	res    *Result
	time   float64 // s since the tool was applied
	toolOn bool
	nextFr float64
	nextTr float64
	recent []moment  // of the last second
	beyond []float64 // per joint, see jointState
	cold   []float64 // coldest joint at every whole second with the tool on
	hotCol []float32 // highest of either face per column
	rate   float64   // K/s, the fastest change of a node or lump in the last step
	most   int       // steps that may be taken as one
}

// A moment is kept for the rise over a second.
type moment struct {
	time, top, body, die float64 // top is the face of the case, body the middle of its upper half
	joints               []float64
}

func newRun(m *model) *run {
	r := &run{model: m, res: &Result{Alloy: m.alloy, Molten: -1, Jet: m.jet, Tip: math.Inf(1), Nodes: len(m.plate.c)}, most: stretchMost}
	r.beyond = make([]float64, len(m.joints))
	r.hotCol = make([]float32, m.plate.nx*m.plate.ny)
	for i := range r.hotCol {
		r.hotCol[i] = float32(lossFrom)
	}
	for _, j := range m.joints {
		r.res.Joints = append(r.res.Joints, JointResult{Name: j.name, Required: j.required, Molten: -1, Peak: lossFrom})
	}
	for _, n := range m.job.Neighbours {
		r.res.Neighbours = append(r.res.Neighbours, NeighbourResult{Name: n.Name, Kind: n.Kind, X: n.X, Y: n.Y, Limit: n.Limit,
			Shielded: n.Shielded, Peak: lossFrom, Bulk: lossFrom})
	}
	b := m.job.Board
	r.res.Board = BoardResult{Peak: lossFrom, Tg: b.Tg, Td: b.Td}
	r.res.Case.Temp, r.res.Die.Temp, r.res.Coldest = lossFrom, lossFrom, lossFrom
	r.res.History = m.newHistory()
	p := m.job.Part
	leadFree := m.alloy.LeadFree
	r.res.ClassTemp, r.res.ClassMark, _ = ClassificationTemp(min(p.Height, 50), p.Length*p.Width*p.Height, leadFree)
	return r
}

func (r *run) phases(ctx context.Context, all *soaks) error {
	s, pre := r.set, r.job.Tool.Preheat
	if err := r.soak(ctx, all); err != nil {
		return err
	}
	r.time = 0
	r.tool(true, pre != nil)
	done := func() bool {
		return !s.Full && (r.res.Molten >= 0 && r.time >= r.res.Molten+s.Hold-1e-9 || r.hopeless())
	}
	if err := r.advance(ctx, s.MaxTime, s.Step, done); err != nil {
		return err
	}
	r.res.Applied = r.time
	r.tool(false, false)
	if err := r.advance(ctx, s.Cool, s.Step, func() bool { return false }); err != nil {
		return err
	}
	return nil
}

// tool switches hot air, iron and preheater.
func (r *run) tool(on, pre bool) {
	r.toolOn = on
	r.plate.top.on, r.net.jetOn, r.net.tipOn = on && r.jet != nil, on && r.jet != nil, on
	r.plate.under.on = pre
	r.plate.tau = 0 // the factors are no longer right
	r.stiffness = r.stiffRate()
}

// After a change of the tool the first steps are short and fully implicit: startParts
// of the step, doubled every startRepeat steps until the full step is reached. They
// settle what is fast (a tip on a joint) before the long steps come. Twice as many of the
// shortest make them add up to startRepeat full steps.
const (
	startParts  = 64
	startRepeat = 4
)

// advance steps for a span in steps of dt or a little less, longer ones where little
// changes.
func (r *run) advance(ctx context.Context, span, dt float64, done func() bool) error {
	n := int(math.Ceil(span/dt - 1e-9))
	dt = span / float64(n)
	theta := 1.0
	if n > startRepeat {
		n -= startRepeat
		theta = implicit
		times := 2 * startRepeat
		for h := dt / startParts; h < dt; h *= 2 {
			for range times {
				if stop, err := r.one(ctx, h, 1, done); stop || err != nil {
					return err
				}
			}
			times = startRepeat
		}
	}
	for i := 0; i < n; {
		k := r.stretch(dt)
		for k > 1 && (i%k > 0 || i+k > n) {
			k /= 2
		}
		r.calm = k > 1 && r.stiffness*implicit*float64(k)*dt <= stretchStiff
		stop, err := r.one(ctx, float64(k)*dt, theta, done)
		r.calm = false
		if stop || err != nil {
			return err
		}
		i += k
	}
	return nil
}

const (
	stretchMost = 16  // steps taken as one, a power of two
	stretchLong = 1.0 // s that such a step may last
	stretchCalm = 2.0 // K that a node may change in it
	// stretchStiff is what a long step may have instead of stiffMost: nothing jumps then,
	// and should anything begin to swing, it ends the long steps.
	stretchStiff = 2.0
)

// stretch is how many steps of dt can be taken as one: as many as keep the change of
// every node and lump in a step to what is allowed, and the factored step sound. Less is
// allowed while solder melts, and it is one while the end of the job is near.
func (r *run) stretch(dt float64) int {
	if r.set.Explicit || !r.set.Full && r.toolOn && r.res.Molten >= 0 {
		return 1
	}
	long, calm := stretchLong, stretchCalm
	if r.melting() {
		long, calm = meltLong, meltCalm
	}
	k := r.most
	for k > 1 && (float64(k)*dt > long || float64(k)*dt*r.rate > calm || r.pastFrame(float64(k)*dt) ||
		r.stiffness*dt <= stiffMost && r.stiffness*implicit*float64(k)*dt > stretchStiff) {
		k /= 2
	}
	return k
}

// pastFrame says that a step of h would go beyond the next frame.
func (r *run) pastFrame(h float64) bool {
	return r.set.Frames > 0 && r.nextFr > r.time+1e-9 && r.time+h > r.nextFr+1e-9
}

// one makes a step of h and looks at the result.
func (r *run) one(ctx context.Context, h, theta float64, done func() bool) (stop bool, err error) {
	if err := ctx.Err(); err != nil {
		return true, err
	}
	if r.nextFr <= r.time+1e-9 && r.set.Frames > 0 {
		r.frame(&r.res.History, r.time)
		r.nextFr += r.set.Frames
	}
	r.forward(h, theta)
	r.time += h
	r.watch(h)
	return done(), nil
}

// forward makes one step, melts or freezes solder and books the heat.
func (r *run) forward(dt, theta float64) {
	e := &r.res.Energy
	sub := 1
	if r.melting() {
		sub, theta = min(max(int(math.Ceil(dt*r.rate/meltCalm)), 1), meltSubsteps), 1
	}
	if r.stiffness*dt > stiffMost && !r.calm {
		theta = 1 // a jump in a stiff place must not ring
	}
	if r.set.Explicit {
		sub = int(math.Ceil(dt / r.explicitLimit()))
	}
	h := dt / float64(sub)
	tip := 0.0
	if r.net.tip >= 0 {
		tip = r.net.lumps[r.net.tip].t
	}
	for range sub {
		if r.set.Explicit {
			r.explicitStep(h)
		} else {
			r.step(h, theta)
		}
		moved := r.net.moved
		for _, s := range r.plate.rows {
			moved = max(moved, s.moved)
			e.Jet += s.top
			e.Preheat += s.under
			e.Loss += s.loss
		}
		r.rate = moved / h
		e.Jet += r.net.heats.jet
		e.Iron += r.net.heats.heater
		e.Loss += r.net.heats.loss
		r.melt()
		r.res.Steps++
	}
	if r.net.tip >= 0 { // what the tip held counts as given by the iron
		l := r.net.lumps[r.net.tip]
		e.Iron -= l.c * (l.t - tip)
	}
	if r.jet != nil && r.toolOn {
		e.Offered += dt * r.jet.Capacity * (r.job.Tool.HotAir.SetTemp - r.job.Ambient)
	}
}
