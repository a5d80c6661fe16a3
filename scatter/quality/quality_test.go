package quality

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// flat is one face alone, and measure the nearest-neighbour distances of points on it.
var flat = wall.Site{Faces: []wall.Face{{Frame: space.Upright(space.Vec{}, 0)}}}

func measure(points []plane.Point) []float64 {
	places := make([]Place, len(points))
	for i, p := range points {
		places[i].At = p
	}
	return NearestDistances(flat, places)
}

// endless returns the nearest-neighbour distances of points in a width × height tile that repeats
// without end, so that no point is near an edge.
func endless(points []plane.Point, width, height float64) []float64 {
	all := append([]plane.Point(nil), points...)
	for _, dx := range []float64{-width, 0, width} {
		for _, dy := range []float64{-height, 0, height} {
			if dx == 0 && dy == 0 {
				continue
			}
			for _, p := range points {
				all = append(all, p.Add(plane.Point{X: dx, Y: dy}))
			}
		}
	}
	return measure(all)[:len(points)]
}

func lattice(columns, rows int, height, shift float64) (points []plane.Point) {
	for j := range rows {
		for i := range columns {
			points = append(points, plane.Point{X: float64(i) + shift*float64(j%2), Y: height * float64(j)})
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
	corners := []plane.Point{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}}
	distances := measure(corners)
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
	var points []plane.Point
	for _, p := range strewn(300, 1000) {
		points = append(points, p, p.Add(plane.Point{X: 1}), p.Add(plane.Point{Y: 1}))
	}
	assert.Less(t, ClarkEvans(endless(points, 1000, 1000), 900/1e6), 0.2)
}

func strewn(n int, side float64) (points []plane.Point) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range n {
		points = append(points, plane.Point{X: rng.Float64() * side, Y: rng.Float64() * side})
	}
	return points
}

// TestNearestDistancesAgreeWithLookingAtAll compares every place with every other, over walls that
// meet at corners of all sorts, with places that several share.
func TestNearestDistancesAgreeWithLookingAtAll(t *testing.T) {
	room := wall.Room{}
	for i, turn := range []float64{90, -90, 0, -90, -90, 35} {
		room.Walls = append(room.Walls, wall.Wall{
			Name: string(rune('a' + i)), Surface: wall.Brick, Turn: turn, Outline: plane.Rectangle(plane.Point{}, 40, 50),
		})
	}
	site, err := wall.Survey(room)
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(8, 9))
	places := make([]Place, 300)
	for i := range places {
		places[i] = Place{Face: rng.IntN(6), At: plane.Point{X: rng.Float64() * 40, Y: rng.Float64() * 50}}
	}
	places = append(places, places[7], places[7], places[100])
	got := NearestDistances(site, places)
	ways := site.Ways()
	for i, p := range places {
		want := math.Inf(1)
		for j, q := range places {
			if i != j {
				want = math.Min(want, ways.Apart(p.Face, p.At, q.Face, q.At))
			}
		}
		assert.InDelta(t, want, got[i], 1e-9, "place %d", i)
	}
}

func TestNothingToMeasure(t *testing.T) {
	assert.Empty(t, measure(nil))
	assert.Equal(t, []float64{math.Inf(1)}, measure([]plane.Point{{X: 1}}))
	assert.Zero(t, ClarkEvans(nil, 1))
	assert.Zero(t, ClarkEvans([]float64{1}, 0))
	assert.Zero(t, RelativeRadius(1, 0, 1))
	assert.Zero(t, RelativeRadius(1, 1, 0))
	assert.Zero(t, Closest(nil))
	assert.Equal(t, 2.0, Closest([]float64{3, 2, 5}))
}

func TestManyPointsInOnePlaceAreStillMeasured(t *testing.T) {
	for i, d := range measure(make([]plane.Point, 20_000)) {
		assert.Zero(t, d, "point %d", i)
	}
}

func BenchmarkNearestDistances20000(b *testing.B) {
	points := strewn(20_000, 10_000)
	for b.Loop() {
		measure(points)
	}
}
