// Package peer times the fill against another library's sampler on the same square. It is a module
// of its own, so that nobody who uses the program downloads that library: run it from this folder
// with go test -bench .
package peer

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	randv2 "math/rand/v2"
	"testing"

	"github.com/fogleman/poissondisc"

	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

const side = 1000.0

// radius is the distance at which about n points fill the square, by the coverage at which random
// sequential discs stop.
func radius(n float64) float64 { return math.Sqrt(4 * 0.547 * side * side / (math.Pi * n)) }

func BenchmarkUniform(b *testing.B) {
	for _, n := range []float64{1e3, 1e4, 1e5} {
		r := radius(n)
		b.Run(fmt.Sprintf("ours/%.0f", n), func(b *testing.B) {
			chart := poisson.Chart{
				Frame:  space.Upright(space.Vec{}, 0),
				Bounds: plane.Rect{Max: plane.Point{X: side, Y: side}},
				Deep:   func(p plane.Point, d float64) bool { return min(p.X, p.Y, side-p.X, side-p.Y) >= d },
			}
			points := 0
			for i := range b.N {
				g, err := poisson.Fill(context.Background(), []poisson.Chart{chart}, poisson.Spacing{Scale: r}, nil, nil, randv2.New(randv2.NewPCG(uint64(i), 1)))
				if err != nil {
					b.Fatal(err)
				}
				points += g.Len()
			}
			b.ReportMetric(float64(points)/b.Elapsed().Seconds(), "points/s")
		})
		b.Run(fmt.Sprintf("peer/%.0f", n), func(b *testing.B) {
			points := 0
			for i := range b.N {
				points += len(poissondisc.Sample(0, 0, side, side, r, 30, rand.New(rand.NewSource(int64(i)))))
			}
			b.ReportMetric(float64(points)/b.Elapsed().Seconds(), "points/s")
		})
	}
}
