package casework

import (
	"encoding/json"
	"time"
)

// atBoard is what the events of rework amount to. The zero value is nothing done.
type atBoard struct {
	jobs   []ticked // in the order they were begun
	out    []OutItem
	photos []PhotoInfo
	tags   []TagInfo
	ways   map[wayKey]Sitting
}

type wayKey struct{ mark, when string }

// ticked is one job: a part of a family, with what is done of it.
type ticked struct {
	family, part string
	done         map[string]tick // by step
}

type tick struct {
	event int
	at    time.Time
}

// A Sitting is which way round a part was seen to sit.
type Sitting struct {
	Event  int    `json:"event"`
	Sort   string `json:"sort"`
	Side   string `json:"side"`
	Points string `json:"points"`
	Words  string `json:"words"`
}

// takeRework applies an event of rework that counts.
func (c *Case) takeRework(e Event, data json.RawMessage) error {
	r := &c.rework
	switch e.Kind {
	case KindStepped:
		return with(e, data, func(p Stepped) { r.step(e, p) })
	case KindRemoved:
		return with(e, data, func(p Removed) {
			if p.Count > 0 {
				r.out = append(r.out, OutItem{Event: e.Seq, At: e.At, Sort: p.Sort, What: p.What, Where: p.Where, Count: p.Count, Left: p.Count})
			}
		})
	case KindRefitted:
		return with(e, data, func(p Refitted) { r.refit(p) })
	case KindOriented:
		return with(e, data, func(p Oriented) {
			r.turn(wayKey{p.Mark, p.When}, Sitting{Event: e.Seq, Sort: p.Sort, Side: p.Side, Points: p.Points, Words: p.Words})
		})
	case KindTagged:
		return with(e, data, func(p Tagged) { r.tag(e, p) })
	}
	return nil
}

// take keeps a picture; a later event about the same one replaces it.
func (r *atBoard) take(e Event, p Photographed) {
	n := PhotoInfo{Event: e.Seq, At: e.At, Hash: p.Hash, Thumb: p.Thumb, Caption: p.Caption, Side: p.Side, Stage: p.Stage, Width: p.Width, Height: p.Height}
	for i := range r.photos {
		if r.photos[i].Hash == p.Hash {
			r.photos[i] = n
			return
		}
	}
	r.photos = append(r.photos, n)
}

func (r *atBoard) photo(hash string) *PhotoInfo {
	for i := range r.photos {
		if r.photos[i].Hash == hash {
			return &r.photos[i]
		}
	}
	return nil
}

func (r *atBoard) step(e Event, p Stepped) {
	for i := range r.jobs {
		if j := &r.jobs[i]; j.family == p.Family && j.part == p.Part {
			j.set(e, p)
			return
		}
	}
	j := ticked{family: p.Family, part: p.Part, done: map[string]tick{}}
	j.set(e, p)
	r.jobs = append(r.jobs, j)
}

func (j *ticked) set(e Event, p Stepped) {
	if p.Done {
		j.done[p.Step] = tick{e.Seq, e.At}
	} else {
		delete(j.done, p.Step)
	}
}

func (r *atBoard) refit(p Refitted) {
	for i, o := range r.out {
		if o.Event != p.Removed {
			continue
		}
		r.out[i].Left -= min(max(p.Count, 0), o.Left)
		if r.out[i].Left == 0 {
			r.out = append(r.out[:i:i], r.out[i+1:]...)
		}
		return
	}
}

func (r *atBoard) turn(k wayKey, w Sitting) {
	if r.ways == nil {
		r.ways = map[wayKey]Sitting{}
	}
	r.ways[k] = w
}

// tag puts a designator on its picture. A tag that says where the mark points also
// says which way round the part sat when the picture was taken.
func (r *atBoard) tag(e Event, p Tagged) {
	ph := r.photo(p.Photo)
	if ph == nil {
		return
	}
	t := TagInfo{Event: e.Seq, Photo: p.Photo, Mark: p.Mark, Sort: p.Sort, Side: ph.Side, X: p.X, Y: p.Y, Points: p.Points, Words: p.Words}
	if p.Points != "" && ph.Stage != "" {
		r.turn(wayKey{p.Mark, ph.Stage}, Sitting{Event: e.Seq, Sort: p.Sort, Side: ph.Side, Points: p.Points, Words: p.Words})
	}
	for i := range r.tags {
		if r.tags[i].Photo == p.Photo && r.tags[i].Mark == p.Mark {
			r.tags[i] = t
			return
		}
	}
	r.tags = append(r.tags, t)
}
