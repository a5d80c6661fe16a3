package plane

import (
	"math"
	"slices"
)

// slack is how close two things lie when they touch, in mm: far below the lattice of regions and
// the micron that places are rounded to, far above the rounding of a product on a wall of 1 km.
const slack = 1e-6

// Touches reports whether any part of the area inside ring lies in r. Where they only share a
// piece of boundary they do not touch.
func (r Region) Touches(ring Ring) bool {
	if r.Empty() || len(ring) == 0 || !r.Bounds().Overlaps(ring.Bounds()) {
		return false
	}
	return r.entersInto(ring) || sideOf(ring, r.Distance) > 0
}

// Holds reports whether all of the area inside ring lies in r. Touching the boundary of r from
// inside is allowed. An Index answers many such questions faster.
func (r Region) Holds(ring Ring) bool {
	if r.Empty() || len(ring) == 0 || !r.Bounds().Overlaps(ring.Bounds()) {
		return false
	}
	return !r.entersInto(ring) && sideOf(ring, r.Distance) > 0
}

// entersInto reports whether the boundary of r passes through the inside of ring.
func (r Region) entersInto(ring Ring) bool {
	box := ring.Bounds()
	for _, own := range r.Rings() {
		for i, c := range own {
			d := own[(i+1)%len(own)]
			if overlap(box, c, d) && ring.entered(c, d) {
				return true
			}
		}
	}
	return false
}

// sideOf returns above 0 where r lies inside a region and below 0 where it lies outside, given
// the signed distance to the region's boundary, no part of which passes through the inside of r.
// Any corner that is not itself on the boundary tells; a point inside r tells where all are.
func sideOf(r Ring, distance func(Point) float64) float64 {
	for _, p := range r {
		if d := distance(p); math.Abs(d) > slack {
			return d
		}
	}
	return distance(r.within())
}

// entered reports whether the segment cd passes through the inside of r. Running along the
// boundary of r or touching it from either side is not passing through.
func (r Ring) entered(c, d Point) bool {
	var room [16]float64
	stops := room[:0]
	along := d.Sub(c)
	for i, a := range r {
		b := r[(i+1)%len(r)]
		ca := offLine(c, d, a)
		if ca*offLine(c, d, b) < 0 && offLine(a, b, c)*offLine(a, b, d) < 0 {
			return true
		}
		if ca == 0 {
			if t := a.Sub(c).Dot(along) / along.Dot(along); t > 0 && t < 1 {
				stops = append(stops, t)
			}
		}
	}
	stops = append(stops, 0, 1)
	slices.Sort(stops)
	for i, t := range stops[1:] {
		if r.deep(c.Lerp(d, (stops[i]+t)/2)) {
			return true
		}
	}
	return false
}

// offLine returns 1 where c lies left of the line from a to b, -1 right of it, and 0 within slack
// of it.
func offLine(a, b, c Point) int {
	ab := b.Sub(a)
	cross := ab.Cross(c.Sub(a))
	switch {
	case float64(cross*cross) <= slack*slack*ab.Dot(ab):
		return 0
	case cross > 0:
		return 1
	}
	return -1
}

// deep reports whether p lies inside r and off its boundary.
func (r Ring) deep(p Point) bool {
	if !r.Contains(p) {
		return false
	}
	for i, a := range r {
		if SegmentDistance(p, a, r[(i+1)%len(r)]) <= slack {
			return false
		}
	}
	return true
}

// within returns a point inside r, the middle of the widest stretch of a level line halfway up
// the tallest band without a corner; the first corner where r has no area.
func (r Ring) within() Point {
	levels := make([]float64, len(r))
	for i, p := range r {
		levels[i] = p.Y
	}
	slices.Sort(levels)
	var tallest, y float64
	for i := range levels[1:] {
		if gap := levels[i+1] - levels[i]; gap > tallest {
			tallest, y = gap, levels[i]+gap/2
		}
	}
	var cuts []float64
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if (a.Y > y) != (b.Y > y) {
			cuts = append(cuts, a.Lerp(b, (y-a.Y)/(b.Y-a.Y)).X)
		}
	}
	slices.Sort(cuts)
	best, widest := r[0], 0.0
	for i := 0; i+1 < len(cuts); i += 2 {
		if w := cuts[i+1] - cuts[i]; w > widest {
			best, widest = Point{cuts[i] + w/2, y}, w
		}
	}
	return best
}
