package flow

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

var (
	// Beyond the outside corner at the right end of the long wall a wall runs away from the viewer.
	beyond = space.Upright(space.Vec{X: 6400}, 90)
	// The ceiling over the long wall, 2700 mm up, seen looking up with the wall at its top.
	ceiling = space.Frame{
		Origin: space.Vec{Y: -4200, Z: 2700},
		Right:  space.Vec{X: 1}, Up: space.Vec{Y: 1}, Out: space.Vec{Z: -1},
	}
	// A wall that leaves the long wall's right end at 37°.
	askew = space.Upright(space.Vec{X: 6400}, -37)
)

func TestAwayIsAgainstToward(t *testing.T) {
	point := ticket.At(plane.Point{X: 2100, Y: 1450})
	equal(t, plane.Point{X: 1.2, Y: 1.6}, Away{Point: point, Strength: 2}.At(ticket, plane.Point{X: 2400, Y: 1850}), "3-4-5")
	assert.Equal(t, plane.Point{}, Away{Point: point, Strength: 1}.At(ticket, plane.Point{X: 2100, Y: 1450}))
	for _, f := range []space.Frame{long, ticket, opposite, askew} {
		p := plane.Point{X: 700, Y: 300}
		sum := Field{Away{Point: point, Reach: 900, Strength: 3}, Toward{Point: point, Reach: 900, Strength: 3}}
		assert.Equal(t, plane.Point{}, sum.At(f, p))
	}
}

// A strength is half at the reach and, by the formula, 1/(1+4(√2-1))² at twice the reach.
func TestReach(t *testing.T) {
	at := long.At(plane.Point{X: 1000, Y: 1000})
	twice := 1 / math.Pow(1+4*(math.Sqrt2-1), 2)
	for d, want := range map[float64]float64{500: 0.5, 1000: twice, 0.001: 1} {
		p := plane.Point{X: 1000 + d, Y: 1000}
		toward := Toward{Point: at, Reach: 500, Strength: 4}.At(long, p)
		assert.InDelta(t, -4*want, toward.X, 1e-9)
		swirl := Swirl{Centre: at, Axis: space.Vec{Y: -7}, Reach: 500, Strength: 4}.At(long, p)
		assert.InDelta(t, 4*want, swirl.Y, 1e-9)
		path := []space.Vec{long.At(plane.Point{X: -1e6, Y: 1000 + d}), long.At(plane.Point{X: 1e6, Y: 1000 + d})}
		along := Along{Path: path, Reach: 500, Strength: 4}.At(long, plane.Point{X: 1000, Y: 1000})
		assert.InDelta(t, 4*want, along.X, 1e-9)
	}
	assert.InDelta(t, 1.0/7, twice, 0.002, "as the package says")
}

func TestRoomSweep(t *testing.T) {
	// Along the long wall to the right and up: 3-4-5.
	c := RoomSweep{Way: space.Vec{X: 40, Z: 30}, Strength: 5}
	p := plane.Point{X: 123, Y: 456}
	equal(t, plane.Point{X: 4, Y: 3}, c.At(long, p), "along it")
	equal(t, plane.Point{X: -4, Y: 3}, c.At(opposite, p), "seen from the other side")
	equal(t, plane.Point{Y: 3}, c.At(ticket, p), "only the rise is left")
	equal(t, plane.Point{X: 4}, c.At(ceiling, p), "only the level part is left")
	equal(t, plane.Point{X: 4 * math.Cos(37*math.Pi/180), Y: 3}, c.At(askew, p), "at 37°")
	assert.Equal(t, plane.Point{}, RoomSweep{Strength: 1}.At(long, p), "no way at all")
}

// Where a flow meets a face square on, nothing is left, not even an error of rounding that would
// give pieces a heading by chance.
func TestNothingLeftIsNothing(t *testing.T) {
	for degrees := -179.0; degrees < 180; degrees++ {
		f := space.Upright(space.Vec{X: 300, Y: 20}, degrees)
		got := Field{RoomSweep{Way: f.Out.Scale(-3), Strength: 1}}.At(f, plane.Point{X: 1, Y: 2})
		assert.Equal(t, plane.Point{}, got, degrees)
		assert.Zero(t, got.Angle())
	}
}

// On the way round to a face that a current meets square on, its length goes down as the sine of
// the angle to that face's normal.
func TestFadesAsTheSine(t *testing.T) {
	for degrees := 0.0; degrees <= 90; degrees += 7.5 {
		f := space.Upright(space.Vec{}, degrees)
		got := RoomSweep{Way: space.Vec{X: 1}, Strength: 2}.At(f, plane.Point{})
		assert.InDelta(t, 2*math.Cos(degrees*math.Pi/180), got.Len(), 1e-12)
	}
}

func TestSwirl(t *testing.T) {
	centre := long.At(plane.Point{X: 2000, Y: 1200})
	c := Swirl{Centre: centre, Axis: long.Out, Strength: 2}
	equal(t, plane.Point{Y: 2}, c.At(long, plane.Point{X: 2500, Y: 1200}), "right of it: up")
	equal(t, plane.Point{X: -2}, c.At(long, plane.Point{X: 2000, Y: 1300}), "above it: left")
	equal(t, plane.Point{X: 1.6, Y: -1.2}, c.At(long, plane.Point{X: 1700, Y: 800}), "left and below: 3-4-5")
	assert.Equal(t, plane.Point{}, c.At(long, plane.Point{X: 2000, Y: 1200}), "on the axis")

	// A standing axis 1000 mm before the long wall: the nearest place runs along it at full strength,
	// and both ways from there it bends into the wall.
	c = Swirl{Centre: space.Vec{X: 3000, Y: -1000}, Axis: space.Vec{Z: 1}, Strength: 1}
	equal(t, plane.Point{X: -1}, c.At(long, plane.Point{X: 3000, Y: 900}), "behind the axis, to the left")
	equal(t, plane.Point{X: -math.Sqrt2 / 2}, c.At(long, plane.Point{X: 4000, Y: 10}), "aside of it")
	// A wall 3400 mm to its right: there it runs away from the viewer, which is left on that wall.
	equal(t, plane.Point{X: -1}, c.At(ticket, plane.Point{X: 1000, Y: 5}), "beside the axis")
	equal(t, plane.Point{X: 1}, c.At(ceiling, plane.Point{X: 3000, Y: 1200}), "in front of the axis, to the right")
}

func TestAlongAStraightPath(t *testing.T) {
	path := []space.Vec{long.At(plane.Point{X: 1000, Y: 1000}), long.At(plane.Point{X: 1000, Y: 1000}), long.At(plane.Point{X: 4000, Y: 1000})}
	c := Along{Path: path, Reach: 200, Strength: 3}
	assert.InDelta(t, 3, c.At(long, plane.Point{X: 2500, Y: 1000}).X, 0.005, "on the path")
	assert.InDelta(t, 1.5, c.At(long, plane.Point{X: 2500, Y: 1200}).X, 0.005, "at the reach")
	assert.InDelta(t, 1.5, c.At(long, plane.Point{X: 4000, Y: 1000}).X, 0.005, "at its end")
	assert.Less(t, c.At(long, plane.Point{X: 5000, Y: 1000}).Len(), 0.01, "past its end")
	for y := 0.0; y < 2500; y += 50 {
		got := c.At(long, plane.Point{X: 2500, Y: y})
		assert.Positive(t, got.X, "it runs on however far away")
		assert.Zero(t, got.Y)
	}
	assert.Equal(t, plane.Point{}, Along{Path: path, Strength: 1}.At(long, plane.Point{X: 2000, Y: 1000}), "without a reach")
	assert.Equal(t, plane.Point{}, Along{Path: path[:2], Reach: 9, Strength: 1}.At(long, plane.Point{X: 2000, Y: 1000}), "without a length")
}

// The closed form is the sum over the path that it stands for.
func TestAlongIsASumOverThePath(t *testing.T) {
	path := []space.Vec{{X: 100, Z: 200}, {X: 900, Z: 700}, {X: 1400, Y: -300, Z: 650}, {X: 300, Y: -900, Z: 100}}
	c := Along{Path: path, Reach: 350, Strength: 1}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		p := plane.Point{X: 2000 * rng.Float64(), Y: 1200 * rng.Float64()}
		at := long.At(p)
		core := 350 * 350 / (math.Sqrt2 - 1)
		var sum space.Vec
		for i := 1; i < len(path); i++ {
			step := path[i].Sub(path[i-1])
			const n = 2000
			for k := range n {
				off := path[i-1].Add(step.Scale((float64(k) + 0.5) / n)).Sub(at)
				sum = sum.Add(step.Scale(0.75 * core * core / n * math.Pow(core+off.Dot(off), -2.5)))
			}
		}
		want := long.Flatten(sum)
		got := c.At(long, p)
		assert.InDelta(t, want.X, got.X, 1e-6)
		assert.InDelta(t, want.Y, got.Y, 1e-6)
	}
}

// A path that winds from one wall round the corner on to the next carries its direction with it.
func TestAlongRunsOverACorner(t *testing.T) {
	path := []space.Vec{
		long.At(plane.Point{X: 4000, Y: 1000}), long.At(plane.Point{X: 6400, Y: 1500}), ticket.At(plane.Point{X: 2400, Y: 2000}),
	}
	c := Along{Path: path, Reach: 300, Strength: 1}
	way := math.Atan2(500, 2400)
	assert.InDelta(t, way, c.At(long, plane.Point{X: 5200, Y: 1250}).Angle(), 0.01)
	assert.InDelta(t, way, c.At(ticket, plane.Point{X: 1200, Y: 1750}).Angle(), 0.01)
	assert.Positive(t, c.At(long, plane.Point{X: 6399, Y: 1500}).X)
	assert.Positive(t, c.At(ticket, plane.Point{X: 1, Y: 1500}).X)
}

// Near a circle drawn as many short stretches the current is its tangent.
func TestAlongFollowsABend(t *testing.T) {
	const radius, n = 1000, 180
	var path []space.Vec
	for i := range n + 1 {
		path = append(path, long.At(plane.Point{X: radius}.Rotate(2*math.Pi*float64(i)/n)))
	}
	c := Along{Path: path, Reach: 150, Strength: 1}
	for _, r := range []float64{850, 1000, 1150} {
		for a := 0.0; a < 6.28; a += 0.1 {
			got := c.At(long, plane.Point{X: r}.Rotate(a)).Rotate(-a)
			assert.InDelta(t, math.Pi/2, got.Angle(), 0.02)
		}
	}
}

// everything holds one current of every kind that is defined in the room.
func everything() Field {
	return Field{
		Toward{Point: space.Vec{X: 3000, Y: -1500, Z: 1800}, Strength: 1},
		Away{Point: space.Vec{X: 6000, Y: -900, Z: 400}, Reach: 700, Strength: 2},
		RoomSweep{Way: space.Vec{X: 3, Y: -1, Z: 0.5}, Strength: 0.7},
		Swirl{Centre: space.Vec{X: 5900, Y: -500, Z: 1000}, Axis: space.Vec{X: 1, Y: 2, Z: 3}, Reach: 600, Strength: 1.5},
		Along{Path: []space.Vec{{X: 5000, Z: 300}, {X: 6400, Z: 900}, {X: 6400, Y: -1500, Z: 1500}, {X: 5200, Y: -1500, Z: 2700}}, Reach: 400, Strength: 2},
	}
}

// corner is two faces that meet: at share t of their common edge, at a on one and at b on the other.
type corner struct {
	what string
	f, g space.Frame
	a, b func(t float64) plane.Point
}

func corners() []corner {
	standing := func(x float64) func(float64) plane.Point {
		return func(t float64) plane.Point { return plane.Point{X: x, Y: 2700 * t} }
	}
	level := func(y float64) func(float64) plane.Point {
		return func(t float64) plane.Point { return plane.Point{X: 6400 * t, Y: y} }
	}
	return []corner{
		{"inside", long, ticket, standing(6400), standing(0)},
		{"outside", long, beyond, standing(6400), standing(0)},
		{"at 37°", long, askew, standing(6400), standing(0)},
		{"wall and ceiling", long, ceiling, level(2700), level(4200)},
	}
}

// A flow of the room has the same share along a corner on both faces, and nowhere on a face does
// it jump.
func TestTheRoomsFlowIsContinuousOverCorners(t *testing.T) {
	for _, c := range corners() {
		assert.InDelta(t, 0, c.f.At(c.a(0.3)).Sub(c.g.At(c.b(0.3))).Len(), 1e-9, "the faces meet")
		edge := c.f.At(c.a(1)).Sub(c.f.At(c.a(0)))
		edge = edge.Scale(1 / edge.Len())
		for i, current := range append(everything(), Field(everything())) {
			for share := 0.0; share <= 1; share += 0.01 {
				a, b := current.At(c.f, c.a(share)), current.At(c.g, c.b(share))
				assert.InDelta(t, a.Dot(c.f.Flatten(edge)), b.Dot(c.g.Flatten(edge)), 1e-9, "%s %d", c.what, i)
			}
		}
	}
}

func TestNoCurrentJumps(t *testing.T) {
	currents := append(everything(), NewMeander(900, 5, 1))
	for _, f := range []space.Frame{long, ticket, opposite, beyond, askew, ceiling} {
		for i, c := range currents {
			for x := 0.0; x < 6400; x += 97 {
				for y := 0.0; y < 2700; y += 89 {
					p := plane.Point{X: x, Y: y}
					here := c.At(f, p)
					for _, step := range []plane.Point{{X: 0.01}, {Y: 0.01}} {
						// Only within 20 mm of the middle of a current does so short a step turn it more.
						assert.Less(t, c.At(f, p.Add(step)).Distance(here), 0.001, "%d at %v", i, p)
					}
				}
			}
		}
	}
}

func TestAMeanderRunsOverCorners(t *testing.T) {
	for seed := range uint64(5) {
		m := NewMeander(800, seed, 1)
		for _, c := range corners() {
			edge := c.f.At(c.a(1)).Sub(c.f.At(c.a(0)))
			edge = edge.Scale(1 / edge.Len())
			// What is square to the edge, turned clockwise from it on either face as it is looked at.
			a0, b0 := c.f.Flatten(edge).Rotate(-math.Pi/2), c.g.Flatten(edge).Rotate(-math.Pi/2)
			most := 0.0
			for share := 0.0; share <= 1; share += 0.01 {
				a, b := m.At(c.f, c.a(share)), m.At(c.g, c.b(share))
				assert.InDelta(t, a.Dot(a0), b.Dot(b0), 1e-9, c.what)
				most = max(most, math.Abs(a.Dot(a0)))
			}
			assert.Greater(t, most, 0.3, "something runs over it")
		}
	}
}

func TestAMeanderHasNoDivergence(t *testing.T) {
	m := NewMeander(600, 3, 1)
	const h = 0.1
	for _, f := range []space.Frame{long, askew, ceiling} {
		steepest := 0.0
		for x := 0.0; x < 3000; x += 83 {
			for y := 0.0; y < 2700; y += 71 {
				right := m.At(f, plane.Point{X: x + h, Y: y}).Sub(m.At(f, plane.Point{X: x - h, Y: y}))
				up := m.At(f, plane.Point{X: x, Y: y + h}).Sub(m.At(f, plane.Point{X: x, Y: y - h}))
				assert.InDelta(t, 0, (right.X+up.Y)/(2*h), 1e-8)
				steepest = max(steepest, math.Abs(right.X)/(2*h))
			}
		}
		assert.Greater(t, steepest, 1e-3, "against slopes that are not small")
	}
}

// Over a large face a meander has the strength asked, favours no direction, and turns as often as
// its size says.
func TestTheStrengthAndSizeOfAMeander(t *testing.T) {
	const size, wide = 500, 40_000
	var square, across, turns, rows float64
	var sum plane.Point
	n := 0.0
	for seed := range uint64(4) {
		m := NewMeander(size, seed, 2)
		for y := 0.0; y < wide; y += 1000 {
			last := 0.0
			rows++
			for x := 0.0; x < wide; x += 50 {
				v := m.At(long, plane.Point{X: x, Y: y})
				square, across, n = square+v.Dot(v), across+v.X*v.X, n+1
				sum = sum.Add(v)
				if v.Y*last < 0 {
					turns++
				}
				last = v.Y
			}
		}
	}
	assert.InDelta(t, 2, math.Sqrt(square/n), 0.1)
	assert.InDelta(t, 0.5, across/square, 0.05)
	assert.Less(t, sum.Len()/n, 0.05)
	// Two turns to a wave; waves that meet the face aslant are longer on it.
	assert.InDelta(t, 2*wide/size, turns/rows, 0.4*2*wide/size)
	assert.Less(t, turns/rows, 2.0*wide/size)
}

func TestAMeanderHangsOnItsSeed(t *testing.T) {
	p := plane.Point{X: 1234, Y: 567}
	assert.Equal(t, NewMeander(700, 9, 1).At(long, p), NewMeander(700, 9, 1).At(long, p))
	assert.NotEqual(t, NewMeander(700, 9, 1).At(long, p), NewMeander(700, 10, 1).At(long, p))
}

func BenchmarkMeander(b *testing.B) {
	m := NewMeander(600, 1, 1)
	for i := range b.N {
		m.At(long, plane.Point{X: float64(i % 6000), Y: 1000})
	}
}

func BenchmarkAlong(b *testing.B) {
	c := everything()[4]
	for i := range b.N {
		c.At(long, plane.Point{X: float64(i % 6000), Y: 1000})
	}
}
