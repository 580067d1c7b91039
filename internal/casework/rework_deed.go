package casework

import (
	"cmp"
	"context"
	"fmt"
	"strings"

	"fettler/internal/failure"
	"fettler/internal/rework"
)

// Sorts of things taken off, sides of a board, and when a picture was taken.
var (
	removedSorts = []string{"screws", "cable", "other"}
	boardSides   = []string{"front", "back"}
	stages       = []string{"before", "after"}
)

// RemovedSorts returns the sorts of things taken off.
func RemovedSorts() []string { return append([]string(nil), removedSorts...) }

// BoardSides returns the sides of a board.
func BoardSides() []string { return append([]string(nil), boardSides...) }

// Stages returns when a picture or an orientation can be from.
func Stages() []string { return append([]string(nil), stages...) }

const maxCount = 500

// oneOf checks a word of a list; empty passes if it may be.
func oneOf(s string, list []string, mayBeEmpty bool, what string) error {
	return failure.OneOf(s, list, mayBeEmpty, what)
}

func (d Stepping) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	f, ok := rework.FamilyByID(d.Family)
	if !ok {
		return "", nil, fail(NotFound, "take one of "+familyNames(), "there is no package family %q", clip(d.Family))
	}
	if _, ok := rework.StepByID(d.Family, d.Step); !ok {
		return "", nil, fail(NotFound, "take one of those the list shows", "%s has no step %q", lowered(f.Title), clip(d.Step))
	}
	part, err := oneLine(d.Part, "the part")
	return KindStepped, Stepped{Family: d.Family, Part: part, Step: d.Step, Done: !d.Undone}, err
}

func familyNames() string {
	var out []string
	for _, f := range rework.Families() {
		out = append(out, f.ID)
	}
	return strings.Join(out, ", ")
}

func (d Removing) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	p := Removed{Sort: d.Sort, Count: d.Count}
	if p.Count == 0 {
		p.Count = 1
	}
	err := oneOf(d.Sort, removedSorts, false, "sort of thing taken off")
	if err != nil {
		return "", nil, err
	}
	if p.Count < 1 || p.Count > maxCount {
		return "", nil, fail(BadInput, fmt.Sprintf("give a number from 1 to %d", maxCount), "%d cannot have been taken off", p.Count)
	}
	if p.What, err = oneLine(d.What, "what was taken off"); err != nil {
		return "", nil, err
	}
	if p.What == "" {
		return "", nil, fail(BadInput, "say which, such as: back plate, long ones", "nothing says what was taken off")
	}
	p.Where, err = oneLine(d.Where, "where it is kept")
	return KindRemoved, p, err
}

func (d Refitting) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	for _, o := range s.c.rework.out {
		if o.Event != d.Removed {
			continue
		}
		n := d.Count
		if n == 0 {
			n = o.Left
		}
		if n < 1 || n > o.Left {
			return "", nil, fail(BadInput, fmt.Sprintf("give a number from 1 to %d", o.Left), "%d of %q cannot be put back, %d are out", n, o.What, o.Left)
		}
		return KindRefitted, Refitted{Removed: d.Removed, Count: n}, nil
	}
	return "", nil, fail(NotFound, "take one of those the list shows", "nothing that event %d took off is still out", d.Removed)
}

func (d Orienting) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	p := d.Oriented
	err := cmp.Or(
		oneOf(p.When, stages, false, "moment"),
		oneOf(p.Side, boardSides, true, "side"),
		oneOf(p.Sort, sortNames(), true, "sort of part"),
		oneOf(p.Points, directionNames(), false, "direction"))
	if err != nil {
		return "", nil, err
	}
	p.Mark, p.Words, err = markAndWords(p.Mark, p.Words)
	return KindOriented, p, err
}

func (d Tagging) draft(_ context.Context, s scene) (Kind, any, error) {
	if err := s.c.open(); err != nil {
		return "", nil, err
	}
	p := d.Tagged
	if s.c.rework.photo(p.Photo) == nil {
		return "", nil, fail(NotFound, "take one of those the case lists", "this case has no such picture")
	}
	if !(p.X >= 0 && p.X <= 1 && p.Y >= 0 && p.Y <= 1) {
		return "", nil, fail(BadInput, "tap on the picture, or give 0 to 100 % across and down", "the place lies outside the picture")
	}
	err := cmp.Or(oneOf(p.Sort, sortNames(), true, "sort of part"), oneOf(p.Points, directionNames(), true, "direction"))
	if err != nil {
		return "", nil, err
	}
	p.Mark, p.Words, err = markAndWords(p.Mark, p.Words)
	return KindTagged, p, err
}

func markAndWords(mark, words string) (string, string, error) {
	mark, err := oneLine(mark, "the designator")
	if err != nil {
		return "", "", err
	}
	if mark == "" {
		return "", "", fail(BadInput, "write the designator printed beside it, such as C7, or a name of your own", "nothing says which part it is")
	}
	words, err = oneLine(words, "the landmark")
	return mark, words, err
}

func sortNames() []string {
	var out []string
	for _, r := range rework.Sorts() {
		out = append(out, r.Sort)
	}
	return out
}

func directionNames() []string {
	var out []string
	for _, d := range rework.Directions() {
		out = append(out, string(d))
	}
	return out
}

// Step ticks a step of rework off.
func (b *Bench) Step(ctx context.Context, caseID string, in Stepping) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// Remove records what was taken off.
func (b *Bench) Remove(ctx context.Context, caseID string, in Removing) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// Refit records that something is back.
func (b *Bench) Refit(ctx context.Context, caseID string, in Refitting) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// Orient records which way round a part sits.
func (b *Bench) Orient(ctx context.Context, caseID string, in Orienting) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// Tag puts a designator on a picture.
func (b *Bench) Tag(ctx context.Context, caseID string, in Tagging) (Receipt, error) {
	return b.record(ctx, caseID, in)
}
