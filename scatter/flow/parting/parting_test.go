package parting

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/flow"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

var face = space.Upright(space.Vec{}, 0)

func without(t testing.TB, open plane.Region, away ...plane.Region) plane.Region {
	t.Helper()
	free, err := open.Difference(away...)
	require.NoError(t, err)
	return free
}

func box(x, y, w, h float64) plane.Region {
	return plane.RegionOf(plane.Rectangle(plane.Point{X: x, Y: y}, w, h))
}

// parted returns the parted flow.
func parted(t testing.TB, field flow.Field, open, free plane.Region, cell float64) func(plane.Point) plane.Point {
	t.Helper()
	c, err := Solve(context.Background(), face, field, open, free, cell)
	require.NoError(t, err)
	return func(p plane.Point) plane.Point { return field.At(face, p).Add(c.At(p)) }
}

// cylinder returns the flow past a disc of radius 500 mm round the origin, as the program finds
// it, in units of the stream far away.
//
// The face is a round one, six times as wide, about the same centre. A uniform stream whose normal
// part is kept on its edge is parted there into exactly the flow past the disc in an endless
// stream that is faster by 1/(1-1/36), for that flow has the same normal part on that circle.
func cylinder(t testing.TB, cell float64) func(plane.Point) plane.Point {
	const wide = 6
	open := plane.RegionOf(plane.Ellipse(plane.Point{}, wide*radius, wide*radius, 2000))
	disc := plane.RegionOf(plane.Ellipse(plane.Point{}, radius, radius, 720))
	stream := 1 - 1/float64(wide*wide)
	return parted(t, flow.Field{flow.Sweep{Strength: stream}}, open, without(t, open, disc), cell)
}

const radius = 500.0

// The flow past a cylinder, U(1 - a²/z²) with U = 1 and a = 1.
func exact(p plane.Point) plane.Point {
	r2 := p.Dot(p) / (radius * radius)
	double := 2 * p.Angle()
	return plane.Point{X: 1 - math.Cos(double)/r2, Y: -math.Sin(double) / r2}
}

// misses returns the largest difference from the exact flow within three radii of the disc, the
// root of the mean square, and the largest difference from the speed 2|sin t| on the disc itself.
func misses(at func(plane.Point) plane.Point) (worst, mean, surface float64) {
	n := 0.0
	for r := radius; r <= 4*radius; r += 37 {
		for a := 0.0; a < 2*math.Pi; a += 0.04 {
			p := plane.Point{X: r}.Rotate(a)
			miss := at(p).Distance(exact(p))
			worst, mean, n = max(worst, miss), mean+miss*miss, n+1
			if r == radius {
				along := at(p).Rotate(-a).Y
				surface = max(surface, math.Abs(math.Abs(along)-2*math.Abs(math.Sin(a))))
			}
		}
	}
	return worst, math.Sqrt(mean / n), surface
}

// The error falls with the size of the cells: at worst, on the disc itself, about as the size, and
// over all faster. With cells of h mm it is at most 0.8 h/a of the stream, a being the radius; the
// mean is below a twentieth of that for the cells that are used.
func TestTheErrorFallsWithTheCells(t *testing.T) {
	var sizes, worsts, means []float64
	for cell := 160.0; cell > 35; cell /= math.Sqrt2 {
		worst, mean, surface := misses(cylinder(t, cell))
		t.Logf("cells of %5.1f mm: worst %.4f, mean %.4f, speed on the disc %.4f", cell, worst, mean, surface)
		assert.Less(t, worst, 0.8*cell/radius)
		assert.Less(t, surface, 0.8*cell/radius)
		assert.Less(t, mean, 0.32*math.Pow(cell/radius, 1.5))
		sizes, worsts, means = append(sizes, cell), append(worsts, worst), append(means, mean)
	}
	last := len(sizes) - 1
	order := func(errors []float64) float64 {
		return math.Log(errors[0]/errors[last]) / math.Log(sizes[0]/sizes[last])
	}
	assert.Greater(t, order(worsts), 1.0)
	assert.Greater(t, order(means), 1.4)
}

// Velocities of the flow past a cylinder at places off it, computed from U(1 - a²/z²), and its
// speed 2U|sin t| on it (physicsforums.com, thread 445982).
func TestVelocitiesPastACylinder(t *testing.T) {
	at := cylinder(t, 40)
	for _, row := range []struct{ place, want plane.Point }{
		{plane.Point{X: 2}, plane.Point{X: 0.75}},
		{plane.Point{Y: 2}, plane.Point{X: 1.25}},
		{plane.Point{X: 3}, plane.Point{X: 8.0 / 9}},
		{plane.Point{X: math.Sqrt2, Y: math.Sqrt2}, plane.Point{X: 1, Y: -0.25}},
	} {
		assert.InDelta(t, 0, at(row.place.Scale(radius)).Distance(row.want), 0.005, row.place)
	}
	assert.InDelta(t, 2, at(plane.Point{Y: radius}).X, 0.02, "on top")
	assert.Less(t, at(plane.Point{X: -radius}).Len(), 0.04, "it comes to rest in front")
	assert.Less(t, at(plane.Point{X: radius}).Len(), 0.04, "and behind")
}

// The streamline (x²+y²)(y-c) - a²y = 0 with a = c = 1 (Encyclopaedia Britannica, 11th ed.,
// Hydromechanics, eq. 3), whose heights at x = 0, 2 and 4 are computed from it.
func TestAStreamlinePastACylinder(t *testing.T) {
	at := cylinder(t, 40)
	p := plane.Point{Y: 1.618034 * radius}
	heights := map[float64]float64{2: 1.222495, 4: 1.062005}
	for _, x := range []float64{2, 4} {
		for p.X < x*radius {
			half := at(p)
			v := at(p.Add(half.Scale(2.5 / half.X)))
			p = p.Add(v.Scale(5 / v.X))
		}
		assert.InDelta(t, heights[x], p.Y/radius, 0.003)
	}
}

// works is a wall with a window, a door that stands on the floor, and a round alarm.
func works(t testing.TB) (open, free plane.Region) {
	open = box(50, 50, 5900, 2900)
	alarm := plane.RegionOf(plane.Ellipse(plane.Point{X: 5000, Y: 2400}, 150, 150, 64))
	return open, without(t, open, box(1500, 900, 1200, 1000), box(3500, 0, 1000, 2100), alarm)
}

func field() flow.Field {
	return flow.Field{flow.Sweep{Angle: 0.2, Strength: 1}, flow.Toward{Point: space.Vec{X: 5300, Y: -200, Z: 1400}, Strength: 1}}
}

// On the walls of obstructions the flow runs along them, where it ran aslant into them before; on the
// edges of the face nothing changes in what runs over them.
func TestNothingRunsIntoObstructions(t *testing.T) {
	open, free := works(t)
	at := parted(t, field(), open, free, 40)
	for _, side := range []struct{ from, to plane.Point }{
		{plane.Point{X: 1500, Y: 900}, plane.Point{X: 1500, Y: 1900}},
		{plane.Point{X: 1500, Y: 1900}, plane.Point{X: 2700, Y: 1900}},
		{plane.Point{X: 3500, Y: 50}, plane.Point{X: 3500, Y: 2100}},
		{plane.Point{X: 3500, Y: 2100}, plane.Point{X: 4500, Y: 2100}},
	} {
		way := side.to.Sub(side.from)
		out := way.Rotate(math.Pi / 2).Scale(1 / way.Len())
		var before, after, n float64
		for s := 0.1; s < 0.9; s += 0.01 { // the flow turns sharply at the corners themselves
			p := side.from.Lerp(side.to, s).Add(out.Scale(1))
			before += math.Abs(field().At(face, p).Dot(out)) / field().At(face, p).Len()
			after += math.Abs(at(p).Dot(out)) / at(p).Len()
			n++
		}
		t.Logf("%v: %.4f, was %.4f", side, after/n, before/n)
		assert.Less(t, after/n, 0.03, side)
		assert.Less(t, after, before/5, side)
	}
	for y := 100.0; y < 2900; y += 100 {
		p := plane.Point{X: 50, Y: y}
		assert.InDelta(t, field().At(face, p).X, at(p).X, 0.02)
	}
	for x := 100.0; x < 3400; x += 100 {
		p := plane.Point{X: x, Y: 2950}
		assert.InDelta(t, field().At(face, p).Y, at(p).Y, 0.02)
	}
}

// What parting adds turns nowhere, and gathers and scatters nowhere more than elsewhere: there is no
// circulation round any square, and the net flow out of each, which makes up for what no longer runs
// into obstructions, is the same.
func TestThePartingIsAPotentialFlow(t *testing.T) {
	open, free := works(t)
	c, err := Solve(context.Background(), face, field(), open, free, 40)
	require.NoError(t, err)
	var nets []float64
	for _, corner := range []plane.Point{{X: 300, Y: 300}, {X: 1000, Y: 2100}, {X: 2900, Y: 1000}, {X: 4650, Y: 1300}} {
		const side, n = 500, 1000
		var net, round, all float64
		for k := range n {
			s := (float64(k) + 0.5) * side / n
			bottom, top := c.At(corner.Add(plane.Point{X: s})), c.At(corner.Add(plane.Point{X: s, Y: side}))
			left, right := c.At(corner.Add(plane.Point{Y: s})), c.At(corner.Add(plane.Point{X: side, Y: s}))
			net += right.X - left.X + top.Y - bottom.Y
			round += bottom.X - top.X + right.Y - left.Y
			all += bottom.Len() + top.Len() + left.Len() + right.Len()
		}
		nets = append(nets, net)
		assert.Less(t, math.Abs(round), 0.005*all)
		assert.Less(t, math.Abs(net-nets[0]), 0.005*all)
	}
}

func TestNothingInTheWayChangesNothing(t *testing.T) {
	open := box(50, 50, 3000, 2000)
	c, err := Solve(context.Background(), face, field(), open, open, 40)
	require.NoError(t, err)
	for x := 0.0; x < 3100; x += 150 {
		assert.Equal(t, plane.Point{}, c.At(plane.Point{X: x, Y: 700}))
	}
	for _, r := range []plane.Region{{}, open} {
		c, err = Solve(context.Background(), face, field(), plane.Region{}, r, 40)
		require.NoError(t, err)
		assert.Equal(t, plane.Point{}, c.At(plane.Point{X: 9, Y: 9}))
		c, err = Solve(context.Background(), face, field(), open, plane.Region{}, 40)
		require.NoError(t, err)
		assert.Equal(t, plane.Point{}, c.At(plane.Point{X: 9, Y: 9}))
	}
}

// A breast from floor to ceiling stops a sweep: on either side it runs down to nothing, evenly, as
// it can go nowhere else.
func TestAFlowThatIsStoppedRunsDownEvenly(t *testing.T) {
	open := box(0, 0, 4000, 2000)
	free := without(t, open, box(2000, 0, 600, 2000))
	at := parted(t, flow.Field{flow.Sweep{Strength: 1}}, open, free, 40)
	for x := 20.0; x < 2000; x += 60 {
		for y := 20.0; y < 2000; y += 130 {
			v := at(plane.Point{X: x, Y: y})
			assert.InDelta(t, 1-x/2000, v.X, 0.02)
			assert.InDelta(t, 0, v.Y, 0.01)
		}
	}
	assert.InDelta(t, 0.5, at(plane.Point{X: 3300, Y: 500}).X, 0.02)
}

// Turned by a quarter, or seen in a mirror, the same flow is parted in the same way.
func TestPartingTurnsWithTheFlow(t *testing.T) {
	open := box(0, 0, 2000, 2000)
	disc := plane.RegionOf(plane.Ellipse(plane.Point{X: 900, Y: 1200}, 300, 300, 360))
	turned := plane.RegionOf(plane.Ellipse(plane.Point{X: 800, Y: 900}, 300, 300, 360))
	right := parted(t, flow.Field{flow.Sweep{Strength: 1}}, open, without(t, open, disc), 40)
	up := parted(t, flow.Field{flow.Sweep{Angle: math.Pi / 2, Strength: 1}}, open, without(t, open, turned), 40)
	for x := 30.0; x < 2000; x += 70 {
		for y := 10.0; y < 2000; y += 90 {
			a, b := right(plane.Point{X: x, Y: y}), up(plane.Point{X: 2000 - y, Y: x})
			assert.InDelta(t, 0, a.Distance(b.Rotate(-math.Pi/2)), 1e-4)
		}
	}
}

// A flow towards a place inside an obstruction still runs towards it, and stops before it.
func TestTowardsWhatIsInTheWay(t *testing.T) {
	open := box(0, 0, 4000, 2600)
	free := without(t, open, box(1500, 900, 1000, 800))
	middle := plane.Point{X: 2000, Y: 1300}
	at := parted(t, flow.Field{flow.Toward{Point: face.At(middle), Strength: 1}}, open, free, 40)
	for _, p := range []plane.Point{{X: 700, Y: 1300}, {X: 1200, Y: 1000}, {X: 2000, Y: 2300}, {X: 3500, Y: 300}} {
		to := middle.Sub(p)
		assert.Greater(t, at(p).Dot(to)/to.Len(), 0.1, p)
	}
	assert.InDelta(t, 0, at(plane.Point{X: 1499, Y: 1300}).X, 0.03)
}

// Places off the grid, on a face smaller than a cell too, have a correction like any other.
func TestOffTheGrid(t *testing.T) {
	open := box(0, 0, 1000, 1000)
	c, err := Solve(context.Background(), face, field(), open, without(t, open, box(400, 400, 200, 200)), 40)
	require.NoError(t, err)
	for _, p := range []plane.Point{{X: -1e6, Y: 500}, {X: 1e6, Y: 1e6}, {X: 500, Y: 500}, {X: 1000, Y: 1000}} {
		assert.True(t, c.At(p).Finite(), p)
	}
	tiny := box(0, 0, 30, 10)
	c, err = Solve(context.Background(), face, field(), tiny, without(t, tiny, box(10, 0, 5, 5)), 40)
	require.NoError(t, err)
	assert.True(t, c.At(plane.Point{X: 3, Y: 3}).Finite())
}

func TestSolveStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	open, free := works(t)
	_, err := Solve(ctx, face, field(), open, free, 50)
	assert.ErrorIs(t, err, context.Canceled)
}

func TestCellKeepsTheGridSmall(t *testing.T) {
	assert.Equal(t, 60.0, Cell(6000*3000))
	for _, size := range []plane.Point{{X: 1e6, Y: 1e6}, {X: 1e6, Y: 1}, {X: 50_000, Y: 9000}} {
		g := newGrid(plane.Rect{Max: size}, Cell(size.X*size.Y))
		assert.LessOrEqual(t, g.columns*g.rows, 105_000, size)
	}
}

func BenchmarkSolve(b *testing.B) {
	open, free := works(b)
	b.ResetTimer()
	for range b.N {
		if _, err := Solve(context.Background(), face, field(), open, free, 40); err != nil {
			b.Fatal(err)
		}
	}
}

// The depths of the corners of a grid are those that the region itself tells, up to two cells.
func TestDepthsAreDistances(t *testing.T) {
	open, free := works(t)
	for _, r := range []plane.Region{open, free} {
		for _, cell := range []float64{40, 77.7} {
			g := newGrid(r.Bounds().Grow(cell), cell)
			for c, d := range g.depths(r) {
				at := g.corner(c%(g.columns+1), c/(g.columns+1))
				assert.InDelta(t, math.Min(2*cell, math.Max(-2*cell, r.Distance(at))), d, 1e-6, at)
			}
		}
	}
}
