package density

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/flow"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// The long wall is 6000 mm and ends at an inside corner; the short wall comes on from there towards
// the viewer. Beyond is what would come on after an outside corner.
var (
	long   = space.Upright(space.Vec{}, 0)
	short  = space.Upright(space.Vec{X: 6000}, -90)
	beyond = space.Upright(space.Vec{X: 6000}, 90)
	whole  = Area{long, plane.RegionOf(plane.Rectangle(plane.Point{}, 6000, 2500))}
	next   = Area{short, plane.RegionOf(plane.Rectangle(plane.Point{}, 4000, 2500))}
	room   = []Area{whole, next}
)

// part returns the upright rectangle of the long wall from x and y to x1 and y1.
func part(x, y, x1, y1 float64) Area {
	return Area{long, plane.RegionOf(plane.Rectangle(plane.Point{X: x, Y: y}, x1-x, y1-y))}
}

// shareIn returns which share of the density over the room is on the part.
func shareIn(f Field, p Area) float64 {
	all := 0.0
	for _, a := range room {
		all += Integral(f, a, 40)
	}
	return Integral(f, p, 20) / all
}

// rises asserts that what is measured goes up from each knob to the next.
func rises(t *testing.T, what string, knobs []float64, measure func(knob float64) float64) {
	t.Helper()
	last := math.Inf(-1)
	for _, k := range knobs {
		got := measure(k)
		assert.Greater(t, got, last, "%s at %v", what, k)
		last = got
	}
}

var strengths = []float64{MinStrength, 0.3, 1, 2, 8, MaxStrength}

func TestGatheringByHand(t *testing.T) {
	at := long.At(plane.Point{X: 2300, Y: 1600})
	for _, strength := range []float64{5, 0.2} {
		g := Gathering{Round: Place(at), Reach: 400, Strength: strength}
		assert.InDelta(t, strength, g.At(long, plane.Point{X: 2300, Y: 1600}), 1e-12)
		assert.InDelta(t, 1+(strength-1)/2, g.At(long, plane.Point{X: 2300, Y: 1200}), 1e-12, "half at the reach")
		assert.InDelta(t, 1+(strength-1)/7, g.At(long, plane.Point{X: 3100, Y: 1600}), 0.01, "a seventh at twice the reach")
		assert.InDelta(t, 1, g.At(long, plane.Point{X: 90_000, Y: 1600}), 0.001)
	}
	line := Gathering{Round: Line([]space.Vec{long.At(plane.Point{X: 1000, Y: 1000}), long.At(plane.Point{X: 3000, Y: 1000}), long.At(plane.Point{X: 3000, Y: 2000})}), Reach: 300, Strength: 3}
	for p, want := range map[plane.Point]float64{
		{X: 2000, Y: 1000}: 3, {X: 2000, Y: 700}: 2, {X: 3300, Y: 1500}: 2, {X: 820, Y: 1240}: 2, {X: 3240, Y: 2180}: 2,
	} {
		assert.InDelta(t, want, line.At(long, p), 1e-12, "%v", p)
	}
	// 180 mm short of the corner and 240 mm past it, straight through the room.
	corner := Gathering{Round: Place(long.At(plane.Point{X: 5820, Y: 900})), Reach: 300, Strength: 3}
	assert.InDelta(t, 2, corner.At(short, plane.Point{X: 240, Y: 900}), 1e-12)
}

func TestGatheringsDrawTogether(t *testing.T) {
	g := Gathering{Round: Place(long.At(plane.Point{X: 2300, Y: 1300})), Reach: 400, Strength: 3}
	near := part(1900, 900, 2700, 1700)
	rises(t, "strength", strengths, func(k float64) float64 { g.Strength = k; return shareIn(g, near) })
	g.Strength = 3
	rises(t, "reach", []float64{1, 100, 400, 900}, func(k float64) float64 { g.Reach = k; return Integral(g, whole, 20) })
}

func TestBand(t *testing.T) {
	b := Band{From: 1000, To: 1800, Strength: 4, Soft: 200}
	for y, want := range map[float64]float64{0: 1, 900: 1, 1000: 2.5, 1100: 4, 1400: 4, 1700: 4, 1800: 2.5, 1900: 1, 2500: 1} {
		assert.InDelta(t, want, b.At(long, plane.Point{X: 70, Y: y}), 1e-12, "%v", y)
		assert.InDelta(t, want, b.At(short, plane.Point{X: 3070, Y: y}), 1e-12, "%v", y)
	}
	step := Band{From: math.Inf(-1), To: 1800, Strength: 4}
	assert.Equal(t, 4.0, step.At(long, plane.Point{Y: 1800}))
	assert.Equal(t, 1.0, step.At(long, plane.Point{Y: 1800.01}))
	assert.Equal(t, 4.0, Band{From: 1000, To: math.Inf(1), Strength: 4, Soft: 50}.At(long, plane.Point{Y: 1e6}))
	rises(t, "strength", strengths, func(k float64) float64 { b.Strength = k; return shareIn(b, part(0, 1000, 6000, 1800)) })
}

func TestFading(t *testing.T) {
	end := Shape{{long.At(plane.Point{}), long.At(plane.Point{Y: 2500})}}
	c := Fading{Towards: end, Over: 800, Rest: 0.2}
	for x, want := range map[float64]float64{0: 0.2, 400: 0.6, 800: 1, 5000: 1} {
		assert.InDelta(t, want, c.At(long, plane.Point{X: x, Y: 900}), 1e-12, "%v", x)
	}
	strip := part(0, 0, 500, 2500)
	rises(t, "rest", []float64{0, 0.1, 0.5, 1}, func(k float64) float64 { c.Rest = k; return shareIn(c, strip) })
	c.Rest = 0.2
	rises(t, "over", []float64{1600, 800, 400, 1}, func(k float64) float64 { c.Over = k; return shareIn(c, strip) })
}

func edgeFading(t *testing.T, areas []Area, over, rest float64) EdgeFading {
	t.Helper()
	c, err := NewEdgeFading(areas, over, rest)
	require.NoError(t, err)
	return c
}

// A wall that goes straight on has no edge where the next begins.
func TestNoEdgeInAPlane(t *testing.T) {
	for _, degrees := range []float64{0, 37} {
		first := space.Upright(space.Vec{X: 20}, degrees)
		second := space.Upright(first.At(plane.Point{X: 6000}), degrees)
		c := edgeFading(t, []Area{{first, whole.Region}, {second, next.Region}}, 400, 0.1)
		assert.InDelta(t, 1, c.At(first, plane.Point{X: 6000, Y: 900}), 1e-9)
		assert.InDelta(t, 1, c.At(second, plane.Point{Y: 900}), 1e-9)
		assert.InDelta(t, 0.1, c.At(second, plane.Point{X: 4000, Y: 900}), 1e-6)
		assert.InDelta(t, 0.55, c.At(second, plane.Point{X: 200, Y: 2300}), 1e-6)
	}
}

func TestEdgeFading(t *testing.T) {
	c := edgeFading(t, room, 400, 0.1)
	for _, p := range []plane.Point{{X: 0, Y: 900}, {X: 3000, Y: 0}, {X: 3000, Y: 2500}} {
		assert.InDelta(t, 0.1, c.At(long, p), 1e-9, "%v", p)
	}
	assert.InDelta(t, 0.55, c.At(long, plane.Point{X: 200, Y: 900}), 1e-9)
	assert.InDelta(t, 0.55, c.At(short, plane.Point{X: 900, Y: 2300}), 1e-9)
	assert.Equal(t, 1.0, c.At(long, plane.Point{X: 400, Y: 400}))
	assert.Equal(t, 1.0, c.At(beyond, plane.Point{}), "a face that is none of them")
	assert.InDelta(t, 0.1, c.At(long, plane.Point{X: -50, Y: 400}), 1e-9, "off the face")
	inner := part(1000, 1000, 5000, 1500)
	rises(t, "rest", []float64{1, 0.5, 0.1, 0}, func(k float64) float64 { return shareIn(edgeFading(t, room, 400, k), inner) })
}

func TestDrift(t *testing.T) {
	fl := flow.Field{flow.RoomSweep{Way: space.Vec{X: 2}, Strength: 1}}
	d := NewDrift(fl, []Area{whole}, 4)
	assert.InDelta(t, 0, d.From, 1e-9)
	assert.InDelta(t, 6000, d.To, 1e-9)
	for x, want := range map[float64]float64{-100: 0.5, 0: 0.5, 3000: 1, 6000: 2, 7000: 2, 1500: math.Sqrt2 / 2} {
		assert.InDelta(t, want, d.At(long, plane.Point{X: x, Y: 77}), 1e-9, "%v", x)
	}
	assert.Equal(t, 2.0, d.At(short, plane.Point{X: 3000, Y: 9}), "all of it is as far along")
	rises(t, "factor", strengths, func(k float64) float64 {
		d := NewDrift(fl, room, k)
		return Integral(d, part(4000, 0, 6000, 2500), 40) / Integral(d, whole, 40)
	})

	place := plane.Point{X: 3000, Y: 1000}
	toward := NewDrift(flow.Field{flow.Toward{Point: long.At(place), Strength: 1}}, room, 9)
	assert.InDelta(t, 3, toward.At(long, place), 0.1)
	assert.InDelta(t, 1.0/3, toward.At(short, plane.Point{X: 4000, Y: 2500}), 1e-9)

	for _, still := range []flow.Field{nil, {flow.Sweep{Strength: 1}}, {flow.RoomSweep{Way: space.Vec{Y: 1}, Strength: 1}}} {
		d := NewDrift(still, []Area{whole}, 4)
		assert.Equal(t, 1.0, d.At(long, plane.Point{X: 500, Y: 5}))
		assert.Equal(t, math.Inf(1), d.Grain())
	}
}

func TestProductAndScheme(t *testing.T) {
	b := Band{From: 1000, To: 1800, Strength: 4, Soft: 200}
	g := Gathering{Round: Place(long.At(plane.Point{Y: 1000})), Reach: 90, Strength: 3}
	both := Product{b, Product{g}}
	assert.InDelta(t, 7.5, both.At(long, plane.Point{Y: 1000}), 1e-12)
	assert.Equal(t, 90.0, Grain(both))
	assert.Equal(t, 1.0, Product{}.At(long, plane.Point{}))
	assert.Equal(t, math.Inf(1), Grain(Product{}))
	assert.Equal(t, math.Inf(1), Grain(Scheme{}))
	assert.Equal(t, 1.0, Scheme{}.At(long, plane.Point{X: 5}))
	assert.InDelta(t, 7.5, Scheme{Field: both}.At(long, plane.Point{Y: 1000}), 1e-12)
	assert.Equal(t, 90.0, Grain(Scheme{Field: both}))
}

// The strongest that a plan can ask for, all in one place, is finite and not below 0.
func TestFiniteAndNotBelowZero(t *testing.T) {
	for _, strength := range []float64{MinStrength, MaxStrength} {
		var all Product
		for i := range MaxFields {
			at := long.At(plane.Point{X: float64(i), Y: 500})
			all = append(all, Gathering{Place(at), 1, strength}, Band{400, 600, strength, 1}, Fading{Place(at), 1e6, 0})
		}
		all = append(all, NewClumps(room, 700, strength, 1), NewDrift(flow.Field{flow.Away{Point: space.Vec{}, Strength: 1}}, room, strength), edgeFading(t, room, 1e6, 0))
		for x := -1000.0; x < 7000; x += 97 {
			for y := -300.0; y < 2600; y += 171 {
				for _, f := range []space.Frame{long, short, beyond} {
					got := all.At(f, plane.Point{X: x, Y: y})
					assert.True(t, got >= 0 && !math.IsInf(got, 0), "%v", got)
				}
			}
		}
	}
}

// What is thought in the room is the same on both faces of a corner, and nowhere jumps.
func TestContinuousOverCorners(t *testing.T) {
	fields := Product{
		Gathering{Place(space.Vec{X: 5900, Y: -200, Z: 900}), 300, 6},
		Gathering{Line([]space.Vec{{X: 5000, Z: 300}, {X: 6000, Z: 900}, {X: 6000, Y: -1500, Z: 1500}}), 200, 0.1},
		Band{From: 900, To: 1500, Strength: 3, Soft: 100},
		Fading{Shape{{space.Vec{X: 6000}, space.Vec{X: 6000, Z: 2500}}}, 300, 0.3},
		edgeFading(t, room, 300, 0.3),
		NewClumps(room, 500, 8, 4),
		NewDrift(flow.Field{flow.Toward{Point: space.Vec{X: 6000, Y: -900, Z: 1200}, Strength: 1}}, room, 5),
	}
	for i, f := range append(fields, fields) {
		for y := 0.0; y <= 2500; y += 25 {
			assert.InDelta(t, f.At(long, plane.Point{X: 6000, Y: y}), f.At(short, plane.Point{Y: y}), 1e-6, "%d", i)
		}
		for x := 0.0; x < 4000; x += 53 {
			for y := 0.0; y < 2500; y += 47 {
				p := plane.Point{X: x, Y: y}
				assert.InDelta(t, f.At(short, p), f.At(short, p.Add(plane.Point{X: 0.2, Y: 0.2})), 0.06, "%d at %v", i, p)
			}
		}
	}
}

func TestIntegral(t *testing.T) {
	even := Product{}
	ring := plane.Ring{{X: 100, Y: 50}, {X: 900, Y: 150}, {X: 700, Y: 800}, {X: 300, Y: 400}}
	for _, step := range []float64{7, 20, 60} {
		assert.InEpsilon(t, ring.Area(), Integral(even, Area{long, plane.RegionOf(ring)}, step), step*step/1e4)
	}
	hole, err := whole.Region.Difference(plane.RegionOf(plane.Rectangle(plane.Point{X: 1000, Y: 500}, 1500, 1000)))
	assert.NoError(t, err)
	assert.InDelta(t, 13.5e6, Integral(even, Area{long, hole}, 50), 1e-3)
	assert.Zero(t, Integral(even, Area{long, plane.Region{}}, 50))
	// Of a ramp of which a half is left at x = 400: 800 mm that count half, and the rest.
	fading := Fading{Shape{{space.Vec{}, space.Vec{Z: 2500}}}, 800, 0}
	assert.InEpsilon(t, 2500*(400+5200), Integral(fading, whole, 20), 1e-4)
}
