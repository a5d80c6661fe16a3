package plane

import "math"

// An Index answers many questions about where points and rings lie in one region. It is cheap to
// make, and learns where it is asked. It may be read by several goroutines at once.
//
// Points in the box of the region are answered in a time that hardly grows with the number of
// corners; points outside that box are compared with every edge where their distance is asked for.
type Index struct {
	region Region
	tree   *tree // nil where the region is empty
}

// NewIndex returns the index of r.
func NewIndex(r Region) *Index {
	if r.Empty() {
		return &Index{}
	}
	return &Index{r, newTree(r)}
}

// Region returns the region that x is the index of.
func (x *Index) Region() Region { return x.region }

// Inside reports whether p lies in the region; a point on the boundary may fall on either side.
func (x *Index) Inside(p Point) bool {
	return x.tree != nil && x.tree.box.Contains(p) && x.tree.contains(p)
}

// Distance returns the distance in mm from p to the boundary: above 0 inside the region, below 0
// outside, and minus infinity where the region is empty.
func (x *Index) Distance(p Point) float64 {
	switch {
	case x.tree == nil:
		return math.Inf(-1)
	case x.tree.box.Contains(p):
		return x.tree.distance(p)
	}
	near := math.Inf(1)
	for i := range x.tree.edges {
		near = min(near, x.tree.edges[i].distance2(p))
	}
	return -math.Sqrt(near)
}

// Clear reports whether Distance(p) is at least d. It is quicker than Distance where the answer
// is plain: mostly it is.
func (x *Index) Clear(p Point, d float64) bool {
	switch {
	case x.tree == nil || d > 0 && !x.tree.box.Contains(p):
		return false
	case x.tree.box.Contains(p):
		return x.tree.clear(p, d)
	}
	return x.tree.box.Grow(-d).Contains(p) && x.Distance(p) >= d
}

// Holds reports whether all of the area inside ring lies in the region. Touching the boundary
// from inside is allowed.
func (x *Index) Holds(ring Ring) bool {
	if x.tree == nil || len(ring) == 0 {
		return false
	}
	box, room := ring.Bounds(), x.tree.box.Grow(slack)
	if !room.Contains(box.Min) || !room.Contains(box.Max) {
		return false
	}
	middle, reach := box.Centre(), box.Min.Distance(box.Max)/2
	if x.Clear(middle, reach) {
		return true
	}
	return x.Clear(middle, -reach) && !x.tree.entersInto(ring, box) && sideOf(ring, x.Distance) > 0
}
