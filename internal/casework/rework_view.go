package casework

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"fettler/internal/rework"
)

// A BoardWork is everything a face shows of the rework in one case. It is a pure
// function of the journal and the note.
type BoardWork struct {
	Case      string      `json:"case"`
	Seq       int         `json:"seq"`
	Title     string      `json:"title"`
	Closed    bool        `json:"closed"`
	Jobs      []ReworkJob `json:"jobs"`
	Out       []OutItem   `json:"out"` // taken off and not back
	Photos    []PhotoInfo `json:"photos"`
	Tags      []TagInfo   `json:"tags"`
	Placement []Placed    `json:"placement"`
	Polar     []Polar     `json:"polar"`  // polarised parts whose way round was noted
	Turned    []string    `json:"turned"` // those that sit otherwise than they did, in words
}

// A ReworkJob is the steps for one part, with what is done.
type ReworkJob struct {
	Family string       `json:"family"`
	Title  string       `json:"title"` // of the family
	Part   string       `json:"part"`
	Done   int          `json:"done"`
	Last   int          `json:"last"` // event that ticked a step last, 0 if none
	Steps  []ReworkStep `json:"steps"`
	Polar  []Polar      `json:"polar"` // the part, or those of its parts, that have a right way round
}

// A ReworkStep is one step of a job.
type ReworkStep struct {
	ID       string    `json:"id"`
	Title    string    `json:"title"`
	How      string    `json:"how"`
	With     []string  `json:"with"`
	Cautions []Caution `json:"cautions"`
	Source   string    `json:"source"`
	Done     bool      `json:"done"`
	Event    int       `json:"event"` // that ticked it
	At       time.Time `json:"at"`
}

// Next is the first step not done, nil if all are.
func (j ReworkJob) Next() *ReworkStep {
	for i := range j.Steps {
		if !j.Steps[i].Done {
			return &j.Steps[i]
		}
	}
	return nil
}

// An OutItem is something taken off that is not all back.
type OutItem struct {
	Event int       `json:"event"`
	At    time.Time `json:"at"`
	Sort  string    `json:"sort"`
	What  string    `json:"what"`
	Where string    `json:"where"`
	Count int       `json:"count"`
	Left  int       `json:"left"`
}

// Words is the item as one says it.
func (o OutItem) Words() string {
	head := o.What
	switch {
	case o.Left > 1 || o.Sort == "screws" && o.Count > 1:
		head = fmt.Sprintf("%d × %s", o.Left, o.What)
	}
	if o.Where != "" {
		head += " (" + o.Where + ")"
	}
	return head
}

// Leftover is what is still out, as a warning before the whole is tried; "" if nothing is.
func (v *View) Leftover() string {
	if len(v.Out) == 0 {
		return ""
	}
	words := make([]string, len(v.Out))
	for i, o := range v.Out {
		words[i] = o.Words()
	}
	return "still out: " + strings.Join(words, "; ") + ". Refit all of it before the whole is tried"
}

// Backwards is the parts that sit otherwise than they did, as a warning before power;
// "" if none does.
func (v *View) Backwards() string {
	if len(v.Turned) == 0 {
		return ""
	}
	return strings.Join(v.Turned, "; ") + ". Do not power it until that is looked at"
}

// A PhotoInfo is a picture of the case.
type PhotoInfo struct {
	Event   int       `json:"event"`
	At      time.Time `json:"at"`
	Hash    string    `json:"hash"`
	Thumb   string    `json:"thumb"`
	Caption string    `json:"caption"`
	Side    string    `json:"side"`
	Stage   string    `json:"stage"` // "before", "after" or ""
	Width   int       `json:"width"`
	Height  int       `json:"height"`
}

// Of says what the picture is of: the side, before or after the repair, the caption.
func (p PhotoInfo) Of() []string {
	var out []string
	if p.Side != "" {
		out = append(out, p.Side+" side")
	}
	if p.Stage != "" {
		out = append(out, p.Stage+" the repair")
	}
	if p.Caption != "" {
		out = append(out, p.Caption)
	}
	return out
}

// A TagInfo is a designator on a picture.
type TagInfo struct {
	Event  int     `json:"event"`
	Photo  string  `json:"photo"`
	Mark   string  `json:"mark"`
	Sort   string  `json:"sort"`
	Side   string  `json:"side"`
	X      float64 `json:"x"`
	Y      float64 `json:"y"`
	Points string  `json:"points"`
	Words  string  `json:"words"`
}

// A Placed is one line of the placement sheet.
type Placed struct {
	Mark  string `json:"mark"`
	Side  string `json:"side"`
	Words string `json:"words"` // "C7, back side, the stripe (minus) left, towards the screw hole"
}

// A Polar is a part that has a right way round, with how it was and is.
type Polar struct {
	Mark     string   `json:"mark"`
	Part     string   `json:"part"`   // title in the note
	Kind     string   `json:"kind"`   // in the note
	Sort     string   `json:"sort"`   // of package rework
	Look     string   `json:"look"`   // the mark to look for
	Why      string   `json:"why"`    // what happens the wrong way round
	Before   *Sitting `json:"before"` // nil if not noted
	After    *Sitting `json:"after"`
	Mismatch string   `json:"mismatch"` // how the two differ, "" if they do not
}

// BoardWork returns all there is to show of the rework in a case.
func (b *Bench) BoardWork(ctx context.Context, caseID string) (*BoardWork, error) {
	c, err := b.load(ctx, caseID)
	if err != nil {
		return nil, err
	}
	return c.Board(), nil
}

// Board is all there is to show of the rework in the case.
func (c *Case) Board() *BoardWork {
	r := &c.rework
	v := &BoardWork{Case: c.ID, Seq: c.Seq, Title: c.title(), Closed: c.Closed != nil, Jobs: []ReworkJob{}, Out: append([]OutItem{}, r.out...),
		Photos: append([]PhotoInfo{}, r.photos...), Tags: append([]TagInfo{}, r.tags...), Placement: r.placement(), Polar: c.polar(), Turned: c.turned()}
	for _, t := range r.jobs {
		v.Jobs = append(v.Jobs, c.jobOf(t))
	}
	return v
}

// NewReworkJob is the steps for a part of a family with nothing done, of no case.
func NewReworkJob(family, part string) (ReworkJob, error) {
	if _, ok := rework.FamilyByID(family); !ok {
		return ReworkJob{}, fail(NotFound, "take one of "+familyNames(), "there is no package family %q", clip(family))
	}
	return (&Case{}).jobOf(ticked{family: family, part: part}), nil
}

// ReworkJobOf is the steps for a part of a family, with what a case has of them done.
func (b *Bench) ReworkJobOf(ctx context.Context, caseID, family, part string) (ReworkJob, error) {
	if j, err := NewReworkJob(family, part); err != nil {
		return j, err
	}
	c, err := b.load(ctx, caseID)
	if err != nil {
		return ReworkJob{}, err
	}
	t := ticked{family: family, part: part}
	for _, x := range c.rework.jobs {
		if x.family == family && x.part == part {
			t = x
		}
	}
	return c.jobOf(t), nil
}

func (c *Case) jobOf(t ticked) ReworkJob {
	j := ReworkJob{Family: t.family, Title: t.family, Part: t.part, Steps: []ReworkStep{}, Polar: c.polarOfPart(t.part)}
	if f, ok := rework.FamilyByID(t.family); ok {
		j.Title = f.Title
	}
	for _, s := range rework.Steps(t.family) {
		x := ReworkStep{ID: s.ID, Title: s.Title, How: s.How, With: append([]string{}, s.With...), Cautions: []Caution{}, Source: s.Source.String()}
		for _, h := range s.Cautions {
			x.Cautions = append(x.Cautions, Caution{Kind: h.Kind, Text: h.Text})
		}
		if d, ok := t.done[s.ID]; ok {
			x.Done, x.Event, x.At = true, d.event, d.at
			j.Done++
			j.Last = max(j.Last, d.event)
		}
		j.Steps = append(j.Steps, x)
	}
	return j
}

// placement is the sheet that goes with the parts, front before back, by designator. A
// tag on a picture from before the repair stands before one from after it.
func (r *atBoard) placement() []Placed {
	seen := map[string]bool{}
	out := []Placed{}
	for _, stage := range []string{"before", "", "after"} {
		for _, t := range r.tags {
			ph := r.photo(t.Photo)
			if ph == nil || ph.Stage != stage || seen[t.Mark] {
				continue
			}
			seen[t.Mark] = true
			out = append(out, Placed{Mark: t.Mark, Side: t.Side, Words: placeWords(t)})
		}
	}
	for k, w := range r.ways {
		if k.when == "before" && !seen[k.mark] {
			seen[k.mark] = true
			out = append(out, Placed{Mark: k.mark, Side: w.Side, Words: placeWords(TagInfo{Mark: k.mark, Sort: w.Sort, Side: w.Side, Points: w.Points, Words: w.Words})})
		}
	}
	slices.SortFunc(out, func(a, b Placed) int {
		if a.Side != b.Side {
			return strings.Compare(b.Side, a.Side) // front, back, not said
		}
		return natural(a.Mark, b.Mark)
	})
	return out
}

func placeWords(t TagInfo) string {
	words := t.Mark
	if t.Side != "" {
		words += ", " + t.Side + " side"
	}
	return joined(", ", words, wayWords(t.Sort, t.Points), t.Words)
}

// wayWords is a direction as one says it: "the stripe (minus) left".
func wayWords(sort, points string) string {
	if points == "" {
		return ""
	}
	look := "the mark"
	if r, ok := rework.SortOf(sort); ok {
		look = r.Mark
	}
	return look + " " + points
}

// natural orders C2 before C10.
func natural(a, b string) int {
	trim := func(s string) string { return strings.TrimRight(s, "0123456789") }
	if x, y := trim(a), trim(b); x != y || len(a) == len(b) {
		return strings.Compare(a, b)
	}
	return len(a) - len(b)
}
