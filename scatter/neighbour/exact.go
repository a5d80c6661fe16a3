package neighbour

import (
	"cmp"
	"math"
	"math/bits"

	"wallshoal/wall/plane"
)

// A spot is a point in hundredths of a millimetre, the steps in which places are chosen.
type spot struct{ x, y int64 }

// steps is how many steps of the lattice a millimetre has, and farthest how many steps a spot may
// be from the origin for the circle test below to stay within 128 bits: about 5 km.
const (
	steps    = 100
	farthest = 1 << 29
)

// spotAt returns the lattice point at p, and whether the lattice reaches so far.
func spotAt(p plane.Point) (spot, bool) {
	x, y := math.Round(p.X*steps), math.Round(p.Y*steps)
	if !(math.Abs(x) <= farthest && math.Abs(y) <= farthest) {
		return spot{}, false
	}
	return spot{int64(x), int64(y)}, true
}

func (a spot) compare(b spot) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.y, b.y)) }

func (a spot) sub(b spot) spot { return spot{a.x - b.x, a.y - b.y} }

func (a spot) dot(b spot) int64 { return a.x*b.x + a.y*b.y }

func (a spot) cross(b spot) int64 { return a.x*b.y - a.y*b.x }

// length returns the distance of a from the origin, in steps.
func (a spot) length() float64 { return math.Sqrt(float64(a.dot(a))) }

// leftTurn reports whether the way from a over b to c turns left.
func leftTurn(a, b, c spot) bool { return b.sub(a).cross(c.sub(a)) > 0 }

// within reports whether d lies inside the circle through a, b and c, which turn left. It is exact.
func within(a, b, c, d spot) bool {
	a, b, c = a.sub(d), b.sub(d), c.sub(d)
	hi, lo := product(a.dot(a), b.cross(c))
	for _, term := range [2][2]int64{{b.dot(b), c.cross(a)}, {c.dot(c), a.cross(b)}} {
		h, l := product(term[0], term[1])
		var carry uint64
		lo, carry = bits.Add64(lo, l, 0)
		hi += h + int64(carry)
	}
	return hi > 0 || hi == 0 && lo > 0
}

// product returns the 128 bits of square times n; square is not below 0.
func product(square, n int64) (hi int64, lo uint64) {
	h, lo := bits.Mul64(uint64(square), uint64(n))
	hi = int64(h)
	if n < 0 {
		hi -= square // taken without its sign, n was 2^64 too much
	}
	return hi, lo
}
