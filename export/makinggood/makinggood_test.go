package makinggood

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
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
	assert.Contains(t, b.String(), `| Hall \| wall | wall | plaster | 10 mm | 40 mm | 3 | 9.4 ml |`)
	assert.Contains(t, b.String(), "- Filler: 12 ml\n- To touch up: 0.004 m², a circle of 40 mm over every hole")
	l.Units, l.TouchUp = measure.Inch, 38.1
	b.Reset()
	require.NoError(t, WriteMarkdown(&b, l))
	assert.Contains(t, b.String(), "- Filler: 0.4 fl oz\n- To touch up: 0.04 sq ft, a circle of 1 1/2\" over every hole")
	for _, metric := range []string{" mm", " ml", "m²", "cm³"} {
		assert.NotContains(t, b.String(), metric)
	}
	_, err = Of(w, Settings{Waste: -1})
	assert.ErrorContains(t, err, "waste")
	_, err = Of(w, Settings{TouchUp: -1})
	assert.ErrorContains(t, err, "circle")
}

// A US gallon is 3.785 411 784 litres, and a square foot 0.092 903 04 m² (NIST Special Publication 811,
// Appendix B.8), so a quart is 946.35 ml and a fluid ounce 29.574 ml.
func TestUnitsThatPeopleBuy(t *testing.T) {
	for _, c := range []struct {
		cm3          float64
		metric, inch string
	}{
		{0, "0.0 ml", "0.00 fl oz"}, {1, "1.0 ml", "0.03 fl oz"}, {29.574, "30 ml", "1.0 fl oz"}, {9.96, "10 ml", "0.3 fl oz"},
		{946.4, "946 ml", "1.00 qt"}, {3785.42, "3.79 l", "1.00 gal"}, {999.9, "1.00 l", "1.06 qt"},
	} {
		assert.Equal(t, c.metric, Volume(c.cm3, measure.Millimetre))
		assert.Equal(t, c.inch, Volume(c.cm3, measure.Foot))
	}
	assert.Equal(t, "1.0 sq ft", Area(0.09290304, measure.Inch))
	assert.Equal(t, "0.25 sq ft", Area(0.02322576, measure.Inch))
	assert.Equal(t, "0.023 m²", Area(0.02322576, measure.Metre))
	assert.Equal(t, "24.05 m²", Area(24.05, measure.Centimetre))
	assert.Equal(t, 38.1, UsualIn(measure.Inch).TouchUp)
	assert.Equal(t, Usual(), UsualIn(measure.Metre))
}
