package storetest

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"strings"
	"sync"
	"testing"

	"fettler/internal/journal"
)

// Photos runs what every implementation of journal.Files must pass.
func Photos(t *testing.T, open func(t *testing.T) journal.Files) {
	for name, test := range map[string]func(*testing.T, journal.Files){
		"a picture comes back under its SHA-256": testPhotoRoundTrip,
		"the same twice":                         testPhotoTwice,
		"what was not kept is not there":         testPhotoMissing,
		"what is read is a copy":                 testPhotoCopy,
		"an ended context keeps nothing":         testPhotoCancelled,
		"many at once":                           testPhotosAtOnce,
	} {
		t.Run(name, func(t *testing.T) { test(t, open(t)) })
	}
}

func testPhotoRoundTrip(t *testing.T, p journal.Files) {
	for _, data := range [][]byte{{}, []byte("a picture"), bytes.Repeat([]byte{0xff, 0}, 1<<20)} {
		hash, err := p.Put(t.Context(), data)
		must(t, err)
		sum := sha256.Sum256(data)
		if hash != hex.EncodeToString(sum[:]) {
			t.Errorf("named %q, want the SHA-256", hash)
		}
		got, err := p.Get(t.Context(), hash)
		must(t, err)
		if !bytes.Equal(got, data) {
			t.Errorf("%d bytes came back as %d", len(data), len(got))
		}
	}
}

func testPhotoTwice(t *testing.T, p journal.Files) {
	a, err := p.Put(t.Context(), []byte("one"))
	must(t, err)
	b, err := p.Put(t.Context(), []byte("one"))
	must(t, err)
	if a != b {
		t.Errorf("named %q, then %q", a, b)
	}
}

func testPhotoMissing(t *testing.T, p journal.Files) {
	for _, hash := range []string{strings.Repeat("0", 64), "", "ab", "../../../../etc/passwd", strings.Repeat("Z", 64), strings.Repeat("A", 64)} {
		if _, err := p.Get(t.Context(), hash); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%q: %v, want fs.ErrNotExist", hash, err)
		}
	}
}

func testPhotoCopy(t *testing.T, p journal.Files) {
	data := []byte("one")
	hash, err := p.Put(t.Context(), data)
	must(t, err)
	data[0] = 'X'
	got, err := p.Get(t.Context(), hash)
	must(t, err)
	got[1] = 'X'
	if again, err := p.Get(t.Context(), hash); err != nil || string(again) != "one" {
		t.Errorf("%q, %v", again, err)
	}
}

func testPhotoCancelled(t *testing.T, p journal.Files) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := p.Put(ctx, []byte("late")); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

func testPhotosAtOnce(t *testing.T, p journal.Files) {
	var wg sync.WaitGroup
	for i := range 16 {
		wg.Go(func() {
			data := []byte{byte(i / 4)}
			hash, err := p.Put(t.Context(), data)
			if err != nil {
				t.Error(err)
				return
			}
			if got, err := p.Get(t.Context(), hash); err != nil || !bytes.Equal(got, data) {
				t.Errorf("%v, %v", got, err)
			}
		})
	}
	wg.Wait()
}
