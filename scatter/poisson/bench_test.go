package poisson_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"wallshoal/scatter/poisson"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// BenchmarkFillOfARoom times 20,000 and 100,000 points over four walls and a ceiling.
func BenchmarkFillOfARoom(b *testing.B) {
	for _, n := range []float64{2e4, 1e5} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			charts := roomOf(3000)
			radius := math.Sqrt(4 * 0.547 * 5 * 9e6 / (math.Pi * n))
			var points int
			for i := range b.N {
				g, err := poisson.Fill(context.Background(), charts, poisson.Spacing{Scale: radius}, nil, nil, rand.New(rand.NewPCG(uint64(i), 1)))
				if err != nil {
					b.Fatal(err)
				}
				points += g.Len()
			}
			b.ReportMetric(float64(points)/b.Elapsed().Seconds(), "points/s")
		})
	}
}

// roomOf returns four walls and a ceiling of the given side, each linked to every other.
func roomOf(side float64) []poisson.Chart {
	var charts []poisson.Chart
	corner := space.Vec{}
	for i := range 4 {
		f := space.Upright(corner, 90*float64(i))
		charts = append(charts, square(side, f))
		corner = f.At(plane.Point{X: side})
	}
	charts = append(charts, square(side, space.Frame{
		Origin: space.Vec{Y: side, Z: side}, Right: space.Vec{X: 1}, Up: space.Vec{Y: -1}, Out: space.Vec{Z: -1},
	}))
	return linked(charts...)
}
