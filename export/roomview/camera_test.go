package roomview

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// The camera P = K[R|t] of Hartley and Zisserman, ch. 6, worked by hand. The eye is at
// C = (1000, -3000, 1600) and looks along +Y, so the rows of R are right (1, 0, 0), down
// (0, 0, -1) and ahead (0, 1, 0), and t = -RC = (-1000, 1600, 3000). The picture is scaled by
// f = 50 about the point (100, 70), so K = [50 0 100; 0 50 70; 0 0 1]. Then
//
//	P = [50 100 0 -50000+300000; 0 70 -50 80000+210000; 0 1 0 3000]
func TestPerspectiveOfKnownPoints(t *testing.T) {
	c := Perspective(space.Vec{X: 1000, Y: -3000, Z: 1600}, space.Vec{Y: 1})
	unit := plane.Rect{Min: plane.Point{X: -0.5, Y: -0.5}, Max: plane.Point{X: 0.5, Y: 0.5}}
	c = c.framed(unit, plane.Rect{Min: plane.Point{X: 75, Y: 45}, Max: plane.Point{X: 125, Y: 95}})
	assert.Equal(t, [3][4]float64{{50, 100, 0, 250000}, {0, 70, -50, 290000}, {0, 1, 0, 3000}}, c.matrix)

	for _, tt := range []struct {
		at   space.Vec
		want plane.Point
	}{
		// (50·1000 + 100·0 + 250000, 0 + 0 - 50·1600 + 290000, 3000) = (300000, 210000, 3000)
		{space.Vec{X: 1000, Z: 1600}, plane.Point{X: 100, Y: 70}}, // straight ahead
		// (50·4000 + 250000, -0 + 290000, 3000) = (450000, 290000, 3000)
		{space.Vec{X: 4000}, plane.Point{X: 150, Y: 290.0 / 3}},
		// (50·-2000 + 100·2000 + 250000, 70·2000 - 50·2600 + 290000, 5000) = (350000, 300000, 5000)
		{space.Vec{X: -2000, Y: 2000, Z: 2600}, plane.Point{X: 70, Y: 60}},
	} {
		got := c.At(tt.at)
		assert.InDelta(t, tt.want.X, got.X, 1e-9, "%v", tt.at)
		assert.InDelta(t, tt.want.Y, got.Y, 1e-9, "%v", tt.at)
	}
}

// An eye that looks aside by the angle of the 3-4-5 triangle: right is (0.8, -0.6, 0) and ahead
// (0.6, 0.8, 0). Of the step (500, 500, -100) from the eye, 0.8·500 - 0.6·500 = 100 is right, 100 is
// down and 0.6·500 + 0.8·500 = 700 is ahead.
func TestPerspectiveAside(t *testing.T) {
	eye := space.Vec{X: 20, Y: 30, Z: 1600}
	got := Perspective(eye, space.Vec{X: 0.6, Y: 0.8}).At(eye.Add(space.Vec{X: 500, Y: 500, Z: -100}))
	assert.InDelta(t, 1.0/7, got.X, 1e-12)
	assert.InDelta(t, 1.0/7, got.Y, 1e-12)
}

// Parallel edges run towards the point at which their direction, a point at infinity (d, 0), shows:
// (right·d / ahead·d, down·d / ahead·d). Level ones meet on the horizon, at the height of the eye;
// upright ones stay upright.
func TestVanishingPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		sin, cos := math.Sincos(2 * math.Pi * r.Float64())
		ahead := space.Vec{X: cos, Y: sin}
		right := space.Vec{X: sin, Y: -cos}
		c := Perspective(space.Vec{X: 4000 * r.Float64(), Y: 4000 * r.Float64(), Z: eyeHeight}, ahead)
		d := ahead.Add(right.Scale(2*r.Float64() - 1)).Add(space.Vec{Z: r.Float64() - 0.5})
		vanishing := plane.Point{X: right.Dot(d) / ahead.Dot(d), Y: -d.Z / ahead.Dot(d)}
		for range 3 {
			start := space.Vec{X: 8000 * r.Float64(), Y: 8000 * r.Float64(), Z: 3000 * r.Float64()}
			far := c.At(start.Add(d.Scale(1e12)))
			assert.InDelta(t, 0, far.Distance(vanishing), 1e-6)
		}
		level := c.At(c.place().Add(ahead.Scale(5000)).Add(right.Scale(900 * r.Float64())))
		assert.InDelta(t, 0, level.Y, 1e-12, "what is as high as the eye shows on the horizon")
		foot := c.place().Add(ahead.Scale(4000)).Add(right.Scale(3000 * r.Float64()))
		assert.InDelta(t, c.At(foot).X, c.At(foot.Add(space.Vec{Z: 2000})).X, 1e-12, "verticals stay vertical")
	}
}

// In isometric axonometry (ISO 5456-3) the three axes make angles of 120° in the picture and are
// scaled alike.
func TestIsometricAxes(t *testing.T) {
	for quarter := range 4 {
		c := Isometric(quarter)
		origin := c.At(space.Vec{})
		axes := []plane.Point{c.At(space.Vec{X: 1}).Sub(origin), c.At(space.Vec{Y: 1}).Sub(origin), c.At(space.Vec{Z: 1}).Sub(origin)}
		for i, a := range axes {
			assert.InDelta(t, 1, a.Len(), 1e-12)
			turn := math.Acos(a.Dot(axes[(i+1)%3])) * 180 / math.Pi
			assert.Contains(t, []float64{60, 120}, math.Round(turn*1e9)/1e9, "an axis away from the eye is at 60° to one towards it")
		}
		assert.InDelta(t, -1, axes[2].Y, 1e-12, "up is up")
		assert.True(t, c.sees(level{normal: space.Vec{Z: 1}}), "it looks from above")
	}
	assert.Less(t, Isometric(2).towards.Dot(space.Vec{X: -1, Y: -1}), 0.0, "quarter 2 looks from -X and -Y")
}

// What lies behind the eye, or too near before it, is cut off where the picture begins.
func TestClippingBeforeTheEye(t *testing.T) {
	c := Perspective(space.Vec{Z: 1600}, space.Vec{Y: 1})
	floor := facet{loops: []loop{{{at: space.Vec{X: -500, Y: -1000}}, {at: space.Vec{X: 500, Y: -1000}}, {at: space.Vec{X: 500, Y: 1000}}, {at: space.Vec{X: -500, Y: 1000}}}}}.settle()
	got := c.clip(floor)
	assert.Len(t, got.loops, 1)
	cut := 0
	for _, k := range got.loops[0] {
		assert.GreaterOrEqual(t, c.depth(k.at), nearest-flush)
		if k.cut {
			cut++
		}
	}
	assert.Equal(t, 1, cut, "one edge is where it was cut")
	assert.Empty(t, c.clip(facet{loops: []loop{{{at: space.Vec{Y: -1}}, {at: space.Vec{X: 1, Y: -1}}, {at: space.Vec{Y: -2}}}}}.settle()).loops)
}

// The two parts of a ring cut by a plane have the area of the ring, however often the plane runs
// through it.
func TestCutsKeepTheArea(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	for range 500 {
		ring := make(plane.Ring, 12)
		for i := range ring {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 12)
			ring[i] = plane.Point{X: cos, Y: sin}.Scale(100 + 900*r.Float64())
			if r.IntN(4) == 0 {
				ring[i] = plane.Point{X: math.Round(ring[i].X / 100), Y: math.Round(ring[i].Y / 100)}.Scale(100)
			}
		}
		var l loop
		for _, p := range ring {
			l = append(l, corner{at: space.Vec{X: p.X, Z: p.Y}})
		}
		at := level{space.Vec{X: 1}, math.Round(r.Float64()*10-5) * 100}
		sum := 0.0
		for _, side := range []level{at, at.turned()} {
			var part plane.Ring
			for _, k := range l.clip(side) {
				part = append(part, plane.Point{X: k.at.X, Y: k.at.Z})
				assert.GreaterOrEqual(t, side.above(k.at), -flush-1e-9)
			}
			sum += part.Area()
		}
		assert.InDelta(t, ring.Area(), sum, 1000*flush)
	}
}

// The edges that a cut leaves of a square are its own; the cut itself is none.
func TestRunsLeaveOutTheCut(t *testing.T) {
	square := loop{{at: space.Vec{}}, {at: space.Vec{X: 4}}, {at: space.Vec{X: 4, Z: 4}}, {at: space.Vec{Z: 4}}}
	half := square.clip(level{space.Vec{X: 1}, 1})
	ring := make(plane.Ring, len(half))
	for i, k := range half {
		ring[i] = plane.Point{X: k.at.X, Y: k.at.Z}
	}
	assert.Equal(t, [][]plane.Point{{{X: 1}, {X: 4}, {X: 4, Y: 4}, {X: 1, Y: 4}}}, runs(half, ring))
}
