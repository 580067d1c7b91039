package casework

import (
	"context"
	"errors"
	"sync"
	"time"
)

// A heatDesk answers questions about heat one at a time and remembers the
// answers. The zero value is ready.
type heatDesk struct {
	mu    sync.Mutex
	last  chan struct{} // closed when the last job in the queue is done
	jobs  map[string]*heatJob
	order []string // keys, oldest first
}

// A heatJob is one question being answered, or answered.
type heatJob struct {
	done   chan struct{} // closed when answer or err is there
	began  time.Time     // of the reckoning, zero while waiting
	answer *HeatAnswer
	err    error
}

const (
	heatDeadline = 90 * time.Second
	mostHeatKept = 24 // answers remembered
	mostHeatWait = 6  // questions waiting their turn
)

// HeatState is how far an answer is.
type HeatState struct {
	Key    string
	Ready  bool          // the answer is there
	Ahead  int           // others before it in the queue
	Takes  time.Duration // since its reckoning began, 0 while it waits
	Answer *HeatAnswer   // once Ready
}

// Heat answers a question about heat; it takes seconds, less if it was asked before.
func (b *Bench) Heat(ctx context.Context, a HeatAsk) (*HeatAnswer, error) {
	j, _, err := b.heat.ask(a)
	if err != nil {
		return nil, err
	}
	select {
	case <-j.done:
		return j.answer, j.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// HeatSoon starts answering, waits for at most patience, and says how far it is. The
// reckoning goes on when ctx ends: ask again for the answer.
func (b *Bench) HeatSoon(ctx context.Context, a HeatAsk, patience time.Duration) (HeatState, error) {
	j, key, err := b.heat.ask(a)
	if err != nil {
		return HeatState{}, err
	}
	t := time.NewTimer(patience)
	defer t.Stop()
	select {
	case <-j.done:
		return HeatState{Key: key, Ready: true, Answer: j.answer}, j.err
	case <-ctx.Done():
		return HeatState{}, ctx.Err()
	case <-t.C:
	}
	select {
	case <-j.done: // both at once
		return HeatState{Key: key, Ready: true, Answer: j.answer}, j.err
	default:
		return b.heat.state(key), nil
	}
}

// ask finds or begins a job.
func (d *heatDesk) ask(a HeatAsk) (*heatJob, string, error) {
	a = a.filled()
	if err := a.check(); err != nil {
		return nil, "", err
	}
	if _, _, err := a.job(); err != nil {
		return nil, "", heatError(err)
	}
	key := a.key()
	d.mu.Lock()
	defer d.mu.Unlock()
	if j := d.jobs[key]; j != nil {
		return j, key, nil
	}
	if d.jobs == nil {
		d.jobs = map[string]*heatJob{}
	}
	if d.open() > mostHeatWait {
		return nil, "", fail(Changed, "try again in a minute", "too many questions about heat are waiting")
	}
	j := &heatJob{done: make(chan struct{})}
	d.jobs[key] = j
	d.order = append(d.order, key)
	d.forget()
	before := d.last
	d.last = j.done
	go d.reckon(j, key, a, before)
	return j, key, nil
}

// reckon waits for the job before it and answers; what failed is not remembered.
func (d *heatDesk) reckon(j *heatJob, key string, a HeatAsk, before <-chan struct{}) {
	if before != nil {
		<-before
	}
	d.mu.Lock()
	j.began = time.Now()
	d.mu.Unlock()
	ctx, cancel := context.WithTimeout(context.Background(), heatDeadline)
	defer cancel()
	answer, err := answerHeat(ctx, a)
	if errors.Is(err, context.DeadlineExceeded) {
		err = &Error{Code: Changed, Text: "the reckoning took longer than " + heatDeadline.String() + " and was given up", Next: "take a smaller board or fewer neighbours, or try again when the machine is less busy", Err: err}
	}
	d.mu.Lock()
	j.answer, j.err = answer, err
	if err != nil {
		d.drop(key)
	}
	d.mu.Unlock()
	close(j.done)
}

// open counts the jobs not done.
func (d *heatDesk) open() int {
	n := 0
	for _, j := range d.jobs {
		if j.answer == nil && j.err == nil {
			n++
		}
	}
	return n
}

// forget drops the oldest answers beyond the bound.
func (d *heatDesk) forget() {
	for i := 0; len(d.order) > mostHeatKept && i < len(d.order); {
		if j := d.jobs[d.order[i]]; j.answer == nil {
			i++
			continue
		}
		d.drop(d.order[i])
	}
}

func (d *heatDesk) drop(key string) {
	delete(d.jobs, key)
	for i, k := range d.order {
		if k == key {
			d.order = append(d.order[:i:i], d.order[i+1:]...)
			return
		}
	}
}

func (d *heatDesk) state(key string) HeatState {
	d.mu.Lock()
	defer d.mu.Unlock()
	s := HeatState{Key: key}
	j := d.jobs[key]
	if j == nil {
		return s
	}
	if !j.began.IsZero() {
		s.Takes = max(time.Since(j.began), time.Millisecond)
		return s
	}
	for _, k := range d.order {
		if k == key {
			break
		}
		if o := d.jobs[k]; o.answer == nil && o.err == nil {
			s.Ahead++
		}
	}
	return s
}
