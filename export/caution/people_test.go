package caution

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// How high people reach is a setting: the test sets it.
func TestPiecesThatPeopleGetAt(t *testing.T) {
	limits := UsualLimits()
	limits.Low, limits.LowOut, limits.SharpTo = 800, 15, 1800
	for _, tt := range []struct {
		name     string
		y        float64 // of the middle of a piece 100 mm high
		standOff float64
		sharp    bool
		want     string
	}{
		{"low and standing out", 849, 16, false, "low-piece"},
		{"low and flat", 849, 15, false, ""},
		{"just high enough", 851, 16, false, ""},
		{"sharp and low", 849, 16, true, "sharp-piece"},
		{"sharp and flat", 849, 1, true, "sharp-piece"},
		{"sharp where people pass", 1849, 1, true, "sharp-piece"},
		{"sharp over heads", 1851, 40, true, ""},
	} {
		kind := plate(100, 100)
		kind.StandOff, kind.Sharp = tt.standOff, tt.sharp
		r := Find(oneWall(4000, 2700, wall.Timber), []scatter.Kind{kind}, at(plane.Point{X: 500, Y: tt.y}), limits)
		for code, severity := range map[string]string{"low-piece": Note, "sharp-piece": Ask} {
			got := ofCode(r, code)
			if code != tt.want {
				assert.Empty(t, got, tt.name)
				continue
			}
			require.Len(t, got, 1, tt.name)
			assert.Equal(t, severity, got[0].Severity)
			assert.Contains(t, r.OfHole(1, 0), code)
		}
	}
}

func TestLowIsAboveTheFloorUnderThePiece(t *testing.T) {
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{Name: "Landing", Surface: wall.Timber, Outline: plane.Rectangle(plane.Point{Y: 2000}, 3000, 2500)}}})
	require.NoError(t, err)
	kind := plate(100, 100)
	kind.StandOff = 30
	r := find(site, kind, at(plane.Point{X: 500, Y: 2400}, plane.Point{X: 500, Y: 3400}))
	assert.True(t, slices.Contains(r.OfHole(1, 0), "low-piece"))
	assert.False(t, slices.Contains(r.OfHole(2, 0), "low-piece"))
}
