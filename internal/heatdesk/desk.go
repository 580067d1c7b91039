package heatdesk

import (
	"context"
	"errors"
	"sync"
	"time"

	"fettler/internal/failure"
)

// A Desk answers questions about heat one at a time and remembers the
// answers. The zero value is ready.
type Desk struct {
	mu    sync.Mutex
	last  chan struct{} // closed when the last question in the queue is answered
	jobs  map[string]*question
	order []string // keys, oldest first
}

// A question is one being answered, or answered.
type question struct {
	done   chan struct{} // closed when answer or err is there
	began  time.Time     // of the reckoning, zero while waiting
	answer *Answer
	err    error
}

const (
	deadline    = 90 * time.Second
	mostKept    = 24 // answers remembered
	mostWaiting = 6  // questions waiting their turn
)

// A State is how far an answer is.
type State struct {
	Key    string
	Ready  bool          // the answer is there
	Ahead  int           // others before it in the queue
	Takes  time.Duration // since its reckoning began, 0 while it waits
	Answer *Answer       // once Ready
}

// Answer answers a question about heat; it takes seconds, less if it was asked before.
func (d *Desk) Answer(ctx context.Context, a Ask) (*Answer, error) {
	j, _, err := d.ask(a)
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

// Soon starts answering, waits for at most patience, and says how far it is. The
// reckoning goes on when ctx ends: ask again for the answer.
func (d *Desk) Soon(ctx context.Context, a Ask, patience time.Duration) (State, error) {
	j, key, err := d.ask(a)
	if err != nil {
		return State{}, err
	}
	t := time.NewTimer(patience)
	defer t.Stop()
	select {
	case <-j.done:
		return State{Key: key, Ready: true, Answer: j.answer}, j.err
	case <-ctx.Done():
		return State{}, ctx.Err()
	case <-t.C:
	}
	select {
	case <-j.done: // both at once
		return State{Key: key, Ready: true, Answer: j.answer}, j.err
	default:
		return d.state(key), nil
	}
}

// ask finds a question, or begins to answer it.
func (d *Desk) ask(a Ask) (*question, string, error) {
	a = a.filled()
	if err := a.check(); err != nil {
		return nil, "", err
	}
	if _, _, err := a.job(); err != nil {
		return nil, "", refused(err)
	}
	key := a.key()
	d.mu.Lock()
	defer d.mu.Unlock()
	if j := d.jobs[key]; j != nil {
		return j, key, nil
	}
	if d.jobs == nil {
		d.jobs = map[string]*question{}
	}
	if d.open() > mostWaiting {
		return nil, "", failure.New(failure.Changed, "try again in a minute", "too many questions about heat are waiting")
	}
	j := &question{done: make(chan struct{})}
	d.jobs[key] = j
	d.order = append(d.order, key)
	d.forget()
	before := d.last
	d.last = j.done
	go d.reckon(j, key, a, before)
	return j, key, nil
}

// reckon waits for the question before it and answers; what failed is not remembered.
func (d *Desk) reckon(j *question, key string, a Ask, before <-chan struct{}) {
	if before != nil {
		<-before
	}
	d.mu.Lock()
	j.began = time.Now()
	d.mu.Unlock()
	ctx, cancel := context.WithTimeout(context.Background(), deadline)
	defer cancel()
	answer, err := reckon(ctx, a)
	if errors.Is(err, context.DeadlineExceeded) {
		err = &failure.Error{Code: failure.Changed, Text: "the reckoning took longer than " + deadline.String() + " and was given up", Next: "take a smaller board or fewer neighbours, or try again when the machine is less busy", Err: err}
	}
	d.mu.Lock()
	j.answer, j.err = answer, err
	if err != nil {
		d.drop(key)
	}
	d.mu.Unlock()
	close(j.done)
}

// open counts the questions not answered.
func (d *Desk) open() int {
	n := 0
	for _, j := range d.jobs {
		if j.answer == nil && j.err == nil {
			n++
		}
	}
	return n
}

// forget drops the oldest answers beyond the bound.
func (d *Desk) forget() {
	for i := 0; len(d.order) > mostKept && i < len(d.order); {
		if j := d.jobs[d.order[i]]; j.answer == nil {
			i++
			continue
		}
		d.drop(d.order[i])
	}
}

func (d *Desk) drop(key string) {
	delete(d.jobs, key)
	for i, k := range d.order {
		if k == key {
			d.order = append(d.order[:i:i], d.order[i+1:]...)
			return
		}
	}
}

func (d *Desk) state(key string) State {
	d.mu.Lock()
	defer d.mu.Unlock()
	s := State{Key: key}
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
