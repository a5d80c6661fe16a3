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

func TestHolesThatComeThroughAWall(t *testing.T) {
	limits := UsualLimits()
	limits.FarCover = 20
	kind := plate(60, 60)
	for _, tt := range []struct {
		thickness, depth float64
		behind           wall.Behind
		says             string // empty for nothing
	}{
		{100, 80, "", ""},
		{100, 80.5, "", "Holes leave less than 20 mm of the 100.0 mm of wall here"},
		{100, 100, "", "Holes leave less than 20 mm"},
		{100, 100.5, "", "Holes deeper than 100.0 mm come out on the other side."},
		{100, 101, wall.BehindWet, "come out on the other side, through tiles and what keeps the water out."},
		{100, 101, wall.BehindOutside, "come out on the other side, and let the weather in."},
		{0, 300, "", ""},
	} {
		kind.Holes[0].Depth = tt.depth
		site := oneWall(4000, 2700, wall.Brick)
		site.Room.Walls[0].Thickness, site.Room.Walls[0].Behind = tt.thickness, tt.behind
		got := ofCode(Find(site, []scatter.Kind{kind}, at(plane.Point{X: 500, Y: 500}), limits), "comes-through")
		if tt.says == "" {
			assert.Empty(t, got, "%+v", tt)
			continue
		}
		require.Len(t, got, 1, "%+v", tt)
		assert.Equal(t, Ask, got[0].Severity)
		assert.Contains(t, got[0].Text, tt.says)
	}
}

// Before the back of a niche there is less wall, before the front of a pier more, and a hole in the side
// of either runs along the wall.
func TestHowMuchWallThereIsBehindAFace(t *testing.T) {
	thing := func(kind wall.ObstructionKind, name string, x, depth float64) wall.Obstruction {
		return wall.Obstruction{Kind: kind, Name: name, Shape: plane.Rectangle(plane.Point{X: x, Y: 500}, 800, 1000), Depth: depth, Use: []wall.Side{wall.All}}
	}
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{
		Name: "Wall", Surface: wall.Brick, Thickness: 215, Outline: plane.Rectangle(plane.Point{}, 4000, 2700),
		Obstructions: []wall.Obstruction{thing(wall.Column, "pier", 500, 100), thing(wall.Niche, "niche", 2000, -120)},
	}}})
	require.NoError(t, err)
	g := gather(site, UsualLimits())
	for i, f := range site.Faces {
		mm, known := g.solid(i)
		switch f.Name {
		case wall.WallFace:
			assert.InDelta(t, 215, mm, 1e-6)
		case "pier front":
			assert.InDelta(t, 315, mm, 1e-6)
		case "niche back":
			assert.InDelta(t, 95, mm, 1e-6)
		default:
			assert.False(t, known, f.Name)
		}
	}
}

func TestWhatLiesBehindAWall(t *testing.T) {
	for _, tt := range []struct {
		behind    wall.Behind
		thickness float64
		listed    bool
		severity  string // empty for nothing
		says      string
	}{
		{"", 95, false, "", ""},
		{wall.BehindRoom, 95, false, Ask, "A room lies behind, and this wall is only 95 mm thick: cables to its switches and sockets run in it too"},
		{wall.BehindRoom, 95, true, "", ""},
		{wall.BehindRoom, 215, false, "", ""},
		{wall.BehindRoom, 0, false, "", ""},
		{wall.BehindWet, 215, false, Ask, "A wet room lies behind"},
		{wall.BehindPlant, 215, false, Ask, "A plant room lies behind"},
		{wall.BehindUnknown, 0, false, Ask, "Nobody knows what lies behind"},
		{wall.BehindOutside, 215, false, Note, "Outside lies behind"},
	} {
		site := oneWall(4000, 2700, wall.Brick)
		w := &site.Room.Walls[0]
		w.Behind, w.Thickness = tt.behind, tt.thickness
		if tt.listed {
			w.FarSide = []wall.Obstruction{{Kind: wall.Socket}}
		}
		got := ofCode(find(site, plate(60, 60), at(plane.Point{X: 500, Y: 500})), "behind")
		if tt.severity == "" {
			assert.Empty(t, got, "%+v", tt)
			continue
		}
		require.Len(t, got, 1, "%+v", tt)
		assert.Equal(t, tt.severity, got[0].Severity)
		assert.Contains(t, got[0].Text, tt.says)
	}
	assert.Len(t, wall.Behinds(), 5, "each of them is above")
}

func TestWhatIsOnTheOtherSideIsNamed(t *testing.T) {
	basin := wall.Obstruction{Kind: wall.Fixture, Name: "wash basin", Shape: plane.Rectangle(plane.Point{X: 1000, Y: 500}, 600, 300), Clearance: 50}
	for thickness, want := range map[float64]int{90: 1, 0: 1, 215: 0} {
		site := builtWall(t, wall.Brick, func(w *wall.Wall) { w.Thickness, w.FarSide = thickness, []wall.Obstruction{basin} })
		r := find(site, plate(60, 60), at(plane.Point{X: 960, Y: 600}, plane.Point{X: 940, Y: 600}))
		got := ofCode(r, wall.FarSideCode)
		require.Len(t, got, want, "%g mm", thickness)
		assert.Equal(t, want == 1, slices.Contains(r.OfHole(1, 0), wall.FarSideCode))
		assert.NotContains(t, r.OfHole(2, 0), wall.FarSideCode)
		if want > 0 {
			assert.Contains(t, got[0].Text, "Where: wash basin. See how it is fixed")
		}
	}
}

func TestGlassIsAskedAboutForEveryHole(t *testing.T) {
	r := find(oneWall(4000, 2700, wall.Glass), plate(60, 60), at(plane.Point{X: 500, Y: 500}, plane.Point{X: 900, Y: 500}))
	got := ofCode(r, "glass")
	require.Len(t, got, 1)
	assert.Equal(t, [2]any{Ask, 2}, [2]any{got[0].Severity, got[0].Holes})
	assert.True(t, slices.Contains(r.OfHole(2, 0), "glass"))
	assert.Len(t, ofCode(r, "mineral-dust"), 1)
	assert.Empty(t, ofCode(find(oneWall(4000, 2700, wall.Tile), plate(60, 60), at(plane.Point{X: 500, Y: 500})), "glass"))
}
