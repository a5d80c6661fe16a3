package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/examples"
)

// A heard writer passes on what is written to it.
type heard chan string

func (h heard) Write(p []byte) (int, error) {
	h <- string(p)
	return len(p), nil
}

// shownAt runs view on a plan without a browser until end is called, which returns what it said beside the address.
func shownAt(t *testing.T, path string) (address string, end func() string) {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	out, ended := make(heard, 1), make(chan error, 1)
	var errs bytes.Buffer
	go func() { ended <- desk{out: out, errs: &errs, now: time.Now}.view(ctx, path, "", "", false) }()
	select {
	case said := <-out:
		_, said, _ = strings.Cut(said, "http://")
		address, _, _ = strings.Cut(said, "/")
	case err := <-ended:
		stop()
		require.NoError(t, err)
	}
	return address, func() string {
		stop()
		require.NoError(t, <-ended)
		return errs.String()
	}
}

// A plan is at the same address every time; where something else is there, one line says so, and nothing does otherwise.
func TestWhereAPlanIsViewed(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, examples.Files))
	path := filepath.Join(dir, "reading-room.yaml")
	usual, end := shownAt(t, path)
	other, endOther := shownAt(t, path)
	assert.NotEqual(t, usual, other)
	said := endOther()
	assert.Contains(t, said, usual)
	assert.Contains(t, said, "ticks that wait in a browser are sent once it is free again")
	assert.Equal(t, 1, strings.Count(said, "\n"), said)
	assert.Empty(t, end())
	again, end := shownAt(t, path)
	assert.Equal(t, usual, again)
	assert.Empty(t, end())
}
