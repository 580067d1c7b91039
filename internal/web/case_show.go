package web

import (
	"context"
	"net/http"

	"fettler/internal/casework"
)

type casePage struct {
	Base
	V        *casework.View
	Path     string
	Ticket   *Ticket
	Lines    []SuspectLine // suspects worth a line
	More     []SuspectLine // the others listed
	Known    []KnownGroup  // latest first
	Asks     []FieldAsk
	MoreAsks []FieldAsk
	Others   []Line // moves behind the ticket
	Heard    *HeardBox
	Done     *casework.Entry // just written down
	Say      string          // text that could not be read
	Remark   string
	Leaving  []casework.Verdict  // ways to end without a repair
	Hazards  []casework.Caution  // what can hurt and the ticket does not say
	Like     []casework.Hit      // closed cases with the same symptoms
	Soak     *casework.SoakBoard // of a device that seems to work, nil otherwise
	Ending   *casework.Ending    // of a device that seems to work, nil otherwise
	Ahead    *casework.Rehearsed // nil until it has been worked out
	AskLive  bool                // ask whether this bench works inside with the power on
	Was      []WasLine           // of a closed case: what it was
	WasMore  []WasLine           // less likely ones
}

// caseShow shows a case: the page most time is spent on.
func (s *Server) caseShow(w http.ResponseWriter, r *http.Request) error {
	if r.FormValue("look") == "further" {
		if _, err := s.bench.Further(r.Context(), r.PathValue("case")); err != nil {
			return err
		}
	}
	p, err := s.casePage(r)
	if err != nil {
		return err
	}
	s.bench.Ponder(p.V.Header.Case)
	return s.render(w, http.StatusOK, "case", p)
}

func (s *Server) casePage(r *http.Request) (*casePage, error) {
	v, err := s.bench.View(r.Context(), r.PathValue("case"))
	if err != nil {
		return nil, err
	}
	p := newCasePage(s.base(r, v.Header.Title, ""), v)
	if p.Like, err = s.bench.Like(r.Context(), v.Header.Case); err != nil && r.Context().Err() == nil {
		s.log.Debug("no cases like this one", "err", err) // the case is shown all the same
	}
	if v.Works && v.Outcome == nil {
		if p.Soak, err = s.bench.Soak(r.Context(), v.Header.Case); err != nil {
			return nil, err
		}
		if p.Ending, err = s.bench.Ending(r.Context(), v.Header.Case); err != nil {
			return nil, err
		}
	}
	if p.Ahead, err = s.bench.Ahead(r.Context(), v.Header.Case); err != nil {
		return nil, err
	}
	if n, err := eventNumber(r.FormValue("done")); err == nil {
		p.Done = entryOf(v, n)
	}
	if n, err := eventNumber(r.FormValue("heard")); err == nil && n > 0 {
		if p.Heard, err = s.heard(r.Context(), v, n); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// newCasePage lays out a view. It is a pure function, so the gallery shows the very same.
func newCasePage(b Base, v *casework.View) *casePage {
	p := &casePage{Base: b, V: v, Path: casePath(v.Header.Case)}
	p.Ticket = newTicket(v)
	p.Lines, p.More = suspectLines(v)
	p.Known = knownGroups(v)
	p.Was, p.WasMore = wasLines(v)
	p.Asks, p.MoreAsks = asks(v)
	p.Others = otherMoves(v, mostOthers)
	for _, x := range casework.Verdicts() {
		if x != casework.Fixed {
			p.Leaving = append(p.Leaving, x)
		}
	}
	p.AskLive = asksLive(v)
	if v.Outcome == nil && !p.Ticket.tells(v.Header.Hazards) {
		p.Hazards = v.Header.Hazards
	}
	return p
}

// entryOf is the timeline's entry of event n, nil if there is none.
func entryOf(v *casework.View, n int) *casework.Entry {
	if n < 1 || n > len(v.Timeline) {
		return nil
	}
	return &v.Timeline[n-1]
}

// A HeardBox is what a text was read as, with what is to be asked back.
type HeardBox struct {
	Event  int
	Heard  casework.Heard
	Doubts [][]casework.Heed // not answered yet
}

// Empty says that nothing at all was understood.
func (h *HeardBox) Empty() bool { return len(h.Heard.Read) == 0 && len(h.Doubts) == 0 }

// heard reads the text of event n once more, leaving out what has been answered since.
func (s *Server) heard(ctx context.Context, v *casework.View, n int) (*HeardBox, error) {
	e := entryOf(v, n)
	if e == nil || e.Kind != casework.KindSaid || e.Void {
		return nil, nil
	}
	var said casework.Said
	if err := s.payload(ctx, v, n, &said); err != nil {
		return nil, err
	}
	h, err := s.bench.Hear(ctx, v.Header.Case, said.Text)
	if err != nil {
		return nil, err
	}
	h = h.Without(said.Not)
	box := &HeardBox{Event: n, Heard: h}
	box.Doubts = openDoubts(v, h.Doubtful)
	return box, nil
}

// openDoubts leaves out what has been answered: a group of alternatives is
// settled by one yes; a no leaves the others to be asked.
func openDoubts(v *casework.View, groups [][]casework.Heed) [][]casework.Heed {
	yes, no := map[string]bool{}, map[string]bool{}
	for _, k := range v.Known {
		yes[k.Finding], no[k.Finding] = !k.Denied, k.Denied
	}
	var out [][]casework.Heed
	for _, group := range groups {
		var open []casework.Heed
		settled := false
		for _, alt := range group {
			settled = settled || yes[alt.Finding]
			if !no[alt.Finding] {
				open = append(open, alt)
			}
		}
		if !settled && len(open) > 0 {
			out = append(out, open)
		}
	}
	return out
}
