package casework_test

import (
	"encoding/json"
	"errors"
	"testing"
	"time"

	"fettler/internal/casework"
)

// FuzzBoardWork: whatever the payloads of two events of rework say, the case can be
// projected and what is out is never more than what was taken off.
func FuzzBoardWork(f *testing.F) {
	b, j := newBench(f)
	id := loudspeaker(f, b)
	events, err := j.Events(ctx, id, 0)
	if err != nil {
		f.Fatal(err)
	}
	f.Add("removed", []byte(`{"sort":"screws","what":"x","count":8}`), "refitted", []byte(`{"removed":2,"count":3}`))
	f.Add("removed", []byte(`{"what":"x","count":-8}`), "refitted", []byte(`{"removed":2,"count":-3}`))
	f.Add("stepped", []byte(`{"family":"qfn","step":"dry","done":true}`), "stepped", []byte(`{"family":"no","step":"","done":true}`))
	f.Add("photographed", []byte(`{"hash":"00","side":"back","stage":"before"}`), "tagged", []byte(`{"photo":"00","mark":"C1","x":9,"y":-1,"points":"west"}`))
	f.Add("oriented", []byte(`{"mark":"C1","when":"before","points":"left"}`), "oriented", []byte(`{"mark":"C1","when":"after","points":"up"}`))
	m, _ := notes(f).Model("test-loudspeaker")
	f.Fuzz(func(t *testing.T, k1 string, d1 []byte, k2 string, d2 []byte) {
		if !json.Valid(d1) || !json.Valid(d2) {
			return // a store keeps only what was marshalled
		}
		list := append([]casework.Event(nil), events[:1]...)
		for i, e := range []casework.Event{{Kind: casework.Kind(k1), Data: d1}, {Kind: casework.Kind(k2), Data: d2}} {
			e.Case, e.Seq, e.At, e.Version = id, i+2, time.Unix(0, 0), 1
			list = append(list, e)
		}
		c, err := casework.Project(m, nil, list)
		var e *casework.Error
		if err != nil {
			if !errors.As(err, &e) {
				t.Error(err)
			}
			return
		}
		for _, o := range c.Board().Out {
			if o.Left < 1 || o.Left > o.Count {
				t.Errorf("%+v", o)
			}
		}
	})
}
