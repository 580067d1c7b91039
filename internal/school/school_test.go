package school

import (
	"bytes"
	"context"
	"os"
	"testing"
	"time"

	"fettler/internal/journal"
	"fettler/internal/ledger"
	"fettler/internal/note"
	"fettler/internal/store/memory"
)

// told is what each case teaches.
type told map[string]Closing

func (c told) Closings(_ context.Context, lasts []journal.Event) []Found {
	out := make([]Found, len(lasts))
	for i, e := range lasts {
		out[i].Closing, out[i].OK = c[e.Case]
	}
	return out
}

func (c told) EverClosed(_ context.Context, last journal.Event) (bool, error) {
	_, ok := c[last.Case]
	return ok, nil
}

var at = time.Date(2024, 3, 9, 18, 0, 0, 0, time.UTC)

func add(t testing.TB, j *memory.Journal, id string, after int) {
	t.Helper()
	if err := j.Append(t.Context(), id, after, journal.Event{At: at, Kind: "remarked", Version: 1, Data: []byte(`{}`)}); err != nil {
		t.Fatal(err)
	}
}

// threeCases is a journal of three cases that were each the first fault of the note.
func threeCases(t testing.TB) (*memory.Journal, told) {
	t.Helper()
	lib, err := note.Load(t.Context(), os.DirFS("../casework/testdata/notes"))
	if err != nil {
		t.Fatal(err)
	}
	m, err := lib.Model("test-loudspeaker")
	if err != nil {
		t.Fatal(err)
	}
	sheet := ledger.SheetOf(m)
	j, cases := memory.New(), told{}
	for _, id := range []string{"a", "b", "c"} {
		add(t, j, id, 0)
		cases[id] = Closing{Revision: 1, At: at, Fixed: true, Lesson: &Lesson{Sheet: sheet.Key(), Note: &sheet, Sets: []Set{{Modes: []int{0}, P: 1}}}}
	}
	return j, cases
}

func lessons(t testing.TB, x *School) *ledger.Lessons {
	t.Helper()
	l, err := x.Lessons(t.Context(), "", nil)
	if err != nil {
		t.Fatal(err)
	}
	if l == nil {
		t.Fatal("nothing was taught")
	}
	return l
}

func TestTheNextProcessReadsWhatWasKept(t *testing.T) {
	j, cases := threeCases(t)
	o := Options{KeepFrom: 2}
	first := lessons(t, New(j, cases, o))
	if first.Cases != 3 {
		t.Errorf("%d cases", first.Cases)
	}
	next := New(j, cases, o)
	if l := lessons(t, next); !bytes.Equal(l.Pack(), first.Pack()) || next.Opened() {
		t.Errorf("%d cases; the book was opened: %v", l.Cases, next.Opened())
	}
	add(t, j, "b", 1) // opened again
	cases["b"] = Closing{Revision: 2, At: at, Gone: true}
	if l := lessons(t, next); l.Cases != 2 || !next.Opened() {
		t.Errorf("%d cases after one was opened again", l.Cases)
	}
	err := next.Open(t.Context(), "me", []string{"no such file"}, func(r Report) error {
		if r.Bench != "me" || len(r.Missing) != 1 || len(r.Book.Counting()) != 2 {
			t.Errorf("%+v", r)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

func TestASharedBookReadsBack(t *testing.T) {
	j, cases := threeCases(t)
	err := New(j, cases, Options{}).Open(t.Context(), "me", nil, func(r Report) error {
		var first, again bytes.Buffer
		if err := WriteBook(&first, r.Book); err != nil {
			return err
		}
		book, err := ReadBook(first.Bytes())
		if err == nil {
			err = WriteBook(&again, book)
		}
		if !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Error("the book reads back otherwise")
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Whatever is in a jar, sealed or not: it is read or refused, without a panic.
func FuzzJars(f *testing.F) {
	j, cases := threeCases(f)
	lessons(f, New(j, cases, Options{KeepFrom: 2}))
	l, _ := j.Fetch(f.Context(), lessonsPlace)
	k, _ := j.Fetch(f.Context(), bookPlace)
	book := func(data []byte) bool {
		_, _, _, ok := readBook([]journal.Jar{{Key: jarKey(0), Data: data}})
		return ok
	}
	if _, ok := readLessons(l[0].Data); !ok || !book(k[0].Data) {
		f.Fatal("what was kept cannot be read")
	}
	const head = 70 // what stands before the content is longer than the form and shorter than that
	f.Add(l[0].Data, k[0].Data)
	f.Add(l[0].Data[head:], k[0].Data[head:])
	f.Fuzz(func(t *testing.T, lessons, records []byte) {
		readLessons(lessons)
		book(records)
		readLessons(sealed(lessonsForm, lessons))
		book(sealed(bookForm, records))
	})
}
