package memory_test

import (
	"testing"

	"fettler/internal/journal"
	"fettler/internal/store/memory"
	"fettler/internal/store/storetest"
)

func TestPhotos(t *testing.T) {
	storetest.Photos(t, func(*testing.T) journal.Files { return memory.NewPhotos() })
}
