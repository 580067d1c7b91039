package casework

import (
	"context"

	"fettler/internal/journal"
)

// KeepFrom lets a bench keep what closed cases teach from so few cases on.
func (b *Bench) KeepFrom(n int) { b.school.keep = n }

// Taught is all that closed cases teach, as bytes; with whole the book is opened for it.
func (b *Bench) Taught(ctx context.Context, whole bool) ([]byte, error) {
	bench, err := b.events(ctx, BenchCase)
	if err != nil {
		return nil, err
	}
	x := &b.school
	x.mu.Lock()
	defer x.mu.Unlock()
	if err := b.catchUp(ctx, bench, whole); err != nil || x.lessons == nil {
		return nil, err
	}
	return x.lessons.Pack(), nil
}

// BookOpen tells whether the closed cases themselves have been read, and not only what they teach.
func (b *Bench) BookOpen() bool { return b.school.book != nil }

// ReadJars is what a process makes of jars it finds.
func ReadJars(lessons []byte, book ...[]byte) (lessonsOK, bookOK bool) {
	_, lessonsOK = readLessons(lessons)
	var jars []journal.Jar
	for i, data := range book {
		jars = append(jars, journal.Jar{Key: jarKey(i), Data: data})
	}
	_, _, _, bookOK = readBook(jars)
	return lessonsOK, bookOK
}

// Seal closes a jar of the lessons or of the book round any content.
func Seal(book bool, data []byte) []byte {
	if book {
		return sealed(bookForm, data)
	}
	return sealed(lessonsForm, data)
}
