package main

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/examples"
)

func TestAPlanCanComeFromStandardInput(t *testing.T) {
	var out, errs bytes.Buffer
	assert.Equal(t, done, run([]string{"check", "-"}, strings.NewReader(starter), &out, &errs), errs.String())
	assert.Contains(t, out.String(), "all 90 pieces fit")

	out.Reset()
	assert.Equal(t, atFault, run([]string{"check", "-"}, strings.NewReader("title: x\n"), &out, &errs))
	assert.Contains(t, errs.String(), "standard input:1: room: is missing")
}

func TestNamesCannotMoveTheCursor(t *testing.T) {
	var out, errs bytes.Buffer
	assert.Equal(t, atFault, run([]string{"check", "hall\x1b[2J.yaml"}, nil, &out, &errs))
	assert.NotContains(t, errs.String(), "\x1b")
	assert.Equal(t, misused, run([]string{"\x1b[2J\u202e"}, nil, &out, &errs))
	assert.NotContains(t, errs.String(), "\x1b")
	assert.NotContains(t, errs.String(), "\u202e")

	plan := strings.Replace(starter, "name: Hall wall", `name: "Hall\e[2J wall"`, 1)
	assert.Equal(t, atFault, run([]string{"check", "-"}, strings.NewReader(plan), &out, &errs))
	assert.NotContains(t, errs.String(), "\x1b")
	assert.Empty(t, out.String())
}

// TestAHugeFileIsRefused hands over more than any plan may hold, and must not wait for all of it.
func TestAHugeFileIsRefused(t *testing.T) {
	var out, errs bytes.Buffer
	assert.Equal(t, atFault, run([]string{"check", "-"}, endless{}, &out, &errs))
	assert.Contains(t, errs.String(), "wallshoal: 1 fault in standard input\n")
}

// endless is a file that never ends.
type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '#'
	}
	return len(p), nil
}

func TestExamplesPromiseWhatTheyAskFor(t *testing.T) {
	for name, row := range map[string]struct{ plan, promise string }{
		"ferry":        {examples.Ferry, "all 440 pieces fit"},
		"reading room": {examples.ReadingRoom, "all 190 pieces fit"},
		"stair":        {examples.SchoolStair, "all 210 pieces fit"},
		"lobby":        {examples.HealthCentre, "all 420 pieces fit"},
	} {
		var out, errs bytes.Buffer
		assert.Equal(t, done, run([]string{"check", written(t, row.plan)}, nil, &out, &errs), "%s: %s", name, errs.String())
		assert.Contains(t, out.String(), row.promise, name)
		assert.Empty(t, errs.String(), name)
		assert.NotContains(t, out.String(), "stop:", "%s: no piece is where none may be", name)
	}
}
