package folder_test

import (
	"os"
	"path/filepath"
	"testing"

	"fettler/internal/journal"
	"fettler/internal/store/folder"
	"fettler/internal/store/storetest"
)

func TestPhotos(t *testing.T) {
	storetest.Photos(t, func(t *testing.T) journal.Files { return folder.New(filepath.Join(t.TempDir(), "the pictures #1")) })
}

func TestAlteredFile(t *testing.T) {
	dir := t.TempDir()
	p := folder.New(dir)
	hash, err := p.Put(t.Context(), []byte("a picture"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, hash[:2], hash+".jpg"), []byte("a PICTURE"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := p.Get(t.Context(), hash); err == nil {
		t.Error("an altered picture was given out")
	}
	if again, err := p.Put(t.Context(), []byte("a picture")); err != nil || again != hash {
		t.Fatalf("put again: %q, %v", again, err)
	}
	if got, err := p.Get(t.Context(), hash); err != nil || string(got) != "a picture" {
		t.Errorf("what was damaged came back as %q, %v although it was put again", got, err)
	}
}
