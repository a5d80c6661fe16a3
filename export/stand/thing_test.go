package stand

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// hearth returns a wall with a chimney breast that stands out 320 mm and a bulkhead over all of it that
// stands out 350 mm, and a bench of 520 mm.
func hearth(t testing.TB) wall.Site {
	t.Helper()
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{{
		Name: "Long", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 6000, 2700),
		Obstructions: []wall.Obstruction{
			{Kind: wall.Chimney, Name: "breast", Shape: plane.Rectangle(plane.Point{X: 2000}, 1600, 1100), Depth: 320, Use: []wall.Side{wall.All}},
			{Kind: wall.Bulkhead, Name: "bulkhead", Shape: plane.Rectangle(plane.Point{Y: 2400}, 6000, 300), Depth: 350, Use: []wall.Side{wall.All}},
			{Kind: wall.Fixture, Name: "bench", Shape: plane.Rectangle(plane.Point{X: 4200}, 1600, 450), Depth: 520},
		},
	}}})
	require.NoError(t, err)
	return site
}

// faceOf returns the index of a face of the first wall by its name.
func faceOf(t testing.TB, site wall.Site, name string) int {
	t.Helper()
	i := slices.IndexFunc(site.Faces, func(f wall.Face) bool { return f.Name == name })
	require.GreaterOrEqual(t, i, 0, name)
	return i
}

// What stands out of the wall is worked at after the wall above it, whatever turn the way along the wall
// takes, and its top before its front.
func TestTheWallComesBeforeWhatStandsOutBelow(t *testing.T) {
	site := hearth(t)
	top, front := faceOf(t, site, "breast top"), faceOf(t, site, "breast front")
	var pieces []scatter.Piece
	for x := 300.0; x < 5900; x += 170 {
		pieces = append(pieces, scatter.Piece{At: plane.Point{X: x, Y: 1300}, Kind: 1, Heading: 90}, scatter.Piece{At: plane.Point{X: x, Y: 1900}, Kind: 1, Heading: 90})
	}
	for _, f := range []int{top, front} {
		b := site.Faces[f].Outline.Bounds()
		for x := b.Min.X + 100; x < b.Max.X; x += 200 {
			pieces = append(pieces, scatter.Piece{Face: f, At: plane.Point{X: x, Y: b.Centre().Y}, Kind: 1, Heading: 90})
		}
	}
	stands, err := Plan(workOf(t, site, pieces), UsualReach())
	require.NoError(t, err)
	pairs := 0
	for i, s := range stands {
		for _, later := range stands[i+1:] {
			if s.Access != later.Access || s.High >= later.High || site.Faces[s.Face].IsWall() {
				continue
			}
			a, b := across(site, s), across(site, later)
			assert.False(t, a.from < b.to && b.from < a.to, "stand %d is above stand %d, which hangs already", later.Number, s.Number)
		}
		if s.Face != 0 {
			pairs++
		}
	}
	assert.GreaterOrEqual(t, pairs, 4)
}

// A bulkhead that stands out more than what is below it is reached past that; a bench that stands out
// farther is in the way.
func TestWhatStandsOutLessThanTheWorkIsInNobodysWay(t *testing.T) {
	site := hearth(t)
	front := faceOf(t, site, "bulkhead front")
	b := site.Faces[front].Outline.Bounds()
	at := func(face int, x, y float64) scatter.Piece {
		return scatter.Piece{Face: face, At: plane.Point{X: x, Y: y}, Kind: 1, Heading: 90}
	}
	stands, err := Plan(workOf(t, site, []scatter.Piece{at(front, b.Min.X+2800, b.Centre().Y), at(front, b.Min.X+5000, b.Centre().Y), at(0, 2800, 1700)}), UsualReach())
	require.NoError(t, err)
	require.Len(t, stands, 3)
	names := map[int][]string{}
	for _, s := range stands {
		for _, thing := range s.Over {
			names[s.Pieces[0]] = append(names[s.Pieces[0]], thing.Name)
		}
		assert.Equal(t, 0, s.Same, "a ladder is moved")
	}
	assert.Equal(t, map[int][]string{2: {"bench"}, 3: {"breast"}}, names)
	stands, err = Plan(workOf(t, site, []scatter.Piece{at(0, 2800, 2250), at(0, 5000, 2250)}), UsualReach())
	require.NoError(t, err)
	require.Len(t, stands, 2)
	assert.Equal(t, []int{1}, stands[0].Pieces)
	assert.Equal(t, Platform, stands[0].Access, "a ladder has no room where the breast stands")
	assert.Equal(t, Ladder, stands[1].Access, "and has where the bench is moved")
}

// A platform under the ceiling line serves two places that are close together, and a ladder does not.
func TestOnePlatformServesPlacesCloseTogether(t *testing.T) {
	site := hearth(t)
	under := faceOf(t, site, "bulkhead underside")
	b := site.Faces[under].Outline.Bounds()
	var pieces []scatter.Piece
	for _, x := range []float64{100, 1000, 1600, 2500, 3700} {
		pieces = append(pieces, scatter.Piece{Face: under, At: plane.Point{X: b.Min.X + x, Y: b.Centre().Y}, Kind: 1, Heading: 90})
	}
	stands, err := Plan(workOf(t, site, pieces), Reach{Width: 300, Height: 2000, Ladder: 3000})
	require.NoError(t, err)
	require.Len(t, stands, 5)
	shared := 0
	for i, s := range stands {
		require.Equal(t, Platform, s.Access)
		if s.Same > 0 {
			shared++
			from := stands[s.Same-1]
			assert.Less(t, s.Same, i+1)
			assert.Zero(t, from.Same, "it counts from the stand that sets it up")
			assert.LessOrEqual(t, s.Place.Left-from.Place.Left, 750.0)
			assert.LessOrEqual(t, from.Place.Left-s.Place.Left, 750.0)
		}
	}
	assert.Equal(t, 1, shared, "only 1000 and 1600 are close")
}

// Beside the head of a stair a stand knows how far one can fall, and to which side.
func TestAStandBesideAnOpenStairKnowsOfIt(t *testing.T) {
	steps := plane.Ring{}
	for i := range 10 {
		x, y := 300*float64(i), 170*float64(i)
		steps = append(steps, plane.Point{X: x, Y: y}, plane.Point{X: x + 300, Y: y})
	}
	outline := append(steps, plane.Point{X: 3000, Y: 1700}, plane.Point{X: 8000, Y: 1700}, plane.Point{X: 8000, Y: 4500}, plane.Point{Y: 4500})
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{{Name: "Stair", Surface: wall.Plaster, Outline: outline}}})
	require.NoError(t, err)
	for _, tt := range []struct {
		x           float64
		left, right bool
	}{{7000, false, false}, {4200, true, false}, {900, true, false}} {
		stands, err := Plan(workOf(t, site, []scatter.Piece{{At: plane.Point{X: tt.x, Y: 4200}, Kind: 1, Heading: 90}}), UsualReach())
		require.NoError(t, err)
		foot := stands[0].Foot
		assert.Equal(t, tt.left, foot.Left > 0, "at %g", tt.x)
		assert.Equal(t, tt.right, foot.Right > 0, "at %g", tt.x)
		assert.LessOrEqual(t, foot.Left, foot.Height)
	}
}

// Before the wall at the head of a stair somebody on a ladder stands beside the stair itself, as long as
// that is near.
func TestAStandAcrossTheHeadOfAStairKnowsOfIt(t *testing.T) {
	up := plane.Ring{{X: 0, Y: 0}, {X: 3000, Y: 1700}, {X: 4000, Y: 1700}, {X: 4000, Y: 4500}, {X: 0, Y: 4500}}
	landing := plane.Ring{{X: 0, Y: 1700}, {X: 5000, Y: 1700}, {X: 5000, Y: 4500}, {X: 0, Y: 4500}}
	site, err := wall.Survey(wall.Room{Datum: 2900, Walls: []wall.Wall{
		{Name: "Stair", Surface: wall.Plaster, Outline: up, Turn: 90}, {Name: "Landing", Surface: wall.Plaster, Outline: landing},
	}})
	require.NoError(t, err)
	face, found := site.FaceByName("Landing", wall.WallFace)
	require.True(t, found)
	for x, near := range map[float64]bool{800: true, 4200: false} {
		stands, err := Plan(workOf(t, site, []scatter.Piece{{Face: face, At: plane.Point{X: x, Y: 4200}, Kind: 1, Heading: 90}}), UsualReach())
		require.NoError(t, err)
		foot := stands[0].Foot
		assert.Equal(t, near, foot.Out > 0, "at %g", x)
		assert.Zero(t, foot.Left, "the landing itself is level")
	}
}
