package plane

import "math"

// A Region is a part of a face: any number of polygons, with or without holes, that do not
// overlap. Its zero value is empty. Regions are values; no method changes one.
//
// The corners of a region lie on a lattice of 1/10000 mm, and what is thinner than two steps of
// it is dropped. So one region made in two ways, or on two machines, is the same corner for corner.
type Region struct{ polygons []Polygon }

// A Polygon is one connected part of a region: a counter-clockwise outer ring and clockwise holes.
type Polygon struct {
	Outer Ring
	Holes []Ring
}

// RegionOf returns the region that r encloses, whichever way r runs. The sides of r must not
// cross; NewRegion takes rings that nobody has checked. The region of a ring without area, or
// with a corner that is not a number or more than 100 km away, is empty.
func RegionOf(r Ring) Region {
	if !r.onLattice() {
		return Region{}
	}
	l := loopOf(r)
	if l == nil {
		return Region{}
	}
	return Region{[]Polygon{{Outer: l.ring(false)}}}
}

// Polygons returns the parts of r from left to right: outer rings counter-clockwise, holes
// clockwise, every ring begun at its leftmost corner (the lowest of several). The slice is the
// caller's, the rings are not to be changed.
func (r Region) Polygons() []Polygon { return append([]Polygon(nil), r.polygons...) }

// Empty reports whether r holds no area.
func (r Region) Empty() bool { return len(r.polygons) == 0 }

// Area returns the area in mm².
func (r Region) Area() float64 {
	var sum float64
	for _, ring := range r.Rings() {
		sum += ring.Area()
	}
	return sum
}

// Bounds returns the smallest upright rectangle round r; the zero Rect where r is empty.
func (r Region) Bounds() Rect {
	if r.Empty() {
		return Rect{}
	}
	b := r.polygons[0].Outer.Bounds()
	for _, p := range r.polygons[1:] {
		b = b.Union(p.Outer.Bounds())
	}
	return b
}

// Contains reports whether p lies inside r; a point on the boundary may fall on either side. An
// Index answers many such questions faster.
func (r Region) Contains(p Point) bool {
	inside := false
	for _, ring := range r.Rings() {
		if ring.Contains(p) {
			inside = !inside
		}
	}
	return inside
}

// Distance returns the distance in mm from p to the boundary of r: above 0 inside r, below 0
// outside, and minus infinity where r is empty. An Index answers many such questions faster.
func (r Region) Distance(p Point) float64 {
	near := math.Inf(1)
	for _, ring := range r.Rings() {
		for i, a := range ring {
			near = min(near, SegmentDistance(p, a, ring[(i+1)%len(ring)]))
		}
	}
	if !r.Contains(p) {
		return -near
	}
	return near
}

// Rings returns every ring of r: of each polygon the outer one, then its holes.
func (r Region) Rings() []Ring {
	var all []Ring
	for _, p := range r.polygons {
		all = append(all, p.Outer)
		all = append(all, p.Holes...)
	}
	return all
}
