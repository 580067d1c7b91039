package memory_test

import (
	"testing"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/store/storetest"
)

func TestPhotos(t *testing.T) {
	storetest.Photos(t, func(*testing.T) casework.Photos { return memory.NewPhotos() })
}
