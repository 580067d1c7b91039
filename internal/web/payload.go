package web

import (
	"context"
	"encoding/json"
	"fmt"

	"fettler/internal/casework"
)

// payload decodes what event n says now, corrections taken into account.
func (s *Server) payload(ctx context.Context, v *casework.View, n int, into any) error {
	events, err := s.bench.Export(ctx, v.Header.Case, true)
	if err != nil {
		return err
	}
	if n < 1 || n > len(events) {
		return missing(fmt.Sprintf("this case has no event %d", n), "take one of those it lists")
	}
	data := events[n-1].Data
	for i, e := range events[n:] {
		if e.Kind != casework.KindCorrected {
			continue
		}
		if x := entryOf(v, n+i+1); x != nil && x.Void {
			continue
		}
		var c casework.Corrected
		if err := json.Unmarshal(e.Data, &c); err != nil {
			return fmt.Errorf("event %d of case %s: %w", e.Seq, e.Case, err)
		}
		if c.Event == n {
			data = c.Data
		}
	}
	if err := json.Unmarshal(data, into); err != nil {
		return fmt.Errorf("event %d of case %s: %w", n, v.Header.Case, err)
	}
	return nil
}
