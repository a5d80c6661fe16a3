package quality

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// endless returns the nearest-neighbour distances of points in a width × height tile that repeats
// without end, so that no point is near an edge.
func endless(points []space.Vec, width, height float64) []float64 {
	all := append([]space.Vec(nil), points...)
	for _, dx := range []float64{-width, 0, width} {
		for _, dz := range []float64{-height, 0, height} {
			if dx == 0 && dz == 0 {
				continue
			}
			for _, p := range points {
				all = append(all, p.Add(space.Vec{X: dx, Z: dz}))
			}
		}
	}
	return NearestDistances(all)[:len(points)]
}

func lattice(columns, rows int, height, shift float64) (points []space.Vec) {
	for j := range rows {
		for i := range columns {
			points = append(points, space.Vec{X: float64(i) + shift*float64(j%2), Z: height * float64(j)})
		}
	}
	return points
}

func TestClarkEvansOfTheHexagonalLattice(t *testing.T) {
	height := math.Sqrt(3) / 2
	points := lattice(12, 14, height, 0.5)
	distances := endless(points, 12, 14*height)
	density := 1 / height
	assert.InDelta(t, 2.149140, ClarkEvans(distances, density), 1e-6, "2√(2/√3), Clark and Evans 1954")
	assert.InDelta(t, 1, RelativeRadius(Closest(distances), len(points), 12*14*height), 1e-12)
}

func TestClarkEvansOfTheSquareLattice(t *testing.T) {
	points := lattice(11, 9, 1, 0)
	distances := endless(points, 11, 9)
	assert.InDelta(t, 2, ClarkEvans(distances, 1), 1e-12, "2 × spacing × √density")
	// A square packing covers π/4 where the hexagonal one covers π/√12: the root of their quotient.
	assert.InDelta(t, math.Sqrt(math.Sqrt(12)/4), RelativeRadius(1, len(points), 99), 1e-12)
}

func TestClarkEvansOfTheCornersOfASquare(t *testing.T) {
	corners := []space.Vec{{}, {X: 1}, {Z: 1}, {X: 1, Z: 1}}
	distances := NearestDistances(corners)
	assert.Equal(t, []float64{1, 1, 1, 1}, distances)
	assert.InDelta(t, 2, ClarkEvans(distances, 4/4.0), 1e-15, "four corners in an area of 4")
}

// TestClarkEvansOfChanceIsOne allows four standard errors of 0.261361/√(n·density) on the mean
// distance, which is 0.5/√density (Clark and Evans 1954).
func TestClarkEvansOfChanceIsOne(t *testing.T) {
	const n = 5000
	distances := endless(strewn(n, 1000), 1000, 1000)
	assert.InDelta(t, 1, ClarkEvans(distances, n/1e6), 4*2*0.261361/math.Sqrt(n))
}

func TestClustersAreBelowChance(t *testing.T) {
	var points []space.Vec
	for _, p := range strewn(300, 1000) {
		points = append(points, p, p.Add(space.Vec{X: 1}), p.Add(space.Vec{Z: 1}))
	}
	assert.Less(t, ClarkEvans(endless(points, 1000, 1000), 900/1e6), 0.2)
}

func strewn(n int, size float64) []space.Vec {
	rng := rand.New(rand.NewPCG(5, 6))
	points := make([]space.Vec, n)
	for i := range points {
		points[i] = space.Vec{X: size * rng.Float64(), Z: size * rng.Float64()}
	}
	return points
}

// TestNearestDistancesAgreeWithLookingAtAll compares every point with every other, in three
// directions, with points in one place among them.
func TestNearestDistancesAgreeWithLookingAtAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 9))
	points := make([]space.Vec, 400)
	for i := range points {
		points[i] = space.Vec{X: rng.Float64() * 50, Y: rng.Float64() * 50, Z: math.Round(rng.Float64() * 5)}
	}
	points = append(points, points[7], points[7], points[100])
	got := NearestDistances(points)
	for i, p := range points {
		want := math.Inf(1)
		for j, q := range points {
			if i != j {
				want = math.Min(want, p.Sub(q).Len())
			}
		}
		assert.InDelta(t, want, got[i], 1e-12, "point %d", i)
	}
}

func TestDistancesReachRoundTheCorner(t *testing.T) {
	long := space.Upright(space.Vec{}, 0)
	next := space.Upright(space.Vec{X: 1000}, -90)
	a, b := long.At(plane.Point{X: 970}), next.At(plane.Point{X: 40})
	assert.Equal(t, []float64{50, 50}, NearestDistances([]space.Vec{a, b}), "3-4-5 across the corner")
}

func TestNothingToMeasure(t *testing.T) {
	assert.Nil(t, NearestDistances(nil))
	assert.Nil(t, NearestDistances([]space.Vec{{X: 1}}))
	assert.Zero(t, ClarkEvans(nil, 1))
	assert.Zero(t, ClarkEvans([]float64{1}, 0))
	assert.Zero(t, RelativeRadius(1, 0, 1))
	assert.Zero(t, RelativeRadius(1, 1, 0))
	assert.Zero(t, Closest(nil))
	assert.Equal(t, 2.0, Closest([]float64{3, 2, 5}))
}

func TestManyPointsInOnePlaceAreStillMeasured(t *testing.T) {
	points := make([]space.Vec, 20_000)
	for i, d := range NearestDistances(points) {
		assert.Zero(t, d, "point %d", i)
	}
}

func BenchmarkNearestDistances20000(b *testing.B) {
	points := strewn(20_000, 10_000)
	for b.Loop() {
		NearestDistances(points)
	}
}
