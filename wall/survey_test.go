package wall_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
	"wallshoal/wall/walltest"
)

// survey returns the face that is the wall w itself, alone in a room.
func survey(t *testing.T, w wall.Wall) wall.Face {
	t.Helper()
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{w}})
	require.NoError(t, err)
	require.NotEmpty(t, site.Faces)
	return site.Faces[0]
}

// sampled estimates the free area of w in mm² without polygons: the share of 60,000 points spread
// evenly over its box (by the plastic ratio) that lie farther than the margin from the edge and
// than the clearance from obstructions.
func sampled(w wall.Wall) float64 {
	const points, plastic = 60_000, 1.32471795724474602596
	b := w.Outline.Bounds()
	var n int
	for i := range points {
		_, u := math.Modf(0.5 + float64(i)/plastic)
		_, v := math.Modf(0.5 + float64(i)/(plastic*plastic))
		if open(w, plane.Point{X: b.Min.X + u*b.Width(), Y: b.Min.Y + v*b.Height()}) {
			n++
		}
	}
	return float64(n) / points * b.Width() * b.Height()
}

func open(w wall.Wall, p plane.Point) bool {
	if !w.Outline.Contains(p) || toEdge(p, w.Outline) < w.Margin {
		return false
	}
	for _, o := range w.Obstructions {
		if o.Shape.Contains(p) || toEdge(p, o.Shape) < o.Clearance {
			return false
		}
	}
	return true
}

func toEdge(p plane.Point, r plane.Ring) float64 {
	near := math.Inf(1)
	for i, a := range r {
		near = math.Min(near, plane.SegmentDistance(p, a, r[(i+1)%len(r)]))
	}
	return near
}

func TestFreeAreaAgainstSampling(t *testing.T) {
	for _, w := range walltest.Elevations() {
		t.Run(w.Name, func(t *testing.T) {
			assert.Empty(t, wall.Room{Walls: []wall.Wall{w}}.Check(measure.Millimetre))
			b := w.Outline.Bounds()
			assert.InDelta(t, sampled(w), survey(t, w).Free().Area(), 0.001*b.Width()*b.Height())
		})
	}
}

// rect is an obstruction that fills an upright rectangle.
func rect(kind wall.ObstructionKind, x, y, width, height, clearance float64) wall.Obstruction {
	return wall.Obstruction{
		Kind: kind, Name: "the " + string(kind), Clearance: clearance,
		Shape: plane.Rectangle(plane.Point{X: x, Y: y}, width, height),
	}
}

// boxWall is a wall of 4000 by 2500 mm with the obstructions on it.
func boxWall(margin float64, obstructions ...wall.Obstruction) wall.Wall {
	return wall.Wall{
		Name: "Wall", Surface: wall.Plaster, Margin: margin,
		Outline: plane.Rectangle(plane.Point{}, 4000, 2500), Obstructions: obstructions,
	}
}

func TestFreeAreaAgainstClosedForms(t *testing.T) {
	// A corner rounded by d is drawn with 32 sides to the quarter: four make this share of a disc.
	disc := func(d float64) float64 { return 64 * math.Sin(2*math.Pi/128) * d * d }
	tests := []struct {
		name string
		wall wall.Wall
		want float64 // mm²
	}{
		{"bare box", boxWall(0), 4000 * 2500},
		{"margin", boxWall(50), 3900 * 2400},
		{"one opening", boxWall(0, rect(wall.Window, 1000, 900, 1200, 1000, 0)), 4000*2500 - 1200*1000},
		{
			"one opening with its clearance", boxWall(0, rect(wall.Window, 1000, 900, 1200, 1000, 60)),
			4000*2500 - 1200*1000 - 2*(1200+1000)*60 - disc(60),
		},
		{
			"two that share an edge",
			boxWall(0, rect(wall.Shelf, 500, 500, 700, 300, 0), rect(wall.Shelf, 1200, 500, 700, 300, 0)),
			4000*2500 - 1400*300,
		},
		{
			"three that overlap, by inclusion and exclusion",
			boxWall(0, rect(wall.Sign, 1000, 500, 800, 800, 0), rect(wall.Sign, 1400, 900, 800, 800, 0), rect(wall.Sign, 1600, 700, 800, 800, 0)),
			4000*2500 - (3*800*800 - 400*400 - 200*600 - 600*600 + 200*400),
		},
		{
			"clearances that meet",
			boxWall(0, rect(wall.Column, 1000, 0, 200, 2500, 100), rect(wall.Column, 1400, 0, 200, 2500, 100)),
			4000*2500 - 800*2500,
		},
		{"everything", boxWall(0, rect(wall.Fixture, 0, 0, 4000, 2500, 0)), 0},
		{"everything but a strip under the margin", boxWall(30, rect(wall.Fixture, 0, 0, 3970, 2500, 0)), 0},
		{"reaching over the edge", boxWall(0, rect(wall.Bulkhead, 0, 2200, 4000, 300, 30)), 4000 * 2170},
		{"hidden run", boxWall(0, rect(wall.Cable, 0, 1000, 4000, 20, 50)), 4000 * 2500},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.InDelta(t, tt.want, survey(t, tt.wall).Free().Area(), 0.5)
		})
	}
}

func TestFreeLiesInTheOutlineAndOffObstructions(t *testing.T) {
	for _, w := range walltest.Elevations() {
		f := survey(t, w)
		in, err := f.Free().Intersection(f.Outline)
		require.NoError(t, err)
		assert.InDelta(t, f.Free().Area(), in.Area(), 0.01, w.Name)
		for _, o := range w.Obstructions {
			assert.False(t, f.Free().Touches(o.Shape), "%s, %s", w.Name, o.Name)
		}
		for _, z := range f.Zones {
			inside, err := z.Shape.Intersection(f.Outline)
			require.NoError(t, err)
			assert.Equal(t, z.Shape, inside, "%s: zone %s of %s is clipped", w.Name, z.Code, z.Name)
			assert.NotEmpty(t, z.Name, z.Code)
			assert.NotEmpty(t, z.Reason, z.Code)
			assert.NotEmpty(t, z.Source, z.Code)
		}
	}
}

func TestABareWallHoldsItsPlaceAndNothingElse(t *testing.T) {
	w := boxWall(20)
	w.Bare = true
	f := survey(t, w)
	assert.False(t, f.Used)
	assert.True(t, f.Free().Empty())
	assert.Equal(t, 4000.0*2500, f.Outline.Area())
}

// room returns walls 2500 mm high with the given lengths and turns.
func room(lengths, turns []float64) wall.Room {
	var r wall.Room
	for i, l := range lengths {
		r.Walls = append(r.Walls, wall.Wall{
			Name: fmt.Sprintf("Wall %d", i+1), Surface: wall.Plaster, Turn: turns[i],
			Outline: plane.Rectangle(plane.Point{}, l, 2500),
		})
	}
	return r
}

func TestFourInsideCornersComeBackToTheStart(t *testing.T) {
	site, err := wall.Survey(room([]float64{6400, 4200, 6400, 4200}, []float64{90, 90, 90, 90}))
	require.NoError(t, err)
	want := []space.Vec{{}, {X: 6400}, {X: 6400, Y: -4200}, {Y: -4200}}
	middle := space.Vec{X: 3200, Y: -2100, Z: 1000}
	for i, f := range site.Faces {
		assert.Equal(t, want[i], f.Frame.Origin, "quarter turns are exact")
		assert.Equal(t, f.Frame.Out, f.Frame.Right.Cross(f.Frame.Up))
		_, off := f.Frame.Local(middle)
		assert.Positive(t, off, "face %d looks into the room", i)
	}
	last := site.Faces[3]
	assert.Equal(t, space.Vec{}, last.Frame.At(plane.Point{X: 4200}))
}

func TestAnOutsideCornerTurnsAway(t *testing.T) {
	site, err := wall.Survey(room([]float64{3000, 2000}, []float64{-90, 0}))
	require.NoError(t, err)
	second := site.Faces[1].Frame
	assert.Equal(t, space.Vec{X: 3000}, second.Origin)
	assert.Equal(t, space.Vec{X: 3000, Y: 2000}, second.At(plane.Point{X: 2000}))
	assert.Equal(t, space.Vec{X: 1}, second.Out)
}

func TestAnyTurnsChain(t *testing.T) {
	site, err := wall.Survey(room([]float64{1000, 1000, 1000}, []float64{120, 120, 120}))
	require.NoError(t, err)
	end := site.Faces[2].Frame.At(plane.Point{X: 1000})
	assert.InDelta(t, 0, end.Len(), 1e-9, "an equilateral triangle closes")

	straight, err := wall.Survey(room([]float64{1000, 500}, []float64{0, 0}))
	require.NoError(t, err)
	assert.Equal(t, space.Vec{X: 1500}, straight.Faces[1].Frame.At(plane.Point{X: 500}))
}

func TestFramesGoThereAndBack(t *testing.T) {
	site, err := wall.Survey(room([]float64{3000, 2000, 1500}, []float64{37.5, -61, 0}))
	require.NoError(t, err)
	for _, f := range site.Faces {
		p := plane.Point{X: 123.4, Y: 567.8}
		back, off := f.Frame.Local(f.Frame.Lift(p, 45))
		assert.InDelta(t, p.X, back.X, 1e-9)
		assert.InDelta(t, p.Y, back.Y, 1e-9)
		assert.InDelta(t, 45, off, 1e-9)
	}
}

func TestFacesByName(t *testing.T) {
	site, err := wall.Survey(room([]float64{3000, 2000}, []float64{90, 0}))
	require.NoError(t, err)
	i, found := site.FaceByName("Wall 2", wall.WallFace)
	assert.True(t, found)
	assert.Equal(t, 1, site.Faces[i].Wall)
	assert.Equal(t, "Wall 2", site.Title(i))
	_, found = site.FaceByName("Wall 2", "front")
	assert.False(t, found)
	_, found = site.FaceByName("Wall 3", wall.WallFace)
	assert.False(t, found)

	site.Faces = append(site.Faces, wall.Face{Wall: 1, Name: "chimney breast, front"})
	assert.Equal(t, "Wall 2, chimney breast, front", site.Title(2))
}

// A room that nobody checked gives an error that names the wall, and never a panic.
func TestSurveyRefusesNonsense(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name string
		wall wall.Wall
		says string
	}{
		{"no outline", wall.Wall{}, "outline"},
		{"outline of two corners", wall.Wall{Outline: plane.Ring{{X: 0, Y: 0}, {X: 1, Y: 1}}}, "outline"},
		{"crossing outline", wall.Wall{Outline: plane.Ring{{X: 0, Y: 0}, {X: 9, Y: 9}, {X: 9, Y: 0}, {X: 0, Y: 9}}}, "outline"},
		{"corner not a number", wall.Wall{Outline: plane.Ring{{X: 0, Y: 0}, {X: nan, Y: 9}, {X: 9, Y: 0}}}, "outline"},
		{"corner out of the world", wall.Wall{Outline: plane.Rectangle(plane.Point{}, 1e12, 5)}, "outline"},
		{"turn not a number", wall.Wall{Turn: nan, Outline: plane.Rectangle(plane.Point{}, 9, 9)}, "turn"},
		{"margin below 0", boxWall(-5), "margin"},
		{"margin not a number", boxWall(nan), "margin"},
		{"clearance below 0", boxWall(0, rect(wall.Door, 0, 0, 900, 2000, -1)), "the door"},
		{"clearance without end", boxWall(0, rect(wall.Door, 0, 0, 900, 2000, math.Inf(1))), "the door"},
		{"obstruction without area", boxWall(0, rect(wall.Door, 0, 0, 900, 0, 5)), "the door"},
		{"cable without a place", boxWall(0, rect(wall.Cable, nan, 0, 900, 10, 5)), "the cable"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tt.wall.Name = "North wall"
			_, err := wall.Survey(wall.Room{Walls: []wall.Wall{tt.wall}})
			require.Error(t, err)
			assert.Contains(t, err.Error(), "North wall")
			assert.Contains(t, err.Error(), tt.says)
		})
	}
	_, err := wall.Survey(wall.Room{Walls: []wall.Wall{{Name: "First"}, {Name: "Second"}}})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "First")
	assert.Contains(t, err.Error(), "Second", "all faults at once")

	site, err := wall.Survey(wall.Room{})
	require.NoError(t, err)
	assert.Empty(t, site.Faces)
}

func BenchmarkSurvey(b *testing.B) {
	r := wall.Room{Walls: walltest.Elevations()}
	for b.Loop() {
		_, err := wall.Survey(r)
		require.NoError(b, err)
	}
}
