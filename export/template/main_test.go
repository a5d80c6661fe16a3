package template_test

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain lets garbage grow to four times what is in use: the tests draw many works, each small.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
