package holemap

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// furnished returns a room of two walls, one of them with a sloping top, with things on both.
func furnished(t testing.TB) wall.Site {
	t.Helper()
	box := func(kind wall.ObstructionKind, x, y, w, h, depth float64) wall.Obstruction {
		return wall.Obstruction{
			Kind: kind, Name: string(kind), Clearance: 30, Depth: depth,
			Shape: plane.Rectangle(plane.Point{X: x, Y: y}, w, h),
		}
	}
	site, err := wall.Survey(wall.Room{Datum: 1450, Walls: []wall.Wall{
		{
			Name: "Left", Turn: 90, Surface: wall.Plasterboard, Margin: 40,
			Outline: plane.Rectangle(plane.Point{}, 4000, 2600),
			Obstructions: []wall.Obstruction{
				box(wall.Fireplace, 1400, 0, 900, 800, 0), box(wall.Bulkhead, 0, 2400, 4000, 200, 300),
				box(wall.Socket, 300, 250, 146, 86, 0), box(wall.ExitSign, 3000, 2100, 300, 150, 0),
			},
		},
		{
			Name: "Right", Surface: wall.Brick, Margin: 40,
			Outline:      plane.Ring{{}, {X: 3000}, {X: 3000, Y: 2600}, {X: 1500, Y: 3400}, {Y: 2600}},
			Obstructions: []wall.Obstruction{box(wall.Door, 1800, 0, 900, 2050, 0), box(wall.Switch, 1650, 1150, 86, 86, 0)},
		},
	}})
	require.NoError(t, err)
	return site
}

func laid(t *testing.T, site wall.Site, ks []scatter.Kind, count int) scatter.Layout {
	t.Helper()
	layout, err := scatter.Lay(context.Background(), site, ks, scatter.Composition{
		Count: count, Spacing: 130, Gap: 4, Headings: heading.Scheme{Spread: 40}, Flow: flow.Field{flow.Sweep{Strength: 1}},
	}, 11, nil)
	require.NoError(t, err)
	return layout
}

func composed() []scatter.Kind {
	ks := kinds()
	for i := range ks {
		ks[i].Share = 1
	}
	ks[1].Combustible, ks[1].StandOff = true, 30
	return ks
}

func TestEveryHoleOfALayoutMayBeDrilled(t *testing.T) {
	site, ks := furnished(t), composed()
	layout := laid(t, site, ks, 60)
	m, err := Make(site, ks, layout)
	require.NoError(t, err)
	require.Greater(t, len(m.Holes), 60)
	type load struct{ face, kind int }
	drill := map[load]plane.Region{}
	for _, h := range m.Holes {
		l := load{h.Face, h.Kind}
		if _, known := drill[l]; !known {
			drill[l], err = site.Faces[h.Face].DrillFor(ks[h.Kind].Load())
			require.NoError(t, err)
		}
		assert.True(t, drill[l].Contains(h.At), "hole %d at %v", h.Number, h.At)
		assert.NotContains(t, h.Cautions, "not-free")
		assert.NotContains(t, h.Cautions, "off-face")
	}
	for _, c := range m.Cautions {
		assert.NotEqual(t, "stop", c.Severity, "a composed layout needs no moving: %s", c.Text)
	}
}

func TestEveryCautionOnAHoleIsInTheList(t *testing.T) {
	site, ks := furnished(t), composed()
	m, err := Make(site, ks, laid(t, site, ks, 60))
	require.NoError(t, err)
	rows := map[string]int{} // by face and code
	flagged := 0
	for _, h := range m.Holes {
		assert.True(t, slices.IsSorted(h.Cautions))
		for _, code := range h.Cautions {
			rows[site.Room.Walls[site.Faces[h.Face].Wall].Name+"/"+site.Faces[h.Face].Name+"/"+code]++
			flagged++
		}
	}
	require.Positive(t, flagged, "the room gives reason for cautions")

	most, sum := map[string]int{}, map[string]int{}
	for _, c := range m.Cautions {
		if c.Face == "" {
			continue
		}
		key := c.Wall + "/" + c.Face + "/" + c.Code
		most[key] = max(most[key], c.Holes)
		sum[key] += c.Holes
	}
	assert.Len(t, rows, len(sum))
	for key, n := range rows {
		assert.GreaterOrEqual(t, n, most[key], key)
		assert.LessOrEqual(t, n, sum[key], key)
	}
}

func TestAPieceThatAPersonMovedIntoTheWayIsFlagged(t *testing.T) {
	site, ks := furnished(t), composed()
	layout := laid(t, site, ks, 40)
	at := slices.IndexFunc(layout.Pieces, func(p scatter.Piece) bool { return p.Face == 0 })
	require.GreaterOrEqual(t, at, 0)
	layout.Pieces[at].At = plane.Point{X: 1850, Y: 400} // in the fire
	m, err := Make(site, ks, layout)
	require.NoError(t, err)
	for _, h := range m.Holes {
		if h.Piece == layout.Pieces[at].ID {
			assert.Contains(t, h.Cautions, "on-obstruction")
		}
	}
	assert.Equal(t, "stop", m.Cautions[0].Severity)
}

func BenchmarkMake20000Pieces(b *testing.B) {
	site := furnished(b)
	l := scatter.Layout{}
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range 20_000 {
		l.Pieces = append(l.Pieces, scatter.Piece{
			ID: i + 1, Kind: rng.IntN(2), Face: rng.IntN(2), Heading: heading.Bearing(rng.IntN(36000)) / 100,
			At: plane.Point{X: 3000 * rng.Float64(), Y: 2600 * rng.Float64()}.Snap(100),
		})
	}
	ks := composed()
	for b.Loop() {
		_, err := Make(site, ks, l)
		require.NoError(b, err)
	}
}
