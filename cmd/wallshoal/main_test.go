package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// A sharedPack is a pack that several tests look at and none changes.
type sharedPack struct {
	once sync.Once
	dir  string // of the plan, with the pack in it; of no test, since the first to ask ends before the last
	err  error
}

var demonstration sharedPack

// demonstrated returns the folder of the pack of the demonstration, which is written once.
func demonstrated(t *testing.T) string {
	t.Helper()
	d := &demonstration
	d.once.Do(func() {
		if d.dir, d.err = os.MkdirTemp("", "demonstration"); d.err != nil {
			return
		}
		plan := filepath.Join(d.dir, "plan.yaml")
		if d.err = errors.Join(os.CopyFS(d.dir, examples.Files), os.WriteFile(plan, []byte(examples.Ferry), 0o666)); d.err != nil {
			return
		}
		var out, errs bytes.Buffer
		if run([]string{"pack", plan, "-o", filepath.Join(d.dir, "pack")}, nil, &out, &errs) != done {
			d.err = errors.New(errs.String())
		}
	})
	require.NoError(t, d.err)
	return filepath.Join(d.dir, "pack")
}

// TestMain lets garbage grow to four times what is in use: the tests draw many works, each small.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	code := m.Run()
	if demonstration.dir != "" {
		_ = os.RemoveAll(demonstration.dir)
	}
	os.Exit(code)
}

// rarely skips what takes long where another test sees most of it, unless CI=true asks for all.
func rarely(t *testing.T) {
	t.Helper()
	if os.Getenv("CI") != "true" {
		t.Skip("takes some seconds; CI=true runs it")
	}
}
