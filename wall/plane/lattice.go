package plane

import (
	"cmp"
	"math"
	"slices"
)

// stepsPerMM is the fineness of the lattice that regions lie on. Sixteenths of an inch are on it
// exactly (1/16 in = 1.5875 mm).
const stepsPerMM = 10_000

// farthest is how far from the origin a corner may lie, in mm: a hundred times the longest wall
// either way. Beyond it the lattice would be finer than float64 can follow.
const farthest = 1e8

// onLattice reports whether every corner of r is a number near enough to be put on the lattice.
func (r Ring) onLattice() bool {
	for _, p := range r {
		if !(math.Abs(p.X) <= farthest && math.Abs(p.Y) <= farthest) {
			return false
		}
	}
	return true
}

// A spot is a point of the lattice, counted in steps from the origin. Differences of spots are
// exact in float64 up to 2^53 steps, far beyond any wall.
type spot struct{ x, y int64 }

// spotAt returns the point of the lattice nearest to p.
func spotAt(p Point) spot {
	return spot{int64(math.Round(p.X * stepsPerMM)), int64(math.Round(p.Y * stepsPerMM))}
}

// point returns where s lies on the face, in mm.
func (s spot) point() Point {
	return Point{float64(s.x) / stepsPerMM, float64(s.y) / stepsPerMM}
}

// to returns the step from s to t.
func (s spot) to(t spot) Point { return Point{float64(t.x - s.x), float64(t.y - s.y)} }

// compareSpots orders spots from left to right and, above one another, from the foot up.
func compareSpots(s, t spot) int {
	if c := cmp.Compare(s.x, t.x); c != 0 {
		return c
	}
	return cmp.Compare(s.y, t.y)
}

// A loop is a ring on the lattice.
type loop []spot

// loopOf returns r on the lattice, without the corners that shape nothing.
func loopOf(r Ring) loop {
	l := make(loop, len(r))
	for i, p := range r {
		l[i] = spotAt(p)
	}
	return l.tidy(func(spot) bool { return false })
}

// tidy returns l without the corners that shape nothing: repeated ones and, unless they are fixed,
// those in the middle of a straight side and the tips of spikes. It returns nil where the sides
// lie less than two steps apart on the whole.
func (l loop) tidy(fixed func(spot) bool) loop {
	idle := func(before, s, after spot) bool {
		return s == after || (straight(before, s, after) && !fixed(s))
	}
	kept := make(loop, 0, len(l))
	for _, s := range l {
		for n := len(kept); n >= 2 && idle(kept[n-2], kept[n-1], s); n-- {
			kept = kept[:n-1]
		}
		if n := len(kept); n != 1 || kept[0] != s {
			kept = append(kept, s)
		}
	}
	for len(kept) >= 3 {
		switch n := len(kept); {
		case idle(kept[n-2], kept[n-1], kept[0]):
			kept = kept[:n-1]
		case idle(kept[n-1], kept[0], kept[1]):
			kept = kept[1:]
		case math.Abs(kept.twiceArea()) < 2*kept.perimeter():
			return nil
		default:
			return kept
		}
	}
	return nil
}

// straight reports whether a, b and c lie on one line, in any order.
func straight(a, b, c spot) bool { return a.to(b).Cross(a.to(c)) == 0 }

func (l loop) twiceArea() float64 {
	var sum float64
	for i, s := range l {
		sum += l[0].to(s).Cross(l[0].to(l[(i+1)%len(l)]))
	}
	return sum
}

func (l loop) perimeter() float64 {
	var sum float64
	for i, s := range l {
		sum += s.to(l[(i+1)%len(l)]).Len()
	}
	return sum
}

// middle returns the middle of the longest edge of l, in mm.
func (l loop) middle() Point {
	var at Point
	var longest float64
	for i, s := range l {
		t := l[(i+1)%len(l)]
		if far := s.to(t).Len(); far > longest {
			longest, at = far, s.point().Lerp(t.point(), 0.5)
		}
	}
	return at
}

// ring returns l as a ring that begins at its leftmost corner, the lowest of several, and runs
// counter-clockwise or, as a hole does, clockwise.
func (l loop) ring(hole bool) Ring {
	if (l.twiceArea() < 0) != hole {
		l = slices.Clone(l)
		slices.Reverse(l)
	}
	first := slices.Index(l, slices.MinFunc(l, compareSpots))
	r := make(Ring, len(l))
	for i := range l {
		r[i] = l[(first+i)%len(l)].point()
	}
	return r
}

// compareRings orders rings by their corners, the first that differs deciding.
func compareRings(r, s Ring) int {
	return slices.CompareFunc(r, s, func(p, q Point) int {
		if c := cmp.Compare(p.X, q.X); c != 0 {
			return c
		}
		return cmp.Compare(p.Y, q.Y)
	})
}
