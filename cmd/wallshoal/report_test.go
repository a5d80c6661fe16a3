package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

func TestVisibleTakesOutWhatMovesTheCursor(t *testing.T) {
	var out bytes.Buffer
	n, err := visible{&out}.Write([]byte("one\x1b[2J\ttwo\r\u009b\u202ethree\n"))
	assert.NoError(t, err)
	assert.Equal(t, len("one\x1b[2J\ttwo\r\u009b\u202ethree\n"), n)
	assert.Equal(t, "one\uFFFD[2J\ttwo\uFFFD\uFFFD\uFFFDthree\n", out.String())
}

func TestCounted(t *testing.T) {
	assert.Equal(t, "1 hole", counted(1, "hole"))
	assert.Equal(t, "0 holes", counted(0, "hole"))
	assert.Equal(t, "612 holes", counted(612, "hole"))
}

func TestIndented(t *testing.T) {
	long := strings.Repeat("fifteen letters ", 12)
	for line := range strings.Lines(indented(long)) {
		assert.Regexp(t, `^  \S.*\S\n$`, line)
		assert.LessOrEqual(t, len(line), 93)
	}
	assert.Equal(t, strings.Fields(long), strings.Fields(indented(long)), "no word is lost")
	assert.Equal(t, "  one word\n", indented(" one\nword "))
	assert.Equal(t, "  "+strings.Repeat("x", 200)+"\n", indented(strings.Repeat("x", 200)))
}

// A clock moves on by a step each time it is read.
func clock(step time.Duration) func() time.Time {
	at := time.Unix(0, 0)
	return func() time.Time {
		at = at.Add(step)
		return at
	}
}

func TestProgressShowsOnlyAfterASecond(t *testing.T) {
	var out bytes.Buffer
	m := &meter{out: &out, now: clock(300 * time.Millisecond)}
	m.Begin("pieces placed")
	for i := range 3 {
		m.Step(i, 40)
	}
	assert.Empty(t, out.String(), "work shorter than a second shows nothing")
	m.Step(30, 40)
	assert.Equal(t, "\r\x1b[Kpieces placed: 30 of 40", out.String())
	m.Clear()
	m.Clear()
	assert.Equal(t, "\r\x1b[Kpieces placed: 30 of 40\r\x1b[K", out.String(), "the line is taken away once")
}

func TestProgressKeepsToTenLinesASecond(t *testing.T) {
	var out bytes.Buffer
	m := &meter{out: &out, now: clock(10 * time.Millisecond)}
	m.Begin("pieces placed")
	for i := range 300 {
		m.Step(i, 300)
	}
	assert.LessOrEqual(t, bytes.Count(out.Bytes(), []byte("placed")), 21)
	assert.GreaterOrEqual(t, bytes.Count(out.Bytes(), []byte("placed")), 18)
}

func TestProgressIsForTerminalsOnly(t *testing.T) {
	var out bytes.Buffer
	m := newMeter(&out)
	m.now = clock(time.Minute)
	m.Begin("pieces placed")
	m.Step(1, 2)
	m.Clear()
	assert.Empty(t, out.String())
}
