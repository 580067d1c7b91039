package memory_test

import (
	"testing"

	"fettler/internal/journal"
	"fettler/internal/store/memory"
	"fettler/internal/store/storetest"
)

func TestConformance(t *testing.T) {
	storetest.Run(t, func(t *testing.T) journal.Journal { return memory.New() })
}
