package neighbour

import (
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// clouds are sets of spots of sorts that are hard on a triangulation.
func clouds() map[string][]spot {
	rng := rand.New(rand.NewPCG(1, 2))
	sets := map[string][]spot{
		"a lattice": nil, "a circle": nil, "in line": nil, "upright": nil, "slanting": nil, "clustered": nil,
		"strewn": nil, "far out": nil, "four on a circle": {{0, 0}, {0, 10}, {10, 0}, {10, 10}},
		"one": {{3, 4}}, "two": {{3, 4}, {3, 9}}, "a flat triangle": {{0, 0}, {1000, 1}, {2000, 0}},
	}
	for i := range int64(12) {
		for j := range int64(12) {
			sets["a lattice"] = append(sets["a lattice"], spot{1000 * i, 1000 * j})
		}
		sets["in line"] = append(sets["in line"], spot{i * i, 7})
		sets["upright"] = append(sets["upright"], spot{7, i * i})
		sets["slanting"] = append(sets["slanting"], spot{3 * i, -2 * i})
	}
	// All whole points with x² + y² = (5² · 13 · 17)².
	const r = 5 * 5 * 13 * 17
	for x := int64(-r); x <= r; x++ {
		if y := int64(math.Round(math.Sqrt(float64(r*r - x*x)))); x*x+y*y == r*r {
			sets["a circle"] = append(sets["a circle"], spot{x, y}, spot{x, -y})
		}
	}
	for range 120 {
		sets["strewn"] = append(sets["strewn"], spot{rng.Int64N(100_000), rng.Int64N(100_000)})
		sets["clustered"] = append(sets["clustered"], spot{rng.Int64N(12), rng.Int64N(12)})
		sets["far out"] = append(sets["far out"], spot{rng.Int64N(2*farthest) - farthest, rng.Int64N(2*farthest) - farthest})
	}
	for name, s := range sets {
		slices.SortFunc(s, spot.compare)
		sets[name] = slices.Compact(s)
	}
	return sets
}

// TestNoCircleOfATriangleHoldsAnotherSpot is the definition of the Delaunay triangulation.
func TestNoCircleOfATriangleHoldsAnotherSpot(t *testing.T) {
	for name, spots := range clouds() {
		m := delaunay(spots)
		triangles := 0
		for e := range m.from {
			if m.from[e] == gone {
				continue
			}
			c, ok := m.apex(int32(e))
			if !ok {
				continue
			}
			triangles++
			a, b := spots[m.from[e]], spots[m.to(int32(e))]
			for _, d := range spots {
				if within(a, b, c, d) {
					t.Fatalf("%s: %v in the circle of %v %v %v", name, d, a, b, c)
				}
			}
		}
		// Euler: with h spots on the hull, n spots make 2n - 2 - h triangles.
		if h := onHull(spots); h > 0 {
			assert.Equal(t, 3*(2*len(spots)-2-h), triangles, "%s: arrows with a triangle on the left", name)
		} else {
			assert.Zero(t, triangles, name)
		}
	}
}

// inCircleSign is the sign of the determinant of the in-circle test, in whole numbers of any length.
func inCircleSign(a, b, c, d spot) int {
	num := func(v int64) *big.Int { return big.NewInt(v) }
	mul := func(a, b *big.Int) *big.Int { return new(big.Int).Mul(a, b) }
	sum := new(big.Int)
	p := [3]spot{a.sub(d), b.sub(d), c.sub(d)}
	for i := range p {
		q, r := p[(i+1)%3], p[(i+2)%3]
		square := new(big.Int).Add(mul(num(p[i].x), num(p[i].x)), mul(num(p[i].y), num(p[i].y)))
		minor := new(big.Int).Sub(mul(num(q.x), num(r.y)), mul(num(q.y), num(r.x)))
		sum.Add(sum, mul(square, minor))
	}
	return sum.Sign()
}

// onHull counts the spots on the convex hull, those in the middle of a side too: each with another
// such that no spot is on the right of the line through the two. It is 0 for spots in line.
func onHull(spots []spot) int {
	n, flat := 0, true
	for _, a := range spots {
		hull := false
		for _, b := range spots {
			right := false
			for _, c := range spots {
				side := b.sub(a).cross(c.sub(a))
				right = right || side < 0
				flat = flat && side == 0
			}
			hull = hull || a != b && !right
		}
		if hull {
			n++
		}
	}
	if flat {
		return 0
	}
	return n
}

func TestWithinIsExact(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for _, reach := range []int64{4, 1000, farthest} {
		for range 5000 {
			var p [4]spot
			for i := range p {
				p[i] = spot{rng.Int64N(2*reach+1) - reach, rng.Int64N(2*reach+1) - reach}
			}
			if got := within(p[0], p[1], p[2], p[3]); got != (inCircleSign(p[0], p[1], p[2], p[3]) > 0) {
				t.Fatalf("%v: %v", p, got)
			}
		}
	}
	const f = farthest
	require.False(t, within(spot{-f, -f}, spot{f, -f}, spot{f, f}, spot{-f, f}), "four corners of all that is")
	require.True(t, within(spot{-f, -f}, spot{f, -f}, spot{f, f}, spot{-f + 1, f}))
}

func TestSpotsInLineAreJoinedOneToTheNext(t *testing.T) {
	for _, name := range []string{"in line", "upright", "slanting"} {
		spots := clouds()[name]
		m := delaunay(spots)
		require.Len(t, m.from, 2*(len(spots)-1), name)
		for e := range m.from {
			from, to := m.from[e], m.to(int32(e))
			assert.Equal(t, int32(1), max(from, to)-min(from, to), name)
		}
	}
}
