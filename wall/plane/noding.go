package plane

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// A rim is a straight piece of the boundary of one or two areas that are being combined. Crossing
// it from right to left, as seen along it, enters the first area gain[0] times and the second
// gain[1] times.
type rim struct {
	a, b spot
	gain [2]int
}

// hot is how near, in steps, a corner may lie to a rim without becoming a corner of that rim. It
// is a little less than half the diagonal of a lattice cell, or the two diagonals of one cell
// would take turns in giving way to each other.
const hot = 0.7

// errRestless is returned where cutting the rims never comes to an end.
var errRestless = errors.New("the boundaries of a region do not settle on the lattice")

// noded returns the rims cut so that they meet at their ends only, those on top of one another
// made one. It is snap rounding as described by Hobby ("Practical segment intersection with
// finite precision output", Computational Geometry 13, 1999), repeated until nothing moves.
func noded(rims []rim) ([]rim, error) {
	for range 64 {
		rims = merged(rims)
		cuts := crossings(rims)
		nearCorners(rims, cuts)
		next, settled := cutAt(rims, cuts)
		if settled {
			return rims, nil
		}
		rims = next
	}
	return nil, errRestless
}

// merged returns the rims from their left ends to their right, sorted, with the gains of those
// between the same ends added up, and without those that gain nothing.
func merged(rims []rim) []rim {
	sorted := make([]rim, 0, len(rims))
	for _, r := range rims {
		switch c := compareSpots(r.a, r.b); {
		case c > 0:
			sorted = append(sorted, rim{r.b, r.a, [2]int{-r.gain[0], -r.gain[1]}})
		case c < 0:
			sorted = append(sorted, r)
		}
	}
	slices.SortFunc(sorted, func(r, s rim) int {
		return cmp.Or(compareSpots(r.a, s.a), compareSpots(r.b, s.b))
	})
	out := sorted[:0]
	for _, r := range sorted {
		if n := len(out); n > 0 && out[n-1].a == r.a && out[n-1].b == r.b {
			out[n-1].gain[0] += r.gain[0]
			out[n-1].gain[1] += r.gain[1]
			continue
		}
		out = append(out, r)
	}
	return slices.DeleteFunc(out, func(r rim) bool { return r.gain == [2]int{} })
}

// crossings returns, for every rim, where others cross it, on the lattice. The rims are sorted by
// their left ends.
func crossings(rims []rim) [][]spot {
	cuts := make([][]spot, len(rims))
	for i, r := range rims {
		low, high := min(r.a.y, r.b.y), max(r.a.y, r.b.y)
		for j := i + 1; j < len(rims) && rims[j].a.x <= r.b.x; j++ {
			s := rims[j]
			if min(s.a.y, s.b.y) > high || max(s.a.y, s.b.y) < low {
				continue
			}
			if at, ok := crossing(r, s); ok {
				cuts[i] = append(cuts[i], at)
				cuts[j] = append(cuts[j], at)
			}
		}
	}
	return cuts
}

// crossing returns where r and s cross away from their ends, on the lattice.
func crossing(r, s rim) (at spot, ok bool) {
	along, other := r.a.to(r.b), s.a.to(s.b)
	sa, sb := along.Cross(r.a.to(s.a)), along.Cross(r.a.to(s.b))
	ra, rb := other.Cross(s.a.to(r.a)), other.Cross(s.a.to(r.b))
	if !(sa < 0 && sb > 0 || sa > 0 && sb < 0) || !(ra < 0 && rb > 0 || ra > 0 && rb < 0) {
		return spot{}, false
	}
	t := ra / (ra - rb)
	return spot{
		r.a.x + int64(math.Round(float64(along.X*t))),
		r.a.y + int64(math.Round(float64(along.Y*t))),
	}, true
}

// nearCorners adds to the cuts of every rim the ends of others, and their cuts, that it passes
// within hot of.
func nearCorners(rims []rim, cuts [][]spot) {
	corners := cornersOf(rims, cuts)
	for i, r := range rims {
		from, _ := slices.BinarySearchFunc(corners, spot{r.a.x - 1, math.MinInt64}, compareSpots)
		low, high := min(r.a.y, r.b.y)-1, max(r.a.y, r.b.y)+1
		for _, c := range corners[from:] {
			if c.x > r.b.x+1 {
				break
			}
			if c.y >= low && c.y <= high && c != r.a && c != r.b && r.passes(c) {
				cuts[i] = append(cuts[i], c)
			}
		}
	}
}

// cornersOf returns every end and cut of the rims, sorted, each once.
func cornersOf(rims []rim, cuts [][]spot) []spot {
	corners := slices.Concat(cuts...)
	for _, r := range rims {
		corners = append(corners, r.a, r.b)
	}
	slices.SortFunc(corners, compareSpots)
	return slices.Compact(corners)
}

// passes reports whether r passes within hot of c between its ends.
func (r rim) passes(c spot) bool {
	along, to := r.a.to(r.b), r.a.to(c)
	t, whole := along.Dot(to), along.Dot(along)
	if t <= 0 || t >= whole {
		return false
	}
	off := along.Cross(to)
	return float64(off*off) < hot*hot*whole
}

// cutAt returns the rims cut at their cuts, and whether there was nothing to cut.
func cutAt(rims []rim, cuts [][]spot) (out []rim, settled bool) {
	settled = true
	for i, r := range rims {
		stops := slices.DeleteFunc(cuts[i], func(s spot) bool { return s == r.a || s == r.b })
		if len(stops) > 0 {
			settled = false
		}
		along := r.a.to(r.b)
		slices.SortFunc(stops, func(s, t spot) int {
			return cmp.Or(cmp.Compare(along.Dot(r.a.to(s)), along.Dot(r.a.to(t))), compareSpots(s, t))
		})
		at := r.a
		for _, s := range append(stops, r.b) {
			if s != at {
				out = append(out, rim{at, s, r.gain})
				at = s
			}
		}
	}
	return out, settled
}
