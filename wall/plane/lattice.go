package plane

import "math"

// stepsPerMM is the fineness of the lattice that regions lie on. Sixteenths of an inch are on it
// exactly (1/16 in = 1.5875 mm), and it is far coarser than the rounding of any boolean operation,
// so that a region comes out the same on every processor.
const stepsPerMM = 10_000

// onLattice returns p moved to the nearest lattice point.
func onLattice(p Point) Point { return p.Snap(stepsPerMM) }

// steps returns p counted in whole steps of the lattice.
func steps(p Point) Point {
	return Point{math.Round(p.X * stepsPerMM), math.Round(p.Y * stepsPerMM)}
}

// tidy returns r on the lattice without the corners that shape nothing: repeated ones, those in
// the middle of a straight side, and the tips of spikes. It returns nil where less than a step's
// width is left between the sides.
func tidy(r Ring) Ring {
	out := make(Ring, 0, len(r))
	for _, p := range r {
		out = shorten(append(out, onLattice(p)))
	}
	for len(out) >= 3 {
		n := len(out)
		switch {
		case straight(out[n-2], out[n-1], out[0]):
			out = shorten(out[:n-1])
		case straight(out[n-1], out[0], out[1]):
			out = out[1:]
		default:
			if math.Abs(out.Area()) < out.Perimeter()/stepsPerMM {
				return nil
			}
			return out
		}
	}
	return nil
}

// shorten drops the corner before the last of r for as long as it shapes nothing.
func shorten(r Ring) Ring {
	for n := len(r); n >= 2 && r[n-1] == r[n-2]; n-- {
		r = r[:n-1]
	}
	for n := len(r); n >= 3 && straight(r[n-3], r[n-2], r[n-1]); n = len(r) {
		r[n-2] = r[n-1]
		r = r[:n-1]
		if r[len(r)-1] == r[len(r)-2] {
			r = r[:len(r)-1]
		}
	}
	return r
}

// straight reports whether the lattice points a, b and c lie on one line, in any order.
func straight(a, b, c Point) bool {
	a, b, c = steps(a), steps(b), steps(c)
	return side(a, b, c) == 0
}

// fromCorner returns r begun at its leftmost corner, the lowest of them where several are.
func fromCorner(r Ring) Ring {
	first := 0
	for i, p := range r {
		if before(p, r[first]) {
			first = i
		}
	}
	out := make(Ring, 0, len(r))
	return append(append(out, r[first:]...), r[:first]...)
}

// before orders points from left to right and, above one another, from the foot up.
func before(p, q Point) bool { return p.X < q.X || (p.X == q.X && p.Y < q.Y) }

// compareRings orders rings by their corners, the first that differs deciding.
func compareRings(r, s Ring) int {
	for i := range min(len(r), len(s)) {
		switch {
		case before(r[i], s[i]):
			return -1
		case before(s[i], r[i]):
			return 1
		}
	}
	return len(r) - len(s)
}
