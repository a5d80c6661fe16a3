package plane

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// regular returns the regular polygon of n corners with circumradius r about c.
func regular(c Point, r float64, n int) Ring { return Ellipse(c, r, r, n) }

var hook = Ring{{0, 0}, {30, 0}, {30, 10}, {10, 10}, {10, 30}, {0, 30}} // an L

func TestAreaAndCentroid(t *testing.T) {
	third := 1.0 / 3
	tests := []struct {
		name     string
		ring     Ring
		area     float64 // mm²
		centroid Point
		source   string
	}{
		{"hexagon, circumradius 1", regular(Point{}, 1, 6), 2.598076211353316, Point{}, "3√3/2"},
		{"3-4-5 triangle", Ring{{0, 0}, {3, 0}, {0, 4}}, 6, Point{1, 4 * third}, "a third of the height"},
		{"the same, clockwise", Ring{{0, 4}, {3, 0}, {0, 0}}, -6, Point{1, 4 * third}, ""},
		{"far from the origin", Rectangle(Point{1e6, 1e6}, 2, 1), 2, Point{1e6 + 1, 1e6 + 0.5}, ""},
		{"L", hook, 500, Point{11, 11}, "300·(15, 5) + 200·(5, 20), over 500"},
		{"sliver", Rectangle(Point{}, 1000, 1e-6), 1e-3, Point{500, 5e-7}, ""},
		{"spike", Ring{{0, 0}, {10, 0}, {10, 10}, {5, 10}, {5, 40}, {5, 10}, {0, 10}}, 100, Point{5, 5}, ""},
		{"repeated corner", Ring{{0, 0}, {0, 0}, {4, 0}, {4, 2}, {4, 2}, {0, 2}}, 8, Point{2, 1}, ""},
		{"corners in line", Ring{{0, 0}, {2, 0}, {4, 0}, {4, 2}, {2, 2}, {0, 2}}, 8, Point{2, 1}, ""},
		{"flat", Ring{{0, 0}, {6, 0}, {3, 0}}, 0, Point{3, 0}, "mean of the corners"},
		{"bow tie", Ring{{0, 0}, {4, 4}, {4, 0}, {0, 4}}, 0, Point{2, 2}, "mean of the corners"},
		{"one corner", Ring{{5, 6}}, 0, Point{5, 6}, ""},
		{"nothing", nil, 0, Point{}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.InDelta(t, tt.area, tt.ring.Area(), 1e-9, tt.source)
			c := tt.ring.Centroid()
			assert.InDelta(t, tt.centroid.X, c.X, 1e-9, tt.source)
			assert.InDelta(t, tt.centroid.Y, c.Y, 1e-9, tt.source)
		})
	}
}

// A ring whose parts nearly cancel has a centre of mass far away; a piece must not be placed by it.
func TestCentroidStaysInTheBox(t *testing.T) {
	nearly := Ring{{0, 0}, {4, 4}, {4, 0}, {0, 4 + 1e-12}}
	assert.True(t, nearly.Bounds().Contains(nearly.Centroid()))
}

func TestCentroidTurnsWithItsRing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 1))
	for range 200 {
		at, angle := Point{rng.Float64() * 1e4, rng.Float64() * 1e4}, rng.Float64()*7
		want := hook.Centroid().Rotate(angle).Add(at)
		got := hook.Place(at, angle).Centroid()
		assert.InDelta(t, want.X, got.X, 1e-8)
		assert.InDelta(t, want.Y, got.Y, 1e-8)
		assert.InDelta(t, hook.Area(), hook.Place(at, angle).Area(), 1e-6)
		assert.InDelta(t, hook.Perimeter(), hook.Place(at, angle).Perimeter(), 1e-8)
	}
}

func TestContains(t *testing.T) {
	star := Ring{{0, 0}, {50, 10}, {100, 0}, {60, 40}, {110, 110}, {55, 60}, {0, 100}, {45, 45}}
	tests := []struct {
		name string
		ring Ring
		p    Point
		want bool
	}{
		{"L, in the foot", hook, Point{20, 5}, true},
		{"L, in the notch", hook, Point{20, 20}, false},
		{"level with two corners", hook, Point{5, 10}, true},
		{"level with two corners, outside", hook, Point{-5, 10}, false},
		{"level with the top", hook, Point{-5, 30}, false},
		{"star, centre", star, Point{55, 45}, true},
		{"star, between points", star, Point{100, 50}, false},
		{"clockwise", hook.Reverse(), Point{20, 5}, true},
		{"in line with an upright side", hook, Point{10, 40}, false},
		{"nothing", nil, Point{}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { assert.Equal(t, tt.want, tt.ring.Contains(tt.p)) })
	}
}

func TestCrossing(t *testing.T) {
	tests := []struct {
		name  string
		ring  Ring
		i, j  int
		found bool
	}{
		{"square", Rectangle(Point{}, 10, 10), 0, 0, false},
		{"triangle", Ring{{0, 0}, {10, 0}, {0, 10}}, 0, 0, false},
		{"L", hook, 0, 0, false},
		{"corners in line", Ring{{0, 0}, {5, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 5}}, 0, 0, false},
		{"sliver", Rectangle(Point{}, 1000, 1e-9), 0, 0, false},
		{"bow tie", Ring{{0, 0}, {10, 10}, {10, 0}, {0, 10}}, 0, 2, true},
		{"touching a side", Ring{{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}}, 0, 2, true},
		{"touching a corner", Ring{{0, 0}, {5, 5}, {10, 0}, {10, 10}, {5, 5}, {0, 10}}, 0, 3, true},
		{"side on a side", Ring{{0, 0}, {20, 0}, {20, 10}, {15, 10}, {15, 0}, {5, 0}, {5, 10}, {0, 10}}, 0, 3, true},
		{"spike", Ring{{0, 0}, {10, 0}, {10, 10}, {5, 10}, {5, 40}, {5, 10}, {0, 10}}, 2, 4, true},
		{"spike back along its own side", Ring{{0, 0}, {10, 0}, {5, 0}, {5, 10}}, 0, 1, true},
		{"spike at the first corner", Ring{{0, 0}, {10, 0}, {10, 10}, {4, 0}}, 0, 2, true},
		{"spike closing the ring", Ring{{5, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}, {8, 0}}, 0, 4, true},
		{"corner repeated", Ring{{0, 0}, {10, 0}, {10, 0}, {0, 10}}, 0, 2, true},
		{"first corner repeated last", Ring{{0, 0}, {10, 0}, {0, 10}, {0, 0}}, 0, 2, true},
		{"flat triangle", Ring{{0, 0}, {10, 0}, {5, 0}}, 0, 1, true},
		{"two corners", Ring{{0, 0}, {10, 0}}, 0, 1, true},
		{"one corner", Ring{{0, 0}}, 0, 0, true},
		{"nothing", nil, 0, 0, false},
		{"first and last side cross", Ring{{0, 0}, {10, 0}, {10, 5}, {20, 5}, {20, -5}, {4, -5}, {4, 5}, {0, 5}}, 0, 5, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			i, j, found := tt.ring.Crossing()
			require.Equal(t, tt.found, found)
			assert.Equal(t, [2]int{tt.i, tt.j}, [2]int{i, j})
			_, _, found = tt.ring.Reverse().Crossing()
			assert.Equal(t, tt.found, found, "walked the other way")
		})
	}
}

// Whatever is simple as NewRegion sees it, through a library, is simple here, and the other way
// round. Only a corner written twice running is let be by the library.
func TestCrossingAgreesWithAnotherJudge(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	simple := 0
	for range 4000 {
		ring := make(Ring, 3+rng.IntN(5))
		for i := range ring {
			ring[i] = Point{float64(rng.IntN(6)), float64(rng.IntN(6))}
		}
		if ring.repeats() {
			continue
		}
		_, _, crosses := ring.Crossing()
		_, err := NewRegion(Polygon{Outer: ring})
		require.Equal(t, crosses, err != nil, "%v: %v", ring, err)
		if !crosses {
			simple++
		}
	}
	assert.Greater(t, simple, 500)
}

// repeats reports whether a corner is written twice running.
func (r Ring) repeats() bool {
	for i, p := range r {
		if p == r[r.after(i)] {
			return true
		}
	}
	return false
}

func TestCloser(t *testing.T) {
	square := Rectangle(Point{}, 10, 10)
	tests := []struct {
		name string
		r, s Ring
		gap  float64
		want bool
	}{
		{"apart", square, Rectangle(Point{15, 0}, 10, 10), 4.999, false},
		{"apart by the gap", square, Rectangle(Point{15, 0}, 10, 10), 5, false},
		{"closer", square, Rectangle(Point{15, 0}, 10, 10), 5.001, true},
		{"corner to corner, 3-4-5", square, Rectangle(Point{13, 14}, 10, 10), 5, false},
		{"corner to corner, closer", square, Rectangle(Point{13, 14}, 10, 10), 5.001, true},
		{"corner to side", square, Ring{{12, 5}, {20, 0}, {20, 10}}, 2.001, true},
		{"sharing a side", square, Rectangle(Point{10, 0}, 10, 10), 0, true},
		{"sharing a corner", square, Rectangle(Point{10, 10}, 10, 10), 0, true},
		{"overlapping", square, Rectangle(Point{5, 5}, 10, 10), 0, true},
		{"crossing without a corner inside", Rectangle(Point{-5, 4}, 20, 2), Rectangle(Point{4, -5}, 2, 20), 0, true},
		{"one inside the other", square, Rectangle(Point{4, 4}, 2, 2), 0, true},
		{"the same", square, square, 0, true},
		{"in the notch of an L", hook, Rectangle(Point{15, 15}, 10, 10), 4.9, false},
		{"in the notch of an L, closer", hook, Rectangle(Point{15, 15}, 10, 10), 5.1, true},
		{"far", square, Rectangle(Point{1000, 0}, 10, 10), 5, false},
		{"nothing", nil, square, 100, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, Closer(tt.r, tt.s, tt.gap))
			assert.Equal(t, tt.want, Closer(tt.s, tt.r, tt.gap), "swapped")
			assert.Equal(t, tt.want, Closer(tt.r.Reverse(), tt.s, tt.gap), "one reversed")
		})
	}
}

// Two outlines are closer than a gap exactly where the distance found edge by edge says so, or
// where one lies in the other.
func TestCloserAgreesWithEveryPairOfEdges(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 2))
	leaf, star := regular(Point{}, 20, 40).Map(func(p Point) Point { return Point{p.X, p.Y / 4} }), hook
	var closer int
	for range 4000 {
		r := leaf.Place(Point{}, rng.Float64()*7)
		s := star.Place(Point{rng.Float64()*100 - 50, rng.Float64()*100 - 50}, rng.Float64()*7)
		gap := rng.Float64() * 20
		apart := math.Inf(1)
		for i, a := range r {
			for j, c := range s {
				b, d := r[r.after(i)], s[s.after(j)]
				if SegmentsMeet(a, b, c, d) {
					apart = 0
				}
				apart = min(apart, SegmentDistance(a, c, d), SegmentDistance(c, a, b))
			}
		}
		if r.Contains(s[0]) || s.Contains(r[0]) {
			apart = 0
		}
		require.Equal(t, apart == 0 || apart < gap, Closer(r, s, gap))
		if apart < gap {
			closer++
		}
	}
	assert.Greater(t, closer, 500)
}

func TestCloserAllocatesNothing(t *testing.T) {
	r, s := regular(Point{}, 50, 150), regular(Point{101, 0}, 50, 150)
	assert.Zero(t, testing.AllocsPerRun(100, func() { Closer(r, s, 0.5) }))
}

func TestSegmentsMeet(t *testing.T) {
	tests := []struct {
		name       string
		a, b, c, d Point
		want       bool
	}{
		{"cross", Point{0, 0}, Point{10, 10}, Point{0, 10}, Point{10, 0}, true},
		{"end on the other", Point{0, 0}, Point{10, 0}, Point{5, 0}, Point{5, 5}, true},
		{"share an end", Point{0, 0}, Point{10, 0}, Point{10, 0}, Point{15, 5}, true},
		{"in line, overlapping", Point{0, 0}, Point{10, 0}, Point{5, 0}, Point{15, 0}, true},
		{"in line, end to end", Point{0, 0}, Point{10, 0}, Point{10, 0}, Point{15, 0}, true},
		{"in line, apart", Point{0, 0}, Point{10, 0}, Point{11, 0}, Point{15, 0}, false},
		{"parallel", Point{0, 0}, Point{10, 0}, Point{0, 1}, Point{10, 1}, false},
		{"would cross if longer", Point{0, 0}, Point{4, 4}, Point{0, 10}, Point{10, 0}, false},
		{"a point on it", Point{0, 0}, Point{10, 0}, Point{3, 0}, Point{3, 0}, true},
		{"a point off it", Point{0, 0}, Point{10, 0}, Point{3, 1}, Point{3, 1}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, SegmentsMeet(tt.a, tt.b, tt.c, tt.d))
			assert.Equal(t, tt.want, SegmentsMeet(tt.c, tt.d, tt.b, tt.a))
		})
	}
}

func TestSegmentDistance(t *testing.T) {
	tests := []struct {
		p, a, b Point
		want    float64
	}{
		{Point{5, 3}, Point{0, 0}, Point{10, 0}, 3},
		{Point{-3, 4}, Point{0, 0}, Point{10, 0}, 5},
		{Point{13, 4}, Point{0, 0}, Point{10, 0}, 5},
		{Point{0, 2}, Point{0, 0}, Point{2, 2}, math.Sqrt2},
		{Point{3, 4}, Point{0, 0}, Point{0, 0}, 5},
	}
	for _, tt := range tests {
		assert.InDelta(t, tt.want, SegmentDistance(tt.p, tt.a, tt.b), 1e-12)
		assert.InDelta(t, tt.want, SegmentDistance(tt.p, tt.b, tt.a), 1e-12)
	}
}

func TestPoints(t *testing.T) {
	assert.InDelta(t, math.Pi/2, Point{0, 3}.Angle(), 1e-15)
	assert.InDelta(t, math.Pi, Point{-1, 0}.Angle(), 1e-15)
	assert.InDelta(t, 1, Point{1, 0}.Rotate(math.Pi/2).Y, 1e-15)
	assert.Equal(t, Point{1.235, -2}, Point{1.23456, -1.99999}.Snap(1000))
	assert.False(t, math.Signbit(Point{-0.0001, 0}.Snap(1000).X), "zero has no sign")
	assert.Equal(t, 1.0, Point{1, 0}.Cross(Point{0, 1}), "counter-clockwise is above 0")
	assert.True(t, Point{1, 2}.Finite())
	assert.False(t, Point{math.NaN(), 2}.Finite())
	assert.False(t, Point{0, math.Inf(-1)}.Finite())
}

func TestRects(t *testing.T) {
	r := hook.Bounds()
	assert.Equal(t, Rect{Point{0, 0}, Point{30, 30}}, r)
	assert.Equal(t, Point{15, 15}, r.Centre())
	assert.Equal(t, 34.0, r.Grow(2).Width())
	assert.True(t, r.Contains(Point{30, 30}))
	assert.True(t, r.Overlaps(Rect{Point{30, 30}, Point{40, 40}}), "sharing a corner")
	assert.False(t, r.Overlaps(Rect{Point{31, 0}, Point{40, 40}}))
	assert.Equal(t, Rect{}, Ring(nil).Bounds())
}

func TestReachHoldsTheRingHoweverItTurns(t *testing.T) {
	reach := hook.Reach()
	for angle := 0.0; angle < 7; angle += 0.1 {
		b := hook.Place(Point{}, angle).Bounds()
		assert.LessOrEqual(t, max(-b.Min.X, -b.Min.Y, b.Max.X, b.Max.Y), reach+1e-12)
	}
}

func BenchmarkCloser(b *testing.B) {
	leaf := Ellipse(Point{}, 60, 16, 40)
	var others [64]Ring
	rng := rand.New(rand.NewPCG(1, 1))
	for i := range others {
		others[i] = leaf.Place(Point{rng.Float64()*160 - 80, rng.Float64()*160 - 80}, rng.Float64()*7)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		Closer(leaf, others[i&63], 8)
		i++
	}
}

func BenchmarkCrossing(b *testing.B) {
	ring := regular(Point{}, 100, 2000)
	for b.Loop() {
		ring.Crossing()
	}
}
