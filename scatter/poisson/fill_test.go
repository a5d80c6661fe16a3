package poisson_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// square is a chart that may take points anywhere on a square of the given side.
func square(side float64, frame space.Frame) poisson.Chart {
	return poisson.Chart{
		Frame:  frame,
		Bounds: plane.Rect{Max: plane.Point{X: side, Y: side}},
		Deep: func(p plane.Point, d float64) bool {
			return min(p.X, p.Y, side-p.X, side-p.Y) >= d
		},
	}
}

var front = space.Upright(space.Vec{}, 0)

// linked returns the charts, each linked to every other by the straight way through the room.
func linked(charts ...poisson.Chart) []poisson.Chart {
	for i := range charts {
		for j := range charts {
			if i != j {
				charts[i].Links = append(charts[i].Links, poisson.Link{To: j, Straight: true})
			}
		}
	}
	return charts
}

func fill(t testing.TB, charts []poisson.Chart, radius float64, seed uint64) *poisson.Grid {
	t.Helper()
	g, err := poisson.Fill(context.Background(), charts, poisson.Spacing{Scale: radius}, nil, nil, rand.New(rand.NewPCG(seed, 1)))
	require.NoError(t, err)
	return g
}

// places returns where the points of g lie in the room.
func places(charts []poisson.Chart, g *poisson.Grid) []space.Vec {
	out := make([]space.Vec, g.Len())
	for i := range out {
		p := g.Point(i)
		out[i] = charts[p.Chart].Frame.At(p.At)
	}
	return out
}

func closest(vs []space.Vec) float64 {
	best := math.Inf(1)
	for i, v := range vs {
		for _, w := range vs[:i] {
			best = min(best, v.Sub(w).Len())
		}
	}
	return best
}

func TestFillKeepsItsDistanceRoundCorners(t *testing.T) {
	for _, turn := range []float64{0, 30, 90, 135, -90, 17.3} {
		t.Run(fmt.Sprint(turn), func(t *testing.T) {
			second := space.Upright(front.At(plane.Point{X: 400}), -turn)
			charts := linked(square(400, front), square(400, second))
			for seed := range uint64(20) {
				vs := places(charts, fill(t, charts, 37, seed))
				require.Greater(t, len(vs), 100)
				require.GreaterOrEqual(t, closest(vs), 37.0)
			}
		})
	}
}

// A hundred thousand darts more find no room: the fill is maximal to the test's resolution.
func TestFillLeavesNoRoom(t *testing.T) {
	second := space.Upright(front.At(plane.Point{X: 600}), -90)
	charts := linked(square(600, front), square(600, second))
	g := fill(t, charts, 31, 5)
	rng := rand.New(rand.NewPCG(8, 8))
	for range 100_000 {
		p := poisson.Point{Chart: rng.IntN(2), At: plane.Point{X: 600 * rng.Float64(), Y: 600 * rng.Float64()}}
		require.True(t, g.Crowded(p), "%v has room", p)
	}
}

// Random sequential discs stop at a coverage of 0.547 (Feder 1980; Zhang and Torquato 2013, from
// memory beyond three digits). Only points farther than two radii from the edge count, against
// the area they are counted in.
func TestFillReachesTheRandomSequentialLimit(t *testing.T) {
	const side, radius = 1000.0, 9.0
	var inside int
	var area float64
	for seed := range uint64(4) {
		charts := []poisson.Chart{square(side, front)}
		g := fill(t, charts, radius, seed)
		for i := range g.Len() {
			if charts[0].Deep(g.Point(i).At, 2*radius) {
				inside++
			}
		}
		area += (side - 4*radius) * (side - 4*radius)
	}
	coverage := float64(inside) * math.Pi * radius * radius / 4 / area
	assert.InDelta(t, 0.547, coverage, 0.003)
}

func TestFillFollowsItsSeed(t *testing.T) {
	charts := []poisson.Chart{square(500, front)}
	assert.Equal(t, places(charts, fill(t, charts, 20, 3)), places(charts, fill(t, charts, 20, 3)))
	assert.NotEqual(t, places(charts, fill(t, charts, 20, 3)), places(charts, fill(t, charts, 20, 4)))
}

func TestFillHeedsTheJudge(t *testing.T) {
	charts := []poisson.Chart{square(500, front)}
	left := func(p poisson.Point, _ *poisson.Grid) bool { return p.At.X < 250 }
	g, err := poisson.Fill(context.Background(), charts, poisson.Spacing{Scale: 20}, nil, left, rand.New(rand.NewPCG(1, 1)))
	require.NoError(t, err)
	require.Greater(t, g.Len(), 150)
	for i := range g.Len() {
		require.Less(t, g.Point(i).At.X, 250.0)
	}
}

func TestFillStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := poisson.Fill(ctx, []poisson.Chart{square(500, front)}, poisson.Spacing{Scale: 5}, nil, nil, rand.New(rand.NewPCG(1, 1)))
	require.ErrorIs(t, err, context.Canceled)
}

// A thin frame round a square kilometre costs what the frame costs, not what the square does.
func TestFillOfAThinFrame(t *testing.T) {
	chart := square(1e6, front)
	inner := chart.Deep
	chart.Deep = func(p plane.Point, d float64) bool { return inner(p, d) && !inner(p, 3-d) }
	g := fill(t, []poisson.Chart{chart}, 200, 1)
	assert.Greater(t, g.Len(), 10_000)
}

func TestNearFindsWhatASearchOfAllFinds(t *testing.T) {
	second := space.Upright(front.At(plane.Point{X: 300}), -60)
	charts := linked(square(300, front), square(300, second))
	g := fill(t, charts, 14, 2)
	vs := places(charts, g)
	for i := range g.Len() {
		want := map[int]bool{}
		for j, v := range vs {
			if v.Sub(vs[i]).Len() <= 40 {
				want[j] = true
			}
		}
		got := map[int]bool{}
		g.Near(g.Point(i), 40, func(j int, d float64) bool {
			assert.InDelta(t, vs[i].Sub(vs[j]).Len(), d, 1e-9)
			got[j] = true
			return true
		})
		require.Equal(t, want, got)
	}
}

func BenchmarkFill(b *testing.B) {
	for _, n := range []float64{1e3, 1e4, 1e5} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			charts := []poisson.Chart{square(1000, front)}
			radius := math.Sqrt(4 * 0.547 * 1e6 / (math.Pi * n))
			var points int
			for i := range b.N {
				points += fill(b, charts, radius, uint64(i)).Len()
			}
			b.ReportMetric(float64(points)/b.Elapsed().Seconds(), "points/s")
		})
	}
}
