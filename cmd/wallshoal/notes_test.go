package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// small is a plan of one piece on a wall of 4 by 2.7 m; what stands on the wall, and more walls,
// can be added.
func small(obstructions, walls string) string {
	return `title: One
units: mm
room:
  datum: 1500
  walls:
    - name: Wall
      length: 4000
      height: 2700
      surface: brick
` + obstructions + walls + `pieces:
  - name: Disc
    code: D
    outline: {ellipse: [60, 60]}
    holes:
      - {at: [0, 0], bit: 5, depth: 30, fixing: pin}
    stand-off: 5
composition:
  count: 1
  spacing: 100
`
}

// said returns what check says of a good plan.
func said(t *testing.T, plan string) string {
	t.Helper()
	var out, errs bytes.Buffer
	require.Equal(t, done, run([]string{"check", "-"}, strings.NewReader(plan), &out, &errs), errs.String())
	return strings.Join(strings.Fields(out.String()), " ")
}

func TestFlatThingsOverOneAnotherAreNoted(t *testing.T) {
	things := func(left, depth int) string {
		return fmt.Sprintf(`      obstructions:
        - {kind: door, left: 1000, bottom: 0, width: 900, height: 2050}
        - {kind: window, name: little window, left: %d, bottom: 1000, width: 500, height: 500, depth: %d}
        - {kind: cable, path: [[1000, 2300], [2000, 2300]], width: 20}
        - {kind: pipe, path: [[1500, 0], [1500, 2700]], width: 20}
`, left, depth)
	}
	assert.Contains(t, said(t, small(things(1800, 0), "")),
		"to look at: standard input:12: on Wall the little window lies over the door (line 11); one of their measures may be mistyped")
	for _, plan := range []string{
		small(things(1900, 0), ""), // side by side
		small(things(1800, 60), ""),
	} {
		assert.NotContains(t, said(t, plan), "to look at")
	}
}

func TestAWallThatTheDatumMissesIsNoted(t *testing.T) {
	const upper = `    - name: Upper wall
      outline: [[0, 1600], [2000, 1600], [2000, 2700], [0, 2700]]
      surface: brick
`
	assert.Contains(t, said(t, small("", upper)),
		"to look at: standard input:4: the datum of 1500 mm does not cross Upper wall, which reaches from 1600 mm to 2700 mm above the floor")
	assert.NotContains(t, said(t, small("", upper+"      use: false\n")), "to look at")
	assert.NotContains(t, said(t, small("", strings.ReplaceAll(upper, "1600", "1500"))), "to look at")
}

// The sheets that are told are those that will print.
func TestSheetsAreCountedBeforeTheyPrint(t *testing.T) {
	dir := packed(t, starter)
	pages := strings.TrimSpace(output(t, "qpdf", "--show-npages", filepath.Join(dir, "hole-map.pdf")))
	assert.Contains(t, said(t, starter), "the hole map takes "+pages+" sheets of A4")
}
