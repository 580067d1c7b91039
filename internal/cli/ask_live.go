package cli

import (
	"context"
	"strings"

	"fettler/internal/casework"
)

// askLive asks once, at a terminal, whether this bench works inside devices with the
// power on. Enter is no.
func (s *session) askLive(ctx context.Context) error {
	if !s.asks() {
		return nil
	}
	now, err := s.opened.BenchSettings(ctx)
	if err != nil || now.LiveSaid {
		return err
	}
	p := &page{w: s.Stderr}
	p.para("", "Do you work inside devices with the power on? Only with training, a residual-current device and somebody within call. Without, everything is done unplugged, except trying the whole. It can be changed in the settings.")
	text, err := s.ask(ctx, "yes, or Enter for no, unplugged only: ")
	if err != nil {
		return err
	}
	never := !strings.EqualFold(text, "yes") && !strings.EqualFold(text, "y")
	_, err = s.opened.Settle(ctx, casework.BenchCase, casework.Settling{By: s.by(), Settled: casework.Settled{NoLive: &never}})
	return err
}
