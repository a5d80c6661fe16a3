package wall_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Open is the wall within its margin, less what carries pieces of its own with its clearance; what
// only stands in the way is taken off Free alone.
func TestOpenEndsAtEdgesAndAtWhatCarriesPieces(t *testing.T) {
	breast := wall.Obstruction{
		Kind: wall.Chimney, Name: "breast", Shape: plane.Rectangle(plane.Point{X: 1000}, 1000, 2500), Depth: 300, Clearance: 40,
	}
	shelf := wall.Obstruction{
		Kind: wall.Shelf, Name: "shelf", Shape: plane.Rectangle(plane.Point{X: 2500, Y: 1000}, 800, 50), Depth: 200, Clearance: 10,
	}
	window := wall.Obstruction{Kind: wall.Window, Name: "window", Shape: plane.Rectangle(plane.Point{X: 200, Y: 900}, 500, 900)}
	for _, use := range [][]wall.Side{nil, {wall.Front}} {
		breast.Use = use
		site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{
			Name: "only", Surface: wall.Plaster, Margin: 50, Outline: plane.Rectangle(plane.Point{}, 4000, 2500),
			Obstructions: []wall.Obstruction{breast, shelf, window},
		}}})
		require.NoError(t, err)
		for _, f := range site.Faces {
			assert.Equal(t, f.Used, !f.Open().Empty(), f.Name)
			if over, err := f.Free().Difference(f.Open()); assert.NoError(t, err) {
				assert.Zero(t, over.Area(), "free is a part of open")
			}
		}
		want := 3900.0 * 2400
		if use != nil {
			want -= 1080 * 2400
		}
		assert.InDelta(t, want, site.Faces[0].Open().Area(), 1)
		assert.Less(t, site.Faces[0].Free().Area(), want-900*500)
	}
}

// A screen that carries pieces and stands against a wall is run over like a return; a bare one is in
// the way.
func TestOpenEndsAtAScreenThatCarriesPieces(t *testing.T) {
	for _, bare := range []bool{false, true} {
		site, err := wall.Survey(wall.Room{Walls: []wall.Wall{
			{Name: "wall", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 4000, 2500)},
			{
				Name: "screen", Surface: wall.Timber, Bare: bare, Outline: plane.Rectangle(plane.Point{}, 1500, 2000),
				Alone: &wall.Stand{At: &plane.Point{X: 2000, Y: -1500}, Angle: -90, Thickness: 60},
			},
		}})
		require.NoError(t, err)
		want := 4000.0 * 2500
		if !bare {
			want -= 60 * 2000
		}
		assert.InDelta(t, want, site.Faces[0].Open().Area(), 1)
		assert.InDelta(t, 4000*2500-60*2000, site.Faces[0].Free().Area(), 1)
	}
}
