package casework

import (
	"context"
	"encoding/json"
	"fmt"
	"io"

	"fettler/internal/school"
)

// Events of the bench that have to do with other benches.
const (
	KindBenchNamed Kind = "bench-named" // BenchNamed
	KindTakenOver  Kind = "taken-over"  // TakenOver
)

// shareKind tells the kinds of this file.
func shareKind(k Kind) bool { return k == KindBenchNamed || k == KindTakenOver }

// BenchNamed gives the bench the name its cases go by elsewhere: random, so that no two are alike.
type BenchNamed struct {
	Name string `json:"name"`
}

// TakenOver is closed cases of other benches; the file is kept by its SHA-256.
type TakenOver struct {
	Hash  string `json:"hash"`
	Cases int    `json:"cases"`
}

// benchName is the name of this bench, "" if it has none yet.
func benchName(bench []Event) string {
	eff := effects(bench)
	for i, e := range bench {
		if e.Kind != KindBenchNamed { // the shelf's are long
			continue
		}
		if p, err := decode[BenchNamed](e, eff[i].data); err == nil {
			return p.Name // the first stands, also if undone: others know it by now
		}
	}
	return ""
}

// takenOver lists the files taken over, oldest first.
func takenOver(bench []Event) []string {
	eff := effects(bench)
	var out []string
	for i, e := range bench {
		if e.Kind != KindTakenOver || eff[i].void {
			continue
		}
		if p, err := decode[TakenOver](e, eff[i].data); err == nil {
			out = append(out, p.Hash)
		}
	}
	return out
}

// ShareLessons writes what closed cases teach, own ones and those taken over, for
// another bench: JSON lines, the same bytes for the same cases. There are no names,
// labels or words of people in it.
func (b *Bench) ShareLessons(ctx context.Context, w io.Writer) error {
	if err := b.nameBench(ctx); err != nil {
		return err
	}
	bench, err := b.events(ctx, BenchCase)
	if err != nil {
		return err
	}
	return b.school.Open(ctx, benchName(bench), takenOver(bench), func(r school.Report) error { return school.WriteBook(w, r.Book) })
}

// nameBench gives the bench a name if it has none.
func (b *Bench) nameBench(ctx context.Context) error {
	bench, err := b.events(ctx, BenchCase)
	if err != nil || benchName(bench) != "" {
		return err
	}
	name := b.newID() + "-" + b.newID()
	_, err = b.write(ctx, BenchCase, By{}, func(_ *Case, bench []Event) (Kind, any, error) {
		return KindBenchNamed, BenchNamed{Name: name}, nil
	}, false)
	return err
}

// TakeOver takes over what other benches have learnt. Nothing counts twice, however
// often it is taken over. Undoing the event takes it out again.
func (b *Bench) TakeOver(ctx context.Context, file io.Reader, by By) (Receipt, error) {
	if b.o.Files == nil {
		return Receipt{}, &Error{Code: StoreFail, Text: "this bench cannot keep what comes from others", Next: "start it with a data folder"}
	}
	data, err := io.ReadAll(io.LimitReader(file, school.MostShared+1))
	if err != nil {
		return Receipt{}, &Error{Code: BadInput, Text: "the file did not arrive whole", Next: "send it once more", Err: err}
	}
	if len(data) > school.MostShared {
		return Receipt{}, fail(BadInput, "ask for a part of it", "the file is over %d MB", school.MostShared>>20)
	}
	book, err := school.ReadBook(data)
	if err != nil {
		return Receipt{}, err
	}
	hash, err := b.o.Files.Put(ctx, data)
	if err != nil {
		return Receipt{}, storeError(err)
	}
	return b.write(ctx, BenchCase, by, func(_ *Case, bench []Event) (Kind, any, error) {
		for _, h := range takenOver(bench) {
			if h == hash {
				return "", nil, fail(BadInput, "there is nothing to be done", "this very file has been taken over already")
			}
		}
		return KindTakenOver, TakenOver{Hash: hash, Cases: len(book.Counting())}, nil
	}, false)
}

// shareWords is an event of this file in words.
func shareWords(e Event, data json.RawMessage) (string, error) {
	words := ""
	var err error
	switch e.Kind {
	case KindBenchNamed:
		err = with(e, data, func(p BenchNamed) { words = "this bench goes by the name " + p.Name })
	case KindTakenOver:
		err = with(e, data, func(p TakenOver) {
			words = fmt.Sprintf("took over %d closed cases of other benches", p.Cases)
		})
	}
	return words, err
}
