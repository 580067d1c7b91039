package casework_test

import (
	"bytes"
	"testing"

	"fettler/internal/casework"
)

// Whatever is given as the cases of another bench, it is refused with a sentence and nothing
// is kept, or it is taken over and the bench still learns.
func FuzzTakeOver(f *testing.F) {
	other := newSharer(f)
	bridgeCase(f, other)
	good := share(f, other)
	for _, data := range [][]byte{nil, []byte("{}"), good, good[:len(good)/2], bytes.Replace(good, []byte(`"p":`), []byte(`"p":-`), 1), bytes.Replace(good, []byte(`"odds":`), []byte(`"odds":1e400,"x":`), 1), bytes.Repeat(good, 2)} {
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		b := newSharer(t)
		_, err := b.TakeOver(ctx, bytes.NewReader(data), casework.By{})
		if err != nil && casework.CodeOf(err) != casework.BadInput {
			t.Fatalf("refused with %v", err)
		}
		v, lerr := b.Learnt(ctx)
		if lerr != nil || err != nil && v.Others != 0 {
			t.Errorf("taken over: %v; then %+v, %v", err, v, lerr)
		}
	})
}
