package plane

import (
	"math"
	"slices"
)

// An Index answers many questions about where points and rings lie in one region. It may be read
// by several goroutines at once.
//
// Points in the box of the region are answered from a grid, in a time that hardly grows with the
// number of corners; points outside that box are compared with every edge where their distance is
// asked for.
type Index struct {
	region Region
	grid   *grid // nil where the region is empty
}

// NewIndex returns the index of r.
func NewIndex(r Region) *Index {
	if r.Empty() {
		return &Index{}
	}
	return &Index{r, newGrid(r)}
}

// Region returns the region that x is the index of.
func (x *Index) Region() Region { return x.region }

// Inside reports whether p lies in the region; a point on the boundary may fall on either side.
func (x *Index) Inside(p Point) bool {
	g := x.grid
	if g == nil || !g.box.Contains(p) {
		return false
	}
	row := g.rowOf(p.Y)
	if m := g.middle[row*g.cols+g.colOf(p.X)]; math.Abs(m) > g.half+slack {
		return m > 0
	}
	return g.inRow(p, row)
}

// Distance returns the distance in mm from p to the boundary: above 0 inside the region, below 0
// outside, and minus infinity where the region is empty.
func (x *Index) Distance(p Point) float64 {
	g := x.grid
	switch {
	case g == nil:
		return math.Inf(-1)
	case !g.box.Contains(p):
		near := math.Inf(1)
		for i := range g.edges {
			near = math.Min(near, g.edges[i].distance2(p))
		}
		return -math.Sqrt(near)
	}
	row := g.rowOf(p.Y)
	cell := row*g.cols + g.colOf(p.X)
	d := math.Sqrt(g.near2(p, cell))
	if m := g.middle[cell]; math.Abs(m) > g.half+slack {
		return math.Copysign(d, m)
	}
	return g.signed(p, row, d)
}

// Clear reports whether the disc of radius d mm about p lies in the region. It is quicker than
// Distance where the answer is plain.
func (x *Index) Clear(p Point, d float64) bool {
	g := x.grid
	if g == nil || !g.box.Contains(p) {
		return d == math.Inf(-1) || (d < 0 && x.Distance(p) >= d)
	}
	m := g.middle[g.rowOf(p.Y)*g.cols+g.colOf(p.X)]
	switch {
	case m-g.half-slack >= d:
		return true
	case m+g.half+slack < d:
		return false
	}
	return x.Distance(p) >= d
}

// Holds reports whether all of the area inside ring lies in the region. Touching the boundary
// from inside is allowed.
func (x *Index) Holds(ring Ring) bool {
	if x.grid == nil || len(ring) == 0 {
		return false
	}
	box, room := ring.Bounds(), x.grid.box.Grow(slack)
	if !room.Contains(box.Min) || !room.Contains(box.Max) {
		return false
	}
	middle, reach := box.Centre(), box.Min.Distance(box.Max)/2
	if x.Clear(middle, reach) {
		return true
	}
	return x.Clear(middle, -reach) && !x.grid.entersInto(ring, box) && sideOf(ring, x.Distance) > 0
}

// entersInto reports whether the boundary of the region passes through the inside of ring, whose
// bounds are box.
func (g *grid) entersInto(ring Ring, box Rect) bool {
	var room [64]int32
	tried := room[:0]
	for row := g.rowOf(box.Min.Y - slack); row <= g.rowOf(box.Max.Y+slack); row++ {
		for col := g.colOf(box.Min.X - slack); col <= g.colOf(box.Max.X+slack); col++ {
			for _, i := range g.nearest.at(row*g.cols + col) {
				e := &g.edges[i]
				if !overlap(box, e.a, e.b) || slices.Contains(tried, i) {
					continue
				}
				if tried = append(tried, i); ring.entered(e.a, e.b) {
					return true
				}
			}
		}
	}
	return false
}
