package plane

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// pierced returns a wall of 6 by 3 m with n openings of several shapes, some over one another.
func pierced(t testing.TB, n int) Region {
	t.Helper()
	rng := rand.New(rand.NewPCG(7, uint64(n)))
	var away []Region
	for i := range n {
		c := Point{rng.Float64() * 6000, rng.Float64() * 3000}
		switch i % 3 {
		case 0:
			away = append(away, RegionOf(Ellipse(c, 80, 80, 96)))
		case 1:
			away = append(away, RegionOf(Rectangle(Point{}, 150, 90).Place(c, rng.Float64()*7)))
		case 2:
			grown, err := RegionOf(Rectangle(c, 86, 86)).Grow(50)
			require.NoError(t, err)
			away = append(away, grown)
		}
	}
	r, err := RegionOf(Rectangle(Point{}, 6000, 3000)).Difference(away...)
	require.NoError(t, err)
	return r
}

// regions returns regions that tend to break things.
func regions(t testing.TB) map[string]Region {
	t.Helper()
	must := func(r Region, err error) Region {
		require.NoError(t, err)
		return r
	}
	square := box(0, 0, 100, 100)
	return map[string]Region{
		"square":           square,
		"sliver":           box(0, 0, 1000, 0.5),
		"upright sliver":   box(0, 0, 0.5, 1000),
		"turned":           RegionOf(Rectangle(Point{}, 300, 20).Place(Point{50, 50}, 0.7)),
		"frame and island": must(Union(must(square.Difference(box(20, 20, 60, 60))), box(40, 40, 20, 20))),
		"corners touch":    must(Union(square, box(100, 100, 50, 50))),
		"hole at the edge": must(square.Difference(RegionOf(Ring{{0, 50}, {30, 30}, {60, 50}, {30, 70}}))),
		"two parts":        must(Union(square, box(250, 20, 40, 40))),
		"star":             RegionOf(Ring{{0, 0}, {50, 10}, {100, 0}, {60, 40}, {110, 110}, {55, 60}, {0, 100}, {45, 45}}),
		"rounded":          must(square.Grow(25)),
		"pierced":          pierced(t, 40),
	}
}

func TestIndexAgreesWithEveryEdge(t *testing.T) {
	for name, r := range regions(t) {
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(3, 4))
			x, b := NewIndex(r), r.Bounds().Grow(30)
			for range 3000 {
				p := Point{b.Min.X + rng.Float64()*b.Width(), b.Min.Y + rng.Float64()*b.Height()}
				if rng.IntN(3) == 0 {
					p = Point{math.Round(p.X/10) * 10, math.Round(p.Y/10) * 10}
				}
				want := r.Distance(p)
				if math.Abs(want) < 1e-9 {
					assert.InDelta(t, 0, x.Distance(p), 1e-9, "%v on the boundary", p)
					continue
				}
				require.InDelta(t, want, x.Distance(p), 1e-9, "%v", p)
				require.Equal(t, r.Contains(p), x.Inside(p), "%v", p)
				for _, d := range []float64{-20, 0, 5, 40} {
					if math.Abs(want-d) > 1e-9 {
						require.Equal(t, want >= d, x.Clear(p, d), "%v clear by %v", p, d)
					}
				}
			}
		})
	}
}

func TestHoldsAndTouchesAgreeWithSampling(t *testing.T) {
	outlines := map[string]Ring{
		"box":   Rectangle(Point{-6, -4}, 12, 8),
		"L":     {{-9, -9}, {9, -9}, {9, -3}, {-3, -3}, {-3, 9}, {-9, 9}},
		"leaf":  Ellipse(Point{}, 15, 4, 24),
		"spike": {{-1, -1}, {1, -1}, {0.2, 30}, {-0.2, 30}},
		"large": Rectangle(Point{-45, -45}, 90, 90),
	}
	for name, r := range regions(t) {
		if name == "pierced" {
			continue
		}
		for kind, outline := range outlines {
			t.Run(name+"/"+kind, func(t *testing.T) {
				rng := rand.New(rand.NewPCG(5, 6))
				x, b := NewIndex(r), r.Bounds().Grow(10)
				for range 200 {
					ring := outline.Place(Point{b.Min.X + rng.Float64()*b.Width(), b.Min.Y + rng.Float64()*b.Height()}, rng.Float64()*7)
					in, out := sample(ring, r, rng)
					holds := x.Holds(ring)
					require.Equal(t, r.Holds(ring), holds)
					if holds {
						require.False(t, out, "%v reaches out", ring)
						require.True(t, r.Touches(ring))
					}
					if in {
						require.True(t, r.Touches(ring), "%v reaches in", ring)
					}
					inter, err := r.Intersection(RegionOf(ring))
					require.NoError(t, err)
					if area := inter.Area(); math.Abs(area-ring.Area()) > 0.01 {
						require.False(t, holds, "%v is cut to %v mm²", ring, area)
						require.Equal(t, area > 0.001, r.Touches(ring) && area > 0.001)
					}
				}
			})
		}
	}
}

// On a coarse grid most outlines touch the boundary somewhere, in every way there is. What is held
// and touched is then a matter of areas that booleans find exactly.
func TestHoldsAndTouchesOnACoarseGrid(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	shape := func(corners int) Ring {
		for {
			ring := make(Ring, 3+rng.IntN(corners-2))
			for i := range ring {
				ring[i] = Point{float64(rng.IntN(5) * 10), float64(rng.IntN(5) * 10)}
			}
			if _, _, crosses := ring.Crossing(); !crosses && ring.Area() != 0 {
				return ring
			}
		}
	}
	onGrid := func(r Region) bool {
		for _, ring := range r.Rings() {
			for _, p := range ring {
				if p != p.Snap(0.1) {
					return false
				}
			}
		}
		return true
	}
	var held, flush int
	for range 6000 {
		r, err := Union(RegionOf(shape(8)), RegionOf(shape(8)))
		require.NoError(t, err)
		if !onGrid(r) {
			continue // where a crossing was rounded, an outline can reach out by less than a step
		}
		ring := shape(4)
		in, err := RegionOf(ring).Intersection(r)
		require.NoError(t, err)
		out, err := RegionOf(ring).Difference(r)
		require.NoError(t, err)

		require.Equal(t, in.Area() > 0.1, r.Touches(ring), "%v in %v", ring, r)
		require.Equal(t, out.Area() < 0.1, r.Holds(ring), "%v in %v", ring, r)
		require.Equal(t, out.Area() < 0.1, NewIndex(r).Holds(ring), "%v in %v", ring, r)
		if out.Empty() {
			held++
		}
		if in.Empty() {
			flush++
		}
	}
	assert.Greater(t, held, 30)
	assert.Greater(t, flush, 100)
}

// sample reports whether points inside ring were found inside and outside r.
func sample(ring Ring, r Region, rng *rand.Rand) (in, out bool) {
	b := ring.Bounds()
	for range 60 {
		p := Point{b.Min.X + rng.Float64()*b.Width(), b.Min.Y + rng.Float64()*b.Height()}
		if !ring.Contains(p) {
			continue
		}
		if r.Contains(p) {
			in = true
		} else {
			out = true
		}
	}
	return in, out
}

// What touches the boundary from inside is held; what touches it from outside touches nothing.
func TestTouchingTheBoundary(t *testing.T) {
	frame, err := box(0, 0, 100, 100).Difference(box(40, 40, 20, 20))
	require.NoError(t, err)
	tests := []struct {
		name           string
		ring           Ring
		holds, touches bool
	}{
		{"in the corner", Rectangle(Point{0, 0}, 10, 10), true, true},
		{"along the whole foot", Rectangle(Point{0, 0}, 100, 40), true, true},
		{"beside the hole", Rectangle(Point{30, 40}, 10, 20), true, true},
		{"a hair into the hole", Rectangle(Point{30, 40}, 10.01, 20), false, true},
		{"the hole itself", Rectangle(Point{40, 40}, 20, 20), false, false},
		{"the hole the other way round", Rectangle(Point{40, 40}, 20, 20).Reverse(), false, false},
		{"round the hole", Rectangle(Point{30, 30}, 40, 40), false, true},
		{"the whole outline", Rectangle(Point{0, 0}, 100, 100), false, true},
		{"within the hole", Rectangle(Point{45, 45}, 5, 5), false, false},
		{"outside, sharing a side", Rectangle(Point{100, 0}, 10, 100), false, false},
		{"outside, sharing a corner", Rectangle(Point{100, 100}, 10, 10), false, false},
		{"outside, away", Rectangle(Point{200, 0}, 10, 10), false, false},
		{"diamond between foot and hole", Ring{{50, 0}, {60, 20}, {50, 40}, {40, 20}}, true, true},
		{"diamond that fills the hole", Ring{{50, 40}, {60, 50}, {50, 60}, {40, 50}}, false, false},
		{"U round the hole, flush", Ring{{30, 30}, {70, 30}, {70, 70}, {60, 70}, {60, 40}, {40, 40}, {40, 70}, {30, 70}}, true, true},
		{"across everything", Ring{{-10, 49}, {110, 49}, {110, 51}, {-10, 51}}, false, true},
		{"nothing", nil, false, false},
	}
	x := NewIndex(frame)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.holds, x.Holds(tt.ring), "index holds")
			assert.Equal(t, tt.holds, frame.Holds(tt.ring), "region holds")
			assert.Equal(t, tt.touches, frame.Touches(tt.ring), "touches")
		})
	}
}

// A region that has one outer ring and no holes holds the ring itself, on any slant.
func TestARegionHoldsItself(t *testing.T) {
	for name, r := range regions(t) {
		polys := r.Polygons()
		if len(polys) != 1 || len(polys[0].Holes) > 0 {
			continue
		}
		assert.True(t, NewIndex(r).Holds(polys[0].Outer), name)
	}
}

func TestIndexOfNothing(t *testing.T) {
	x := NewIndex(Region{})
	assert.False(t, x.Inside(Point{}))
	assert.True(t, math.IsInf(x.Distance(Point{}), -1))
	assert.False(t, x.Clear(Point{}, 0))
	assert.False(t, x.Holds(Rectangle(Point{}, 1, 1)))
}

func TestIndexTakesPointsThatAreNone(t *testing.T) {
	x := NewIndex(box(0, 0, 100, 100))
	for _, p := range []Point{{math.NaN(), 0}, {0, math.Inf(1)}, {math.Inf(-1), math.NaN()}} {
		assert.False(t, x.Inside(p))
		assert.False(t, x.Clear(p, 0))
		assert.False(t, x.Holds(Ring{{0, 0}, {10, 0}, p}))
		x.Distance(p)
	}
}

func TestIndexIsReadByManyAtOnce(t *testing.T) {
	x := NewIndex(pierced(t, 20))
	var wait sync.WaitGroup
	for seed := range uint64(4) {
		wait.Go(func() {
			rng := rand.New(rand.NewPCG(seed, 1))
			for range 500 {
				p := Point{rng.Float64() * 6000, rng.Float64() * 3000}
				x.Inside(p)
				x.Holds(Rectangle(p, 100, 60))
			}
		})
	}
	wait.Wait()
}

func BenchmarkNewIndex(b *testing.B) {
	r := pierced(b, 60)
	for b.Loop() {
		NewIndex(r)
	}
}

func benchmarkAt(b *testing.B, ask func(x *Index, p Point)) {
	x := NewIndex(pierced(b, 60))
	rng := rand.New(rand.NewPCG(1, 1))
	var at [4096]Point
	for i := range at {
		at[i] = Point{rng.Float64() * 6000, rng.Float64() * 3000}
	}
	i := 0
	b.ReportAllocs()
	for b.Loop() {
		ask(x, at[i&4095])
		i++
	}
}

func BenchmarkIndexInside(b *testing.B) {
	benchmarkAt(b, func(x *Index, p Point) { x.Inside(p) })
}

func BenchmarkIndexDistance(b *testing.B) {
	benchmarkAt(b, func(x *Index, p Point) { x.Distance(p) })
}

func BenchmarkIndexClear(b *testing.B) {
	benchmarkAt(b, func(x *Index, p Point) { x.Clear(p, 40) })
}

func BenchmarkIndexHolds(b *testing.B) {
	leaf := Ellipse(Point{}, 60, 16, 40)
	benchmarkAt(b, func(x *Index, p Point) { x.Holds(leaf.Place(p, p.X)) })
}
