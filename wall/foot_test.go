package wall

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/plane"
)

func TestTheFootOfAWall(t *testing.T) {
	stair := Wall{Outline: plane.Ring{{}, {X: 1000}, {X: 3000, Y: 1500}, {X: 5000, Y: 1500}, {X: 5000, Y: 4000}, {Y: 4000}}}
	for x, want := range map[float64]float64{-200: 0, 500: 0, 2000: 750, 4000: 1500, 9000: 1500} {
		assert.Equal(t, want, stair.FootAt(x), "at %g", x)
	}
	stair.Floor = []plane.Point{{X: 0, Y: -8}, {X: 1000, Y: -4}}
	assert.Equal(t, -6.0, stair.FootAt(500), "as measured")
	assert.Equal(t, 750.0, stair.FootAt(2000), "the stair is no run-out of the floor")
	opening := Wall{Outline: plane.Ring{{}, {X: 1000}, {X: 1000, Y: 2050}, {X: 1900, Y: 2050}, {X: 1900}, {X: 4000}, {X: 4000, Y: 2700}, {Y: 2700}}}
	assert.Equal(t, 0.0, opening.FootAt(1500), "nobody stands on the head of an opening")
	arch := Wall{Outline: plane.Ring{{X: 900}, {X: 900, Y: 1800}, {X: 1500, Y: 2300}, {X: 2100, Y: 1800}, {X: 2100, Y: 100}, {X: 4000, Y: 100}, {X: 4000, Y: 2700}, {Y: 2700}, {}}}
	for x, want := range map[float64]float64{500: 0, 1200: 0, 1500: 0, 2000: 0, 3000: 100} {
		assert.Equal(t, want, arch.FootAt(x), "an arch, at %g", x)
	}
	cellar := Wall{Outline: plane.Ring{{}, {X: 1000}, {X: 1000, Y: -900}, {X: 4000, Y: -900}, {X: 4000, Y: 2700}, {Y: 2700}}}
	assert.Equal(t, -900.0, cellar.FootAt(3000), "steps down")
	cellar.Floor = []plane.Point{{Y: -5}, {X: 1000, Y: -5}}
	assert.Equal(t, -900.0, cellar.FootAt(3000), "what was measured above says nothing of the floor below")
	assert.Equal(t, -5.0, cellar.FootAt(500))
	for _, w := range []Wall{stair, opening, arch, cellar} {
		for x := 5.0; x < 4000; x += 10 {
			height, found := lowest(w.floors(), x)
			require.True(t, found, "at %g", x)
			assert.InDelta(t, height, w.FootAt(x), 0.01, "zones and stands know one floor, at %g", x)
		}
	}
	stage := Wall{Outline: plane.Ring{{}, {X: 1000}, {X: 1000, Y: 900}, {X: 4000, Y: 900}, {X: 4000, Y: 2700}, {Y: 2700}}}
	assert.Equal(t, 900.0, stage.FootAt(3000), "a stage is a floor")
	panel := Wall{Alone: &Stand{}, Outline: plane.Rectangle(plane.Point{Y: 300}, 2000, 1500)}
	assert.Equal(t, 0.0, panel.FootAt(1000), "a panel that hangs over the floor")
}

// Below a ceiling the floor is that before the nearest wall.
func TestTheFloorBelowAPlace(t *testing.T) {
	site, err := Survey(Room{Datum: 1500, Ceiling: &Wall{Name: "Over", Surface: Plaster}, Walls: []Wall{
		{Name: "Long", Turn: 90, Surface: Plaster, Outline: plane.Ring{{}, {X: 2000}, {X: 2000, Y: 300}, {X: 4000, Y: 300}, {X: 4000, Y: 2700}, {Y: 2700}}},
		{Name: "Right", Turn: 90, Surface: Plaster, Outline: plane.Rectangle(plane.Point{Y: 300}, 3000, 2400)},
		{Name: "Back", Turn: 90, Surface: Plaster, Outline: plane.Rectangle(plane.Point{}, 4000, 2700)},
		{Name: "Left", Turn: 90, Surface: Plaster, Outline: plane.Rectangle(plane.Point{}, 3000, 2700)},
	}})
	require.NoError(t, err)
	over, found := site.FaceByName("Over", WallFace)
	require.True(t, found)
	frame := site.Faces[over].Frame
	long, found := site.FaceByName("Long", WallFace)
	require.True(t, found)
	for _, tt := range []struct{ x, out, want float64 }{{1000, 200, 0}, {3000, 200, 300}, {3800, 1500, 300}, {2500, 2800, 0}} {
		f := site.Faces[long].Frame
		at := f.At(plane.Point{X: tt.x, Y: 2700}).Add(f.Out.Scale(tt.out))
		p, _ := frame.Local(at)
		assert.Equal(t, tt.want, site.FloorBelow(over, p), "%g along, %g out", tt.x, tt.out)
	}
	assert.Equal(t, 300.0, site.FloorBelow(long, plane.Point{X: 3000, Y: 1000}))
}
