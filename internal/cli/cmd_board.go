package cli

import (
	"context"
	"fmt"
	"strings"

	"fettler/internal/casework"
)

// boardCmd shows the work at the board: steps, what is off, pictures, which way round.
type boardCmd struct {
	Args []string `arg:"" optional:""`
}

// boardShown is the work at the board.
type boardShown struct {
	casework.BoardWork
}

func (c *boardCmd) run(ctx context.Context, s *session) (answer, error) {
	w, err := s.board(ctx, c.Args, "board [CASE]")
	if err != nil {
		return nil, err
	}
	return &boardShown{*w}, nil
}

// board is the work at the board of the case that args name.
func (s *session) board(ctx context.Context, args []string, how string) (*casework.BoardWork, error) {
	name, err := onlyCase(args, how)
	if err != nil {
		return nil, err
	}
	id, err := s.find(ctx, name, true)
	if err != nil {
		return nil, err
	}
	return s.opened.BoardWork(ctx, id)
}

func (b *boardShown) no() bool { return len(b.Turned) > 0 }

func (b *boardShown) text(p *page) {
	p.head("%s (%s): work at the board", b.Title, b.Case)
	for _, w := range b.Turned {
		p.para("  warning: ", w+". Do not power it until that is looked at")
	}
	for _, j := range b.Jobs {
		p.para("  ", jobWords(j))
	}
	if len(b.Out) > 0 {
		p.gap()
		p.head("Still out")
	}
	for _, o := range b.Out {
		p.para(fmt.Sprintf("%4d  ", o.Event), o.Words())
	}
	b.ways(p)
	b.pictures(p)
	if len(b.Jobs)+len(b.Out)+len(b.Polar)+len(b.Photos) == 0 {
		p.para("  ", "nothing yet. Photograph both sides before anything is touched (fettler photo FILE), then the steps: fettler steps")
	}
}

// jobWords is a job in a line: how far it is and what comes next.
func jobWords(j casework.ReworkJob) string {
	what := j.Part
	if what == "" {
		what = lower(j.Title)
	}
	next := "all done"
	if n := j.Next(); n != nil {
		next = "next: " + lower(n.Title)
	}
	return fmt.Sprintf("%s: %d of %s done; %s", what, j.Done, plural(len(j.Steps), "step", "steps"), next)
}

func lower(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToLower(s[:1]) + s[1:]
}

func (b *boardShown) ways(p *page) {
	if len(b.Polar) == 0 {
		return
	}
	p.gap()
	p.head("Which way round")
	for _, x := range b.Polar {
		p.para("  "+x.Mark+": ", wayOf(x))
	}
}

// wayOf is how a part sat and sits.
func wayOf(x casework.Polar) string {
	was, is := "not noted before", "not noted as fitted"
	if x.Before != nil {
		was = x.Before.Points + " before"
		if x.Before.Words != "" {
			was += ", " + x.Before.Words
		}
	}
	if x.After != nil {
		is = x.After.Points + " as fitted"
	}
	return x.Look + ": " + was + "; " + is
}

func (b *boardShown) pictures(p *page) {
	if len(b.Photos) == 0 {
		return
	}
	p.gap()
	p.head("Pictures")
	for i, ph := range b.Photos {
		p.para(fmt.Sprintf("%4d  ", i+1), pictureWords(ph))
		for _, t := range b.Tags {
			if t.Photo == ph.Hash {
				p.para("        ", tagWords(t))
			}
		}
	}
}

func pictureWords(ph casework.PhotoInfo) string {
	return strings.Join(append(ph.Of(), fmt.Sprintf("%d × %d", ph.Width, ph.Height), ph.Hash[:min(8, len(ph.Hash))]), ", ")
}

func tagWords(t casework.TagInfo) string {
	out := fmt.Sprintf("%s at %.0f %% across, %.0f %% down", t.Mark, 100*t.X, 100*t.Y)
	if t.Points != "" {
		out += ", points " + t.Points
	}
	if t.Words != "" {
		out += ", " + t.Words
	}
	return out
}

// placementCmd prints the sheet that goes with the parts.
type placementCmd struct {
	Args []string `arg:"" optional:""`
}

// placementSheet says where and which way round the parts sit.
type placementSheet struct {
	Case      string            `json:"case"`
	Title     string            `json:"title"`
	Placement []casework.Placed `json:"placement"`
}

func (c *placementCmd) run(ctx context.Context, s *session) (answer, error) {
	w, err := s.board(ctx, c.Args, "placement [CASE]")
	if err != nil {
		return nil, err
	}
	return &placementSheet{w.Case, w.Title, w.Placement}, nil
}

func (a *placementSheet) no() bool { return len(a.Placement) == 0 }

func (a *placementSheet) text(p *page) {
	p.head("Placement, %s (case %s)", a.Title, a.Case)
	if len(a.Placement) == 0 {
		p.para("  ", "nothing is placed yet: tag designators on a picture (fettler tag), or say which way round they sit (fettler way)")
		return
	}
	for _, x := range a.Placement {
		p.para("  ", x.Words)
	}
	p.gap()
	p.para("", "Directions as seen on the side named, with the edge up that is up on the picture.")
}
