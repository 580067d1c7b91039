package memory_test

import (
	"testing"

	"fettler/internal/casework"
	"fettler/internal/store/memory"
	"fettler/internal/store/storetest"
)

func TestConformance(t *testing.T) {
	storetest.Run(t, func(t *testing.T) casework.Journal { return memory.New() })
}
