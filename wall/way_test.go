package wall_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// row is plain walls of 1000 x 2000 mm one after the other, with the turns between them.
func row(t *testing.T, turns ...float64) wall.Site {
	t.Helper()
	var room wall.Room
	for i := range len(turns) + 1 {
		w := wall.Wall{Name: string(rune('a' + i)), Surface: wall.Brick, Outline: plane.Rectangle(plane.Point{}, 1000, 2000)}
		if i < len(turns) {
			w.Turn = turns[i]
		}
		room.Walls = append(room.Walls, w)
	}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	return site
}

// Distances across a corner, by right triangles: 30 and 40 mm from it at one height are 50 apart
// across an inside corner, 70 along the surface of an outside one, and with a step of 24 in height
// √(70² + 24²) = 74 there.
func TestDistanceAcrossACorner(t *testing.T) {
	p, q := plane.Point{X: 970, Y: 1000}, plane.Point{X: 40, Y: 1000}
	inside := row(t, 90).Ways()
	assert.InDelta(t, 50, inside.Apart(0, p, 1, q), 1e-9)
	outside := row(t, -90).Ways()
	assert.InDelta(t, 70, outside.Apart(0, p, 1, q), 1e-9)
	assert.InDelta(t, 74, outside.Apart(0, p, 1, plane.Point{X: 40, Y: 1024}), 1e-9)
	assert.InDelta(t, 70, row(t, 0).Ways().Apart(0, p, 1, q), 1e-9)
}

func TestDistanceIsTheSameBothWays(t *testing.T) {
	for _, turns := range [][]float64{{90, 90}, {-90, -90}, {-45, 30}, {-120, -60}, {90, -90}} {
		ways := row(t, turns...).Ways()
		for _, p := range []plane.Point{{X: 10, Y: 10}, {X: 950, Y: 1999}, {X: 480, Y: 1200}} {
			for _, q := range []plane.Point{{X: 7, Y: 0}, {X: 500, Y: 700}} {
				for i := range 3 {
					for j := range 3 {
						back := ways.Apart(j, q, i, p)
						if got := ways.Apart(i, p, j, q); !math.IsInf(got, 1) || !math.IsInf(back, 1) {
							assert.InDelta(t, back, got, 1e-9)
						}
					}
				}
			}
		}
	}
}

// Round a pier of three faces the back ones are measured over the middle one: 30 + 1000 + 40.
func TestDistanceRoundAPier(t *testing.T) {
	ways := row(t, -90, -90).Ways()
	assert.InDelta(t, 1070, ways.Apart(0, plane.Point{X: 970, Y: 5}, 2, plane.Point{X: 40, Y: 5}), 1e-9)
}

func TestJoins(t *testing.T) {
	for _, tt := range []struct{ turn, between float64 }{{90, 90}, {-90, 270}, {60, 120}, {-30, 210}} {
		joins := row(t, tt.turn).Ways().Joins(0)
		require.Len(t, joins, 1)
		j := joins[0]
		assert.Equal(t, 1, j.To)
		assert.Equal(t, tt.turn < 0, j.Outside)
		assert.InDelta(t, tt.between*math.Pi/180, j.Angle, 1e-9)
		assert.InDelta(t, 2000, j.A.Distance(j.B), 1e-9)
		assert.InDelta(t, 1000, j.A.X, 1e-9)
		got := j.Fold.Apply(plane.Point{X: 990, Y: 300})
		assert.InDelta(t, -10, got.X, 1e-9)
		assert.InDelta(t, 300, got.Y, 1e-9)
	}
}
