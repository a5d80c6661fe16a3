package makinggood

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// Worked by hand: a wall of 4 × 2.5 m with a window of 1 × 1 m; three holes of 10 mm, 40 deep, hold
// 3 · π/4 · 1 cm² · 4 cm = 9.42 cm³, with a quarter more 11.78; three circles of 40 mm are
// 3 · 12.566 cm² = 0.0038 m²; 10 - 1 m² are repainted.
func TestOneWall(t *testing.T) {
	site, err := wall.Survey(wall.Room{Datum: 1500, Walls: []wall.Wall{{
		Name: "Hall | wall", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 4000, 2500),
		Obstructions: []wall.Obstruction{{Kind: wall.Window, Name: "window", Shape: plane.Rectangle(plane.Point{X: 2500, Y: 900}, 1000, 1000)}},
	}}})
	require.NoError(t, err)
	w := holemap.Work{Title: "Work", Site: site, Kinds: []scatter.Kind{{
		Name: "Leaf", Code: "A", Outline: plane.Rectangle(plane.Point{X: -20, Y: -20}, 40, 40),
		Holes: []scatter.Hole{{Bit: 10, Depth: 40, Fixing: "plug"}},
	}}}
	for i := range 3 {
		w.Layout.Pieces = append(w.Layout.Pieces, scatter.Piece{ID: i + 1, At: plane.Point{X: 500 + 300*float64(i), Y: 1500}})
	}
	w.Map, err = holemap.Make(site, w.Kinds, w.Layout)
	require.NoError(t, err)
	l, err := Of(w, Usual())
	require.NoError(t, err)
	require.Len(t, l.Faces, 1)
	assert.Equal(t, []Way{{10, 40, 3, 9.42}}, l.Faces[0].Ways)
	assert.Equal(t, 11.78, l.Filler)
	assert.Equal(t, 0.0038, l.Touched)
	assert.Equal(t, 9.0, l.Repainted)
	assert.Equal(t, []Counted{{"plug", 3}}, l.Fixings)
	assert.Equal(t, []Piece{{"A", "Leaf", 3}}, l.Pieces)
	var b bytes.Buffer
	require.NoError(t, WriteMarkdown(&b, l))
	assert.Contains(t, b.String(), `| Hall \| wall | wall | plaster | 10 | 40 | 3 | 9.42 |`)
	_, err = Of(w, Settings{Waste: -1})
	assert.ErrorContains(t, err, "waste")
	_, err = Of(w, Settings{TouchUp: -1})
	assert.ErrorContains(t, err, "circle")
}
