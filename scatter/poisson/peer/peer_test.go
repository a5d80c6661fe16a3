// Package peer times the fill against another library's sampler on the same ground. It is a module
// of its own, so that nobody who uses the program downloads that library: run it from this folder
// with go test -bench . -count 5 and compare within one run. The library has neither radii that vary,
// nor a count, so that ramps and counts are to be held against its even fill; outlines it has not
// either, but throws away what falls outside.
//
// Points/s go by the clock, points/cpu-s by the time that the processor was at work on them.
package peer

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	randv2 "math/rand/v2"
	"syscall"
	"testing"
	"time"

	"github.com/fogleman/poissondisc"

	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

const side = 1000.0

var whole = plane.Rect{Max: plane.Point{X: side, Y: side}}

// window is an outline with seven corners and a rectangular hole.
var window = plane.RegionOf(
	plane.Ring{{X: 0, Y: 0}, {X: 1000, Y: 0}, {X: 1000, Y: 700}, {X: 820, Y: 1000}, {X: 300, Y: 1000}, {X: 180, Y: 850}, {X: 0, Y: 800}},
)

func hole() plane.Region {
	r, err := window.Difference(plane.RegionOf(plane.Rectangle(plane.Point{X: 400, Y: 350}, 260, 300)))
	if err != nil {
		panic(err)
	}
	return r
}

// square, pierced and ramp are the charts: all of the square, the outline with a hole, and all of it
// with radii that go from 1 to 3.
func square() poisson.Chart {
	return poisson.Chart{
		Frame:  space.Upright(space.Vec{}, 0),
		Bounds: whole,
		Deep:   func(p plane.Point, d float64) bool { return min(p.X, p.Y, side-p.X, side-p.Y) >= d },
	}
}

func pierced() poisson.Chart {
	c := square()
	c.Deep = plane.NewIndex(hole()).Clear
	return c
}

func ramp() poisson.Chart {
	c := square()
	c.Radii = poisson.NewRaster(whole, 10, func(p plane.Point) float64 { return 1 + 2*p.X/side })
	return c
}

// radius is the distance at which about n points fill the area, by the coverage at which random
// sequential discs stop.
func radius(n, area float64) float64 { return math.Sqrt(4 * 0.547 * area / (math.Pi * n)) }

var numbers = []int{1e3, 1e4, 1e5}

func timed(b *testing.B, name string, make func(seed int) int) {
	b.Run(name, func(b *testing.B) {
		points, before := 0, processor(b)
		for i := range b.N {
			points += make(i)
		}
		b.ReportMetric(float64(points)/b.Elapsed().Seconds(), "points/s")
		b.ReportMetric(float64(points)/(processor(b)-before).Seconds(), "points/cpu-s")
	})
}

// processor returns the time that the processor has been at work for this program.
func processor(b *testing.B) time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		b.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

func fill(b *testing.B, chart poisson.Chart, scale float64, seed int) int {
	g, err := poisson.Fill(context.Background(), []poisson.Chart{chart}, poisson.Spacing{Scale: scale}, nil, nil, randv2.New(randv2.NewPCG(uint64(seed), 1)))
	if err != nil {
		b.Fatal(err)
	}
	return g.Len()
}

func sample(r float64, seed int) []poissondisc.Point {
	return poissondisc.Sample(0, 0, side, side, r, 30, rand.New(rand.NewSource(int64(seed))))
}

func BenchmarkUniform(b *testing.B) {
	for _, n := range numbers {
		r := radius(float64(n), side*side)
		timed(b, fmt.Sprintf("%d/ours", n), func(seed int) int { return fill(b, square(), r, seed) })
		timed(b, fmt.Sprintf("%d/peer", n), func(seed int) int { return len(sample(r, seed)) })
	}
}

func BenchmarkPierced(b *testing.B) {
	area, inside := hole().Area(), plane.NewIndex(hole())
	for _, n := range numbers {
		r := radius(float64(n), area)
		chart := pierced()
		timed(b, fmt.Sprintf("%d/ours", n), func(seed int) int { return fill(b, chart, r, seed) })
		timed(b, fmt.Sprintf("%d/peer", n), func(seed int) int {
			within := 0
			for _, p := range sample(r, seed) {
				if inside.Inside(plane.Point{X: p.X, Y: p.Y}) {
					within++
				}
			}
			return within
		})
	}
}

func BenchmarkRamp(b *testing.B) {
	for _, n := range numbers {
		r := radius(float64(n), side*side)
		chart := ramp()
		// The integral of r⁻² over the square is a third of its area.
		timed(b, fmt.Sprintf("%d/ours", n), func(seed int) int { return fill(b, chart, r/math.Sqrt(3), seed) })
		timed(b, fmt.Sprintf("%d/peer", n), func(seed int) int { return len(sample(r, seed)) })
	}
}
