package scatter_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter"
	"wallshoal/scatter/flow"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A sweep to the right over a wall with a cabinet in the middle: the pieces that
// meet its near end turn up and down before it, the ones above and below it go by, and at the
// wall's own ends all of them head as they would without it.
func TestPiecesGoRoundWhatIsInTheWay(t *testing.T) {
	room := wall.Room{Datum: 1500, Walls: []wall.Wall{{
		Name: "only", Surface: wall.Plaster, Margin: 30,
		Outline: plane.Rectangle(plane.Point{}, 5000, 2600),
		Obstructions: []wall.Obstruction{{
			Kind: wall.Fixture, Name: "cabinet", Shape: plane.Rectangle(plane.Point{X: 2000, Y: 900}, 1000, 800),
		}},
	}}}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	comp := scatter.Composition{Count: 500, Spacing: 60, Gap: 6, Flow: flow.Field{flow.Sweep{Strength: 1}}}
	straight := lay(t, site, kinds(), comp, 4)
	for _, p := range straight.Pieces {
		require.InDelta(t, 90, float64(p.Heading), 1e-9)
	}

	comp.Part = true
	parted := lay(t, site, kinds(), comp, 4)
	check(t, site, kinds(), comp, parted)
	assert.Equal(t, parted, lay(t, site, kinds(), comp, 4))
	meet, above, below := 0, 0, 0
	for _, p := range parted.Pieces {
		rise := math.Sin(p.Heading.Angle())
		switch {
		case p.At.X > 1800 && p.At.X < 2000 && p.At.Y > 950 && p.At.Y < 1200:
			assert.Less(t, rise, -0.1, "piece at %v turns down", p.At)
			meet++
		case p.At.X > 1800 && p.At.X < 2000 && p.At.Y > 1400 && p.At.Y < 1650:
			assert.Greater(t, rise, 0.1, "piece at %v turns up", p.At)
			meet++
		case p.At.X > 2200 && p.At.X < 2800 && p.At.Y > 1700:
			assert.InDelta(t, 0, rise, 0.35, "piece at %v goes by", p.At)
			above++
		case p.At.X > 2200 && p.At.X < 2800 && p.At.Y < 900:
			assert.InDelta(t, 0, rise, 0.35, "piece at %v goes by", p.At)
			below++
		case p.At.X < 150 || p.At.X > 4850:
			assert.InDelta(t, 0, rise, 0.12, "piece at %v enters or leaves", p.At)
		}
	}
	assert.Greater(t, meet, 2)
	assert.Greater(t, above, 5)
	assert.Greater(t, below, 5)
}

func TestPartingStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	comp := composition(40)
	comp.Part = true
	_, err := scatter.Lay(ctx, corner(t, 90), kinds(), comp, 1, nil)
	assert.ErrorIs(t, err, context.Canceled)
}

// Before a breast that is in the way the flow turns up, to run over its top; one that carries pieces
// itself is run over as if it were not there.
func TestPiecesGoOverWhatCarriesPieces(t *testing.T) {
	lean := func(use []wall.Side) float64 {
		room := wall.Room{Datum: 1500, Walls: []wall.Wall{{
			Name: "only", Surface: wall.Plaster, Margin: 30,
			Outline: plane.Rectangle(plane.Point{}, 5000, 2600),
			Obstructions: []wall.Obstruction{{
				Kind: wall.Chimney, Name: "breast", Depth: 400, Use: use,
				Shape: plane.Rectangle(plane.Point{X: 2000}, 1000, 2000), Clearance: 30,
			}},
		}}}
		site, err := wall.Survey(room)
		require.NoError(t, err)
		comp := scatter.Composition{Count: 400, Spacing: 60, Gap: 6, Flow: flow.Field{flow.Sweep{Strength: 1}}, Part: true}
		most := 0.0
		for _, p := range lay(t, site, kinds(), comp, 4).Pieces {
			if site.Faces[p.Face].IsWall() {
				most = math.Max(most, math.Abs(math.Sin(p.Heading.Angle())))
			}
		}
		return most
	}
	assert.Greater(t, lean(nil), 0.9)
	assert.Less(t, lean([]wall.Side{wall.Left, wall.Front, wall.Right, wall.Top}), 0.01)
}
