package flow

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

func progressAt(t *testing.T, fl Field, f space.Frame, p plane.Point) float64 {
	t.Helper()
	mm, ok := fl.Progress(f, p)
	require.True(t, ok)
	return mm
}

func TestProgressByHand(t *testing.T) {
	point := ticket.At(plane.Point{X: 300, Y: 1200})
	// 400 mm short of the corner and 300 mm past it.
	assert.Equal(t, -500.0, progressAt(t, Field{Toward{Point: point, Strength: 7}}, long, plane.Point{X: 6000, Y: 1200}))
	assert.Equal(t, 500.0, progressAt(t, Field{Away{Point: point, Strength: 7}}, long, plane.Point{X: 6000, Y: 1200}))
	rise := RoomSweep{Way: space.Vec{X: 4, Z: 3}, Strength: 2}
	assert.Equal(t, 1000.0, progressAt(t, Field{rise}, long, plane.Point{X: 800, Y: 600}))
	assert.Equal(t, 500.0, progressAt(t, Field{rise, Away{Point: long.At(plane.Point{X: 800, Y: 600}), Strength: 2}}, long, plane.Point{X: 800, Y: 600}), "the mean of 1000 and 0")
	// Two stretches of 3000 and 2000 mm round the corner; half the reach is 50 mm.
	path := Along{Path: []space.Vec{long.At(plane.Point{X: 3400}), long.At(plane.Point{X: 6400}), ticket.At(plane.Point{X: 2000})}, Reach: 100, Strength: 1}
	for _, tt := range []struct {
		f    space.Frame
		x, y float64
		want float64
	}{
		{long, 4400, 0, 1000},
		{long, 5400, 900, 2000},
		{ticket, 1000, 2000, 4000},
		{long, 3400, 0, 50 * math.Sqrt(2/math.Pi)}, // the mean of half a normal distribution
		{ticket, 2000, 0, 5000 - 50*math.Sqrt(2/math.Pi)},
	} {
		assert.InDelta(t, tt.want, progressAt(t, Field{path}, tt.f, plane.Point{X: tt.x, Y: tt.y}), 0.01)
	}
	assert.InDelta(t, 5000, progressAt(t, Field{path}, ticket, plane.Point{X: 9000}), 2, "past its end")
	assert.InDelta(t, 0, progressAt(t, Field{path}, long, plane.Point{X: -90_000}), 0.1, "before its beginning")
}

// What leads nowhere does not count, and alone has no progress.
func TestWhatLeadsNowhere(t *testing.T) {
	nowhere := Field{
		Sweep{Strength: 3}, Swirl{Centre: space.Vec{X: 1}, Axis: space.Vec{Z: 1}, Strength: 2}, NewMeander(900, 1, 4),
		RoomSweep{Strength: 1}, Along{Path: []space.Vec{{X: 1}, {X: 1}}, Reach: 5, Strength: 1}, Along{Path: []space.Vec{{X: 1}, {X: 2}}, Strength: 1},
	}
	for _, fl := range []Field{nil, nowhere} {
		assert.False(t, fl.Leads())
		mm, ok := fl.Progress(long, plane.Point{X: 5, Y: 6})
		assert.False(t, ok)
		assert.Zero(t, mm)
	}
	one := Toward{Point: space.Vec{X: 3000, Y: -1500, Z: 1800}, Reach: 800, Strength: 0.5}
	assert.True(t, Field{one}.Leads())
	for x := 0.0; x < 6000; x += 500 {
		p := plane.Point{X: x, Y: 700}
		assert.Equal(t, progressAt(t, Field{one}, long, p), progressAt(t, append(nowhere, one), long, p))
	}
}

func leading() Field {
	return Field{
		Toward{Point: space.Vec{X: 3000, Y: -1500, Z: 1800}, Strength: 1},
		Away{Point: space.Vec{X: 6000, Y: -900, Z: 400}, Reach: 700, Strength: 2},
		RoomSweep{Way: space.Vec{X: 3, Y: -1, Z: 0.5}, Strength: 0.7},
		Toward{Point: space.Vec{X: 900, Y: -200, Z: 2400}, Reach: 1500, Strength: 1.3},
	}
}

// Of currents that run straight, the slope of the progress on a face is the current, as a share of
// all the strengths.
func TestTheSlopeOfProgressIsTheFlow(t *testing.T) {
	fl := leading()
	const h = 5.0 // progress is rounded to 0.01 mm
	for _, f := range []space.Frame{long, ticket, opposite, beyond, askew, ceiling} {
		for x := 50.0; x < 4200; x += 333 {
			for y := 50.0; y < 2700; y += 311 {
				slope := plane.Point{
					X: progressAt(t, fl, f, plane.Point{X: x + h, Y: y}) - progressAt(t, fl, f, plane.Point{X: x - h, Y: y}),
					Y: progressAt(t, fl, f, plane.Point{X: x, Y: y + h}) - progressAt(t, fl, f, plane.Point{X: x, Y: y - h}),
				}.Scale(1 / (2 * h))
				want := fl.At(f, plane.Point{X: x, Y: y}).Scale(1 / 5.0)
				assert.InDelta(t, 0, slope.Sub(want).Len(), 0.003, "%v %v", x, y)
			}
		}
	}
}

// follow walks along the flow from p on the face, and reports the least and the whole gain of
// progress, in mm, over steps of 4 mm.
func follow(t *testing.T, fl Field, f space.Frame, p plane.Point, steps int) (least, whole float64) {
	t.Helper()
	first := progressAt(t, fl, f, p)
	last, least := first, math.Inf(1)
	for range steps {
		way := fl.At(f, p)
		if way.Len() < 0.05 {
			break
		}
		p = p.Add(way.Scale(4 / way.Len()))
		here := progressAt(t, fl, f, p)
		least = min(least, here-last)
		last = here
	}
	return least, last - first
}

func TestProgressNeverFallsAlongTheFlow(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, f := range []space.Frame{long, ticket, opposite, askew, ceiling} {
		for range 20 {
			p := plane.Point{X: 4000 * rng.Float64(), Y: 2700 * rng.Float64()}
			// A step may pass a little over the place that a Toward runs to.
			least, _ := follow(t, Field{leading()[2], leading()[3]}, f, p, 400)
			assert.Greater(t, least, -2.1)
		}
	}
	// An arc of a circle and a way with a bend of 60°, followed from within the reach.
	var arc []space.Vec
	for i := range 19 {
		arc = append(arc, long.At(plane.Point{X: 3000, Y: 100}.Add(plane.Point{X: -2000}.Rotate(-float64(i)*math.Pi/18))))
	}
	bend := []space.Vec{long.At(plane.Point{X: 500, Y: 500}), long.At(plane.Point{X: 2500, Y: 500}), long.At(plane.Point{X: 3500, Y: 2232})}
	for _, path := range [][]space.Vec{arc, bend} {
		fl := Field{Along{Path: path, Reach: 400, Strength: 1}}
		length := 0.0
		for i := 1; i < len(path); i++ {
			length += path[i].Sub(path[i-1]).Len()
		}
		start, _ := long.Local(path[0])
		second, _ := long.Local(path[1])
		aside := second.Sub(start).Rotate(math.Pi / 2)
		aside = aside.Scale(1 / aside.Len())
		for off := -400.0; off <= 400; off += 100 {
			least, whole := follow(t, fl, long, start.Add(aside.Scale(off)), 2500)
			assert.GreaterOrEqual(t, least, 0.0, "%v beside", off)
			assert.InDelta(t, 1, whole/length, 0.15, "%v beside", off)
		}
	}
}

// Two places close together have much the same progress, also inside a bend and round a corner.
func TestProgressDoesNotJump(t *testing.T) {
	path := []space.Vec{long.At(plane.Point{X: 5000, Y: 300}), long.At(plane.Point{X: 6400, Y: 900}), ticket.At(plane.Point{X: 1500, Y: 1500}), ticket.At(plane.Point{X: 600, Y: 2600})}
	fl := append(leading(), Along{Path: path, Reach: 300, Strength: 2})
	for _, c := range corners() {
		for share := 0.0; share <= 1; share += 0.02 {
			assert.InDelta(t, progressAt(t, fl, c.f, c.a(share)), progressAt(t, fl, c.g, c.b(share)), 0.011, c.what)
		}
	}
	for x := 0.0; x < 3000; x += 60 {
		for y := 0.0; y < 2700; y += 60 {
			p := plane.Point{X: x, Y: y}
			assert.InDelta(t, progressAt(t, fl, ticket, p), progressAt(t, fl, ticket, p.Add(plane.Point{X: 0.5, Y: 0.5})), 15, "%v", p)
		}
	}
}

// The mean over the path that is worked out in closed form is that of a sum over many short parts.
func TestProgressAlongIsAMeanOverThePath(t *testing.T) {
	path := []space.Vec{{X: 100, Z: 200}, {X: 900, Z: 700}, {X: 900, Z: 700}, {X: 1400, Y: -300, Z: 650}, {X: 300, Y: -900, Z: 100}}
	fl := Field{Along{Path: path, Reach: 350, Strength: 3}}
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range 30 {
		p := plane.Point{X: 2000 * rng.Float64(), Y: 1200 * rng.Float64()}
		if i >= 20 {
			p = p.Scale(10) // where no weight is left that could be summed as it is
		}
		at := long.At(p)
		var far2, arc, share []float64
		nearest, gone := math.Inf(1), 0.0
		for k := 1; k < len(path); k++ {
			step := path[k].Sub(path[k-1])
			const n = 4000
			for j := range n {
				part := (float64(j) + 0.5) / n
				off := path[k-1].Add(step.Scale(part)).Sub(at)
				far2, arc, share = append(far2, off.Dot(off)), append(arc, gone+part*step.Len()), append(share, step.Len()/n)
				nearest = min(nearest, off.Dot(off))
			}
			gone += step.Len()
		}
		var sum, weights float64
		for k := range arc {
			w := share[k] * math.Exp((nearest-far2[k])/(2*175*175))
			sum, weights = sum+w*arc[k], weights+w
		}
		assert.InDelta(t, sum/weights, progressAt(t, fl, long, p), 0.02, "%v", p)
	}
}

func TestScaledErfc(t *testing.T) {
	for x := 0.0; x < 25; x += 0.25 {
		assert.InEpsilon(t, math.Exp(x*x)*math.Erfc(x), scaledErfc(x), 1e-7)
	}
	assert.InEpsilon(t, 1/(1e9*math.SqrtPi), scaledErfc(1e9), 1e-12)
}
