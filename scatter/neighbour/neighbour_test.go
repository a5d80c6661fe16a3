package neighbour

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/plane"
)

// packed returns points strewn over a width × height face until hardly one more keeps the distance.
func packed(width, height, distance float64, seed uint64) (places []Place) {
	rng := rand.New(rand.NewPCG(seed, 0))
	for missed := 0; missed < 3000; {
		p := plane.Point{X: rng.Float64() * width, Y: rng.Float64() * height}.Snap(100)
		if slices.ContainsFunc(places, func(q Place) bool { return q.At.Distance(p) < distance }) {
			missed++
			continue
		}
		places, missed = append(places, Place{At: p}), 0
	}
	return places
}

// checkGraph holds g to what every graph promises.
func checkGraph(t *testing.T, g Graph, places []Place) {
	t.Helper()
	require.Len(t, g, len(places))
	for i, near := range g {
		require.True(t, slices.IsSorted(near))
		require.Len(t, slices.Compact(slices.Clone(near)), len(near), "each neighbour once")
		for _, j := range near {
			require.NotEqual(t, int32(i), j)
			require.Contains(t, g[j], int32(i))
			require.Equal(t, places[i].Face, places[j].Face)
		}
	}
}

func TestPiecesInsideHaveAboutSixNeighbours(t *testing.T) {
	places := packed(1000, 1000, 60, 1)
	g := Of(places, nil)
	checkGraph(t, g, places)
	inside, ends := 0, 0
	for i, p := range places {
		if (plane.Rect{Min: plane.Point{X: 120, Y: 120}, Max: plane.Point{X: 880, Y: 880}}).Contains(p.At) {
			inside++
			ends += len(g[i])
		}
	}
	assert.InDelta(t, 6, float64(ends)/float64(inside), 0.15, "six in the mean, by Euler's formula")
}

func TestTheNearestIsANeighbour(t *testing.T) {
	for _, places := range [][]Place{packed(700, 500, 50, 2), strewn(400, 3)} {
		g := Of(places, nil)
		for i, p := range places {
			nearest, least := -1, math.Inf(1)
			for j, q := range places {
				if d := p.At.Distance(q.At); j != i && d < least {
					nearest, least = j, d
				}
			}
			// One that is far off from all is nobody's neighbour.
			if len(g[i]) > 0 {
				assert.Contains(t, g[i], int32(nearest))
			}
		}
	}
}

func strewn(n int, seed uint64) (places []Place) {
	rng := rand.New(rand.NewPCG(seed, 0))
	for range n {
		places = append(places, Place{At: plane.Point{X: rng.Float64() * 5000, Y: rng.Float64() * 5000}.Snap(100)})
	}
	return places
}

func TestNoEdgeRunsAlongTheHullPastAThirdPiece(t *testing.T) {
	places := packed(700, 500, 40, 4)
	for i, near := range Of(places, nil) {
		for _, j := range near {
			a, b := places[i].At, places[j].At
			for _, c := range places {
				if c.At != a && c.At != b {
					cos := a.Sub(c.At).Dot(b.Sub(c.At)) / a.Sub(c.At).Len() / b.Sub(c.At).Len()
					if cos < -math.Sqrt2/2-1e-9 {
						t.Fatalf("%v between %v and %v", c.At, a, b)
					}
				}
			}
		}
	}
}

func TestARowIsJoinedOneToTheNextEvenWhereItWavers(t *testing.T) {
	var places []Place
	for i := range 40 {
		places = append(places, Place{At: plane.Point{X: 50 * float64(i), Y: float64(i * i % 7)}})
	}
	for i, near := range Of(places, nil) {
		var want []int32
		for _, j := range []int{i - 1, i + 1} {
			if j >= 0 && j < len(places) {
				want = append(want, int32(j))
			}
		}
		assert.Equal(t, want, near)
	}
}

func TestNobodyIsJoinedAcrossAGap(t *testing.T) {
	const left, right = 400, 550 // not quite four times the distance, which is a little less than edges are
	for seed := range uint64(20) {
		places := slices.DeleteFunc(packed(1000, 500, 40, seed), func(p Place) bool {
			return p.At.X >= left && p.At.X <= right
		})
		for i, near := range Of(places, nil) {
			assert.NotEmpty(t, near)
			for _, j := range near {
				assert.Equal(t, places[i].At.X < left, places[j].At.X < left, "%v %v", places[i], places[j])
			}
		}
	}
}

func TestWhereOneIsMissingThoseAroundAreJoined(t *testing.T) {
	var places []Place
	for i := range 9 {
		for j := range 9 {
			if i != 4 || j != 4 {
				places = append(places, Place{At: plane.Point{X: 100 * float64(i), Y: 100 * float64(j)}})
			}
		}
	}
	assert.Equal(t, 3*80-3-32, Of(places, nil).Edges(), "all edges of 80 with 32 on the hull, by Euler's formula")
}

func TestNobodyIsJoinedAcrossWhatIsNotOpen(t *testing.T) {
	places := packed(600, 600, 50, 6)
	open := func(face int, a, b plane.Point) bool {
		assert.Zero(t, face)
		return (a.X < 300) == (b.X < 300)
	}
	all, cut := Of(places, nil), Of(places, open)
	checkGraph(t, cut, places)
	for i := range all {
		for _, j := range all[i] {
			assert.Equal(t, open(0, places[i].At, places[j].At), slices.Contains(cut[i], j))
		}
	}
}

func TestDenseAndSparseFieldsAreJoinedWhereTheyMeet(t *testing.T) {
	places := packed(500, 500, 25, 7)
	for _, p := range packed(500, 500, 50, 8) {
		places = append(places, Place{At: p.At.Add(plane.Point{X: 540})})
	}
	g := Of(places, nil)
	across := 0
	for i, near := range g {
		for _, j := range near {
			if places[i].At.X <= 500 && places[j].At.X > 500 {
				across++
			}
		}
	}
	assert.Greater(t, across, 10)
}

func TestFacesAreApart(t *testing.T) {
	one := packed(400, 400, 40, 9)
	var both []Place
	for _, p := range one {
		both = append(both, p, Place{Face: 3, At: p.At})
	}
	g := Of(both, nil)
	checkGraph(t, g, both)
	alone := Of(one, nil)
	for i := range alone {
		for face := range 2 {
			var want []int32
			for _, j := range alone[i] {
				want = append(want, 2*j+int32(face))
			}
			assert.Equal(t, want, g[2*i+face])
		}
	}
}

func TestTheOrderOfPlacesMakesNoDifference(t *testing.T) {
	places := packed(500, 400, 30, 10)
	for i := range 12 {
		for j := range 12 { // a lattice: ties wherever one looks
			places = append(places, Place{At: plane.Point{X: 1000 + 40*float64(i), Y: 40 * float64(j)}})
		}
	}
	g := Of(places, nil)
	order := rand.New(rand.NewPCG(1, 1)).Perm(len(places))
	shuffled := make([]Place, len(places))
	for i, to := range order {
		shuffled[to] = places[i]
	}
	again := Of(shuffled, nil)
	for i, near := range g {
		var want []int32
		for _, j := range near {
			want = append(want, int32(order[j]))
		}
		slices.Sort(want)
		assert.Equal(t, want, again[order[i]])
	}
}

func TestFewAndOddPlaces(t *testing.T) {
	at := func(x, y float64) Place { return Place{At: plane.Point{X: x, Y: y}} }
	assert.Empty(t, Of(nil, nil))
	assert.Equal(t, Graph{nil}, Of([]Place{at(1, 1)}, nil))
	assert.Equal(t, Graph{{1}, {0}}, Of([]Place{at(1, 1), at(5, 1)}, nil))
	assert.Equal(t, Graph{{1}, {0, 2}, {1}}, Of([]Place{at(1, 1), at(5, 1), at(9, 1)}, nil))
	assert.Equal(t, Graph{{1, 3}, {0, 2}, {1}, {0}}, Of([]Place{at(7, 7), at(7, 7), at(7, 7), at(9, 9)}, nil), "several in one place")
	assert.Equal(t, Graph{{2}, {2}, {0, 1}}, Of([]Place{at(0.02, 0), at(0, 0), at(0.01, 0)}, nil), "a hundredth apart")
	assert.Equal(t, Graph{nil, {3}, nil, {1}, nil},
		Of([]Place{at(math.NaN(), 1), at(1, 2), at(1, math.Inf(1)), at(1, 1), at(1e9, 0)}, nil), "out of the world")
	assert.Equal(t, 2, Graph{{1}, {0, 2}, {1}}.Edges())
}

func TestManyInOnePlaceAreStillJoined(t *testing.T) {
	g := Of(make([]Place, 20_000), nil)
	assert.Equal(t, 19_999, g.Edges())
}

func BenchmarkOf100000(b *testing.B) {
	places := strewn(100_000, 1)
	for b.Loop() {
		Of(places, nil)
	}
}
