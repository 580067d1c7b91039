package casework

import (
	"cmp"
	"context"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
)

func (d Remarking) draft(_ context.Context, s scene) (Kind, any, error) {
	t, err := text(d.Text, maxText, "the remark")
	if err == nil && t == "" {
		err = fail(BadInput, "write something", "the remark is empty")
	}
	if err == nil && d.Private {
		p, err := json.Marshal(PrivateRemark{Text: t})
		return KindRemarked, Remarked{Private: p}, err
	}
	return KindRemarked, Remarked{Text: t}, err
}

func (d Photographing) draft(_ context.Context, s scene) (Kind, any, error) {
	hash := strings.ToLower(strings.TrimSpace(d.Hash))
	if sum, err := hex.DecodeString(hash); err != nil || len(sum) != 32 {
		return "", nil, fail(BadInput, "give the SHA-256 of the picture, 64 hexadecimal digits", "%q is not the hash of a picture", clip(d.Hash))
	}
	if d.About < 0 || d.About > s.c.Seq {
		return "", nil, fail(NotFound, fmt.Sprintf("take one from 1 to %d, or 0", s.c.Seq), "there is no event %d for the picture to show", d.About)
	}
	if err := cmp.Or(oneOf(d.Side, boardSides, true, "side"), oneOf(d.Stage, stages, true, "moment")); err != nil {
		return "", nil, err
	}
	caption, err := oneLine(d.Caption, "the caption")
	return KindPhotographed, Photographed{Hash: hash, Caption: caption, About: d.About, Thumb: d.Thumb, Width: d.Width, Height: d.Height, Side: d.Side, Stage: d.Stage}, err
}

func (d Reopening) draft(_ context.Context, s scene) (Kind, any, error) {
	if s.c.Closed == nil {
		return "", nil, fail(BadInput, "go on working on it", "this case is not closed")
	}
	why, err := text(d.Why, maxText, "the reason")
	return KindReopened, Reopened{Why: why}, err
}

// Remark records a remark.
func (b *Bench) Remark(ctx context.Context, caseID string, in Remarking) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// Photograph records a picture by its hash.
func (b *Bench) Photograph(ctx context.Context, caseID string, in Photographing) (Receipt, error) {
	return b.record(ctx, caseID, in)
}

// Reopen takes a closed case up again.
func (b *Bench) Reopen(ctx context.Context, caseID string, in Reopening) (Receipt, error) {
	return b.record(ctx, caseID, in)
}
