package poisson_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/scatter/poisson"
	"wallshoal/scatter/quality"
	"wallshoal/wall/plane"
)

// grounds are domains with the integral of r⁻² over them, in mm²: a square, an outline with a hole,
// and a ramp of radii from 1 to 3, for which it is the third part of the square.
func grounds(t testing.TB) map[string]ground {
	outline := plane.RegionOf(plane.Ring{
		{X: 0, Y: 0}, {X: 1000, Y: 0}, {X: 1000, Y: 700}, {X: 820, Y: 1000}, {X: 300, Y: 1000}, {X: 180, Y: 850}, {X: 0, Y: 800},
	})
	region, err := outline.Difference(plane.RegionOf(plane.Rectangle(plane.Point{X: 400, Y: 350}, 260, 300)))
	require.NoError(t, err)
	pierced, ramp := square(1000, front), square(1000, front)
	pierced.Deep = plane.NewIndex(region).Clear
	ramp.Radii = poisson.NewRaster(ramp.Bounds, 10, fields["ramp"])
	return map[string]ground{
		"square":  {square(1000, front), 1e6},
		"pierced": {pierced, region.Area()},
		"ramp":    {ramp, 1e6 / 3},
	}
}

type ground struct {
	chart poisson.Chart
	area  float64
}

func exactly(t testing.TB, charts []poisson.Chart, n int, seed uint64) ([]poisson.Point, float64) {
	t.Helper()
	points, scale, err := poisson.Exactly(context.Background(), charts, n, rand.New(rand.NewPCG(seed, 1)))
	require.NoError(t, err)
	require.Len(t, points, n)
	return points, scale
}

// The relative radius is that of Lagae and Dutré, with the distance of two points against the
// smaller of their radii and the area in discs of radius 1. Random sequential discs end at 0.777,
// the root of 0.547 · 2√3 / π.
func TestExactlyKeepsItsDistance(t *testing.T) {
	numbers := []int{1_000, 10_000}
	if os.Getenv("CI") == "true" && !testing.Short() {
		numbers = append(numbers, 100_000)
	}
	for name, g := range grounds(t) {
		for _, n := range numbers {
			t.Run(fmt.Sprintf("%s/%d", name, n), func(t *testing.T) {
				for seed := range uint64(3) {
					points, scale := exactly(t, []poisson.Chart{g.chart}, n, seed)
					closest := relativelyClosest([]poisson.Chart{g.chart}, points, scale)
					require.GreaterOrEqual(t, closest, scale)
					rho := quality.RelativeRadius(closest, n, g.area)
					t.Logf("%.4f", rho)
					require.GreaterOrEqual(t, rho, 0.776)
				}
			})
		}
	}
}

// relativelyClosest returns the least distance of two points against the smaller of their radii.
func relativelyClosest(charts []poisson.Chart, points []poisson.Point, scale float64) float64 {
	g := poisson.NewGrid(charts, poisson.Spacing{Scale: scale})
	best := math.Inf(1)
	for _, p := range points {
		r := g.RadiusAt(p)
		g.Near(p, 3.1*r, func(i int, d float64) bool {
			best = min(best, d/min(r, g.RadiusAt(g.Point(i)))*scale)
			return true
		})
		g.Add(p)
	}
	return best
}

// Every number comes out, down to one, over faces that meet at a corner too.
func TestExactlyCounts(t *testing.T) {
	for _, field := range []string{"ramp", "step", "none", "empty"} {
		charts := faced(fields[field])
		for _, n := range []int{1, 2, 3, 5, 8, 13, 34, 89, 233, 610, 1597} {
			points, scale := exactly(t, charts, n, uint64(n))
			require.GreaterOrEqual(t, relativelyClosest(charts, points, scale), scale, "%s: %d", field, n)
		}
	}
	points, _ := exactly(t, faced(fields["ramp"]), 0, 1)
	assert.Empty(t, points)
}

// What was taken away leaves no gap that a point would fit in with half as much again to spare.
func TestExactlyLeavesNoGap(t *testing.T) {
	for name, g := range grounds(t) {
		points, scale := exactly(t, []poisson.Chart{g.chart}, 3000, 7)
		wide := poisson.NewGrid([]poisson.Chart{g.chart}, poisson.Spacing{Scale: 1.5 * scale})
		for _, p := range points {
			wide.Add(p)
		}
		rng := rand.New(rand.NewPCG(1, 2))
		for range 50_000 {
			p := poisson.Point{At: within(g.chart.Bounds, rng)}
			if g.chart.Deep(p.At, 0) {
				require.True(t, wide.Crowded(p), "%s: a gap at %v", name, p.At)
			}
		}
	}
}

func TestExactlyWithoutRoom(t *testing.T) {
	none := square(100, front)
	none.Deep = func(plane.Point, float64) bool { return false }
	_, _, err := poisson.Exactly(context.Background(), []poisson.Chart{none}, 5, rand.New(rand.NewPCG(1, 1)))
	require.ErrorIs(t, err, poisson.ErrNoRoom)
	_, _, err = poisson.Exactly(context.Background(), []poisson.Chart{square(0.05, front)}, 500, rand.New(rand.NewPCG(1, 1)))
	require.ErrorIs(t, err, poisson.ErrNoRoom)
}

func TestExactlyStopsWhenTold(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, _, err := poisson.Exactly(ctx, []poisson.Chart{square(500, front)}, 500, rand.New(rand.NewPCG(1, 1)))
	require.ErrorIs(t, err, context.Canceled)
}
