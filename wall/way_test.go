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

// sided is a wall with a chimney breast, a bulkhead over its right half and a niche, and the places
// of all their sides in the site.
func sided(t *testing.T) (wall.Site, func(face string) int) {
	t.Helper()
	breast := rect(wall.Chimney, 1000, 0, 1000, 2500, 0)
	breast.Name, breast.Depth = "breast", 300
	bulkhead := rect(wall.Bulkhead, 2500, 2200, 1500, 300, 0)
	bulkhead.Name, bulkhead.Depth = "bulkhead", 350
	niche := rect(wall.Niche, 3000, 1000, 600, 400, 0)
	niche.Name, niche.Depth = "niche", -200
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{boxWall(0, breast, bulkhead, niche)}})
	require.NoError(t, err)
	return site, func(face string) int {
		i, found := site.FaceByName("Wall", face)
		require.True(t, found, face)
		return i
	}
}

// Distances round a breast, under a bulkhead and into a niche, each by hand from how far the two
// places are from the corner between them: straight across inside corners, by Pythagoras; added up
// round outside ones.
func TestDistancesOnWhatStandsOnAWall(t *testing.T) {
	site, face := sided(t)
	ways := site.Ways()
	tests := []struct {
		from string
		p    plane.Point
		to   string
		q    plane.Point
		want float64
	}{
		{"wall", plane.Point{X: 960, Y: 1000}, "breast left return", plane.Point{X: 30, Y: 1000}, 50},
		{"breast left return", plane.Point{X: 270, Y: 1000}, "breast front", plane.Point{X: 40, Y: 1000}, 70},
		{"breast left return", plane.Point{X: 270, Y: 1000}, "breast front", plane.Point{X: 40, Y: 1024}, 74},
		{"breast front", plane.Point{X: 960, Y: 1000}, "breast right return", plane.Point{X: 30, Y: 1000}, 70},
		{"breast left return", plane.Point{X: 270, Y: 1000}, "breast right return", plane.Point{X: 30, Y: 1000}, 1060},
		{"breast right return", plane.Point{X: 270, Y: 1000}, "wall", plane.Point{X: 2040, Y: 1000}, 50},
		{"wall", plane.Point{X: 3000, Y: 2160}, "bulkhead underside", plane.Point{X: 500, Y: 30}, 50},
		{"bulkhead underside", plane.Point{X: 500, Y: 320}, "bulkhead front", plane.Point{X: 500, Y: 40}, 70},
		{"bulkhead left return", plane.Point{X: 320, Y: 100}, "bulkhead front", plane.Point{X: 40, Y: 100}, 70},
		{"bulkhead left return", plane.Point{X: 100, Y: 30}, "bulkhead underside", plane.Point{X: 40, Y: 100}, 70},
		{"wall", plane.Point{X: 2960, Y: 1200}, "niche left reveal", plane.Point{X: 30, Y: 200}, 70},
		{"niche left reveal", plane.Point{X: 170, Y: 200}, "niche back", plane.Point{X: 40, Y: 200}, 50},
		{"niche back", plane.Point{X: 300, Y: 360}, "niche head", plane.Point{X: 300, Y: 30}, 50},
		{"wall", plane.Point{X: 3300, Y: 1440}, "niche head", plane.Point{X: 300, Y: 170}, 70},
		{"wall", plane.Point{X: 3300, Y: 960}, "niche sill", plane.Point{X: 300, Y: 30}, 70},
		{"niche sill", plane.Point{X: 30, Y: 100}, "niche left reveal", plane.Point{X: 100, Y: 40}, 50},
		{"wall", plane.Point{X: 2000, Y: 1000}, "breast front", plane.Point{X: 1000, Y: 1000}, 300},
	}
	for _, tt := range tests {
		got := ways.Apart(face(tt.from), tt.p, face(tt.to), tt.q)
		assert.InDelta(t, tt.want, got, 1e-6, "%s %v to %s %v", tt.from, tt.p, tt.to, tt.q)
		assert.InDelta(t, got, ways.Apart(face(tt.to), tt.q, face(tt.from), tt.p), 1e-6)
	}
}

// Every side of a thing joins its front along an outside corner and what the thing stands on along
// an inside one; of a recess it is the other way about.
func TestSidesJoin(t *testing.T) {
	site, face := sided(t)
	ways := site.Ways()
	for _, tt := range []struct {
		side, to  string
		outside   bool
		a, b      plane.Point // ends of the corner, either way round
		ofQuarter float64     // quarter turns through the air
	}{
		{"breast left return", "wall", false, plane.Point{}, plane.Point{Y: 2500}, 1},
		{"breast left return", "breast front", true, plane.Point{X: 300}, plane.Point{X: 300, Y: 2500}, 3},
		{"breast right return", "breast front", true, plane.Point{}, plane.Point{Y: 2500}, 3},
		{"breast right return", "wall", false, plane.Point{X: 300}, plane.Point{X: 300, Y: 2500}, 1},
		{"bulkhead underside", "wall", false, plane.Point{}, plane.Point{X: 1500}, 1},
		{"bulkhead underside", "bulkhead front", true, plane.Point{Y: 350}, plane.Point{X: 1500, Y: 350}, 3},
		{"niche sill", "wall", true, plane.Point{}, plane.Point{X: 600}, 3},
		{"niche sill", "niche back", false, plane.Point{Y: 200}, plane.Point{X: 600, Y: 200}, 1},
		{"niche head", "niche back", false, plane.Point{}, plane.Point{X: 600}, 1},
		{"niche left reveal", "wall", true, plane.Point{}, plane.Point{Y: 400}, 3},
		{"niche right reveal", "niche back", false, plane.Point{}, plane.Point{Y: 400}, 1},
	} {
		found := false
		for _, j := range ways.Joins(face(tt.side)) {
			if j.To != face(tt.to) {
				continue
			}
			found = true
			assert.Equal(t, tt.outside, j.Outside, "%s, %s", tt.side, tt.to)
			assert.InDelta(t, tt.ofQuarter*math.Pi/2, j.Angle, 1e-9)
			ends := math.Min(j.A.Distance(tt.a)+j.B.Distance(tt.b), j.A.Distance(tt.b)+j.B.Distance(tt.a))
			assert.InDelta(t, 0, ends, 1e-6, "%s, %s: %v %v", tt.side, tt.to, j.A, j.B)
		}
		assert.True(t, found, "%s meets %s", tt.side, tt.to)
	}
}
