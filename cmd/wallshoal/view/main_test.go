package view

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain lets garbage grow to four times what is in use, since the tests compose many works, each small, and ends the browser
// that they share.
func TestMain(m *testing.M) {
	debug.SetGCPercent(300)
	code := m.Run()
	browser.end()
	os.Exit(code)
}

// rarely skips what takes long and is a matter of one corner of the page, unless CI=true asks for all.
func rarely(t *testing.T) {
	t.Helper()
	if os.Getenv("CI") != "true" {
		t.Skip("CI=true tries it")
	}
}
