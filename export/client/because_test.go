package client

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/caution"
)

// Two cautions speak of the same wall, and one hole is in both: three of two and two holes are said once as
// four. What somebody has decided about keeps its own figures.
func TestWallsAreNamedOnce(t *testing.T) {
	w := hall(t, caution.UsualLimits())
	for i := range w.Map.Holes {
		w.Map.Holes[i].Cautions = nil
	}
	for i, codes := range [][]string{{"height"}, {"height"}, {"height", "overhead"}, {"overhead"}} {
		w.Map.Holes[i].Cautions = codes
	}
	f := finder{work: w, sum: Summary{Cautions: []Caution{
		{Code: "height", Walls: []Where{{"Brick wall", 2, 3}}},
		{Code: "overhead", Walls: []Where{{"Brick wall", 1, 2}, {"Plaster wall", 1, 2}}},
		{Code: "overhead", Walls: []Where{{"Plaster wall", 1, 1}}, By: "warden"},
		{Code: "heat", Walls: []Where{{"Plaster wall", 1, 1}}},
	}}}
	found := f.because("Ladders can stand.", "Name", "height", "overhead")
	require.Len(t, found, 1)
	assert.Equal(t, "Brick wall (4 holes), Plaster wall (2 holes); Plaster wall (1 hole), decided by the warden", found[0].Why)
	assert.Empty(t, f.because("Nothing.", "", "none"))
}
