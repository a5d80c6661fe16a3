package plan_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/cmd/wallshoal/plan"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
)

// arranged says everything of a composition's headings, mixing and seating.
const arranged = "spacing: 95\n" + `  overlap: 20 %
  strays: 4 %
  second: {turn: 150, share: 0.12}
  differ: 20.5
  mix: {families: 5}
  seating: {move: 1.5 cm, turn: 8, holes: 40}`

func TestArrangement(t *testing.T) {
	read := func(lines string) scatter.Composition {
		p, err := plan.Read("p.yaml", []byte(strings.Replace(sound, "spacing: 95", lines, 1)))
		require.NoError(t, err)
		return p.Composition
	}
	c := read(arranged)
	assert.Equal(t, heading.Scheme{Spread: 12, Strays: 0.04, Second: heading.Second{Turn: 150, Share: 0.12}, Apart: 20.5}, c.Headings)
	assert.Equal(t, mixing.Scheme{Way: mixing.Families, Size: 5}, c.Mixing)
	assert.Equal(t, scatter.Seating{Move: 15, Turn: 8, Holes: 40}, c.Seating)
	assert.Equal(t, []float64{0.2, 0}, []float64{c.Overlap, c.Gap}, "an overlap is in place of a gap")

	c = read("spacing: 95")
	assert.Equal(t, heading.Scheme{Spread: 12}, c.Headings)
	assert.Equal(t, mixing.Scheme{Way: mixing.Scattered}, c.Mixing)
	assert.Equal(t, scatter.Seating{Move: 20, Turn: 10}, c.Seating)
	assert.Equal(t, []float64{0, 5}, []float64{c.Overlap, c.Gap})

	c = read("spacing: 95\n  overlap: 0\n  gap: 3\n  mix: Drifting\n  seating: {move: 0}")
	assert.Equal(t, mixing.Scheme{Way: mixing.Drifting}, c.Mixing)
	assert.Equal(t, scatter.Seating{Turn: 10}, c.Seating)
	assert.Equal(t, []float64{0, 3}, []float64{c.Overlap, c.Gap})
	assert.Equal(t, 20.0, read("spacing: 95\n  overlap: 0.3").Seating.Holes, "where pieces overlap, holes keep off one another")
}

func TestFaultsOfAnArrangement(t *testing.T) {
	for _, tt := range []struct{ lines, want string }{
		{"▶overlap: 1", "composition.overlap: 1 is not a share that may be covered; give 0 or more, below 1, like 0.2 or 20 %"},
		{"▶overlap: 20", "composition.overlap: 20 is not a share that may be covered; write 20 % if it is meant per cent, or a number from 0 to 1"},
		{"overlap: 20 %\n  ▶gap: 3", "composition.gap: stands beside an overlap; keep one of them"},
		{"▶strays: -5 %", "composition.strays: -5 % is not a share of strays; give a number from 0 to 1, or per cent, like 20 %"},
		{"▶second: 150", "composition.second: is a single value; write keys and values on the lines below it"},
		{"▶second: {turn: 150}", "composition.second.share: is missing; give turn and share, like {turn: 150, share: 10 %}"},
		{"second: {▶turn: 361, share: 10 %}", "composition.second.turn: 361 is not a turn from the flow; give a number from -360 to 360"},
		{"strays: 60 %\n  second: {turn: 90, ▶share: 50 %}", "composition.second.share: it and the strays come to 1.1; give shares that come to 1 at most"},
		{"▶differ: 200", "composition.differ: 200 is not a difference between headings; give a number from 0 to 180"},
		{"▶mix: stirred", `composition.mix: "stirred" is not a way to mix; write one of scattered, drifting, families`},
		{"▶mix: driftin", `composition.mix: "driftin" is not a way to mix; did you mean drifting?`},
		{"▶mix: families", "composition.mix: says no size of families; write mix: {families: 5}, or another number of pieces"},
		{"mix: {▶families: 1}", `composition.mix.families: "1" is not a number of pieces in a family; give a whole number from 2 to 1000`},
		{"mix: {▶family: 5}", "composition.mix.family: is not a known key; known here: families"},
		{"▶mix: {}", "composition.mix: names no way; give the number of pieces in a family, like {families: 5}"},
		{"▶mix: [drifting]", "composition.mix: is a list; write one of scattered, drifting, families"},
		{"seating: {▶move: 1001}", "composition.seating.move: 1001 mm is too much for a move; give at most 1000 mm"},
		{"seating: {▶turn: -1}", "composition.seating.turn: -1 is not a turn; give a number from 0 to 180"},
		{"seating: {▶holes: 2 m}", "composition.seating.holes: 2000 mm is too much for a distance between holes; give at most 1000 mm"},
		{"seating: {▶hole: 2}", "composition.seating.hole: is not a known key; did you mean holes?"},
	} {
		t.Run(tt.lines, func(t *testing.T) {
			text, line := change(t, []string{"spacing: 95", "spacing: 95\n  " + tt.lines})
			_, err := plan.Read("p.yaml", []byte(text))
			assert.EqualError(t, err, fmt.Sprintf("p.yaml:%d: %s", line, tt.want))
		})
	}
}
