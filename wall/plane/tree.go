package plane

import (
	"math"
	"sync/atomic"
)

// A cell of a tree holds so few edges that it is not cut further, or it is cut so often.
const (
	fewEdges = 6
	maxCuts  = 8
)

// A cell is an upright rectangle with the edges that can be the nearest to a point of it. It is
// cut into its four quarters when somebody first asks for one.
type cell struct {
	centre     Point
	half       Point // from its centre to its top right corner
	reach      float64
	edges      []int32
	middle     float64 // signed distance from its centre to the boundary, mm
	cuts       int
	quartering atomic.Pointer[[4]cell]
}

// A tree is the edges of a region with a cell round them all.
type tree struct {
	rowed
	root cell
}

func newTree(r Region) *tree {
	t := &tree{rowed: rowsOf(r)}
	all := make([]int32, len(t.edges))
	for i := range all {
		all[i] = int32(i)
	}
	t.settle(&t.root, t.box.Centre(), Point{t.box.Width() / 2, t.box.Height() / 2}, all)
	return t
}

// settle makes c the cell about centre whose nearest edges are among candidates: those no farther
// from the centre than the nearest is, but for the cell's diagonal.
func (t *tree) settle(c *cell, centre, half Point, candidates []int32) {
	c.centre, c.half, c.reach = centre, half, half.Len()+slack
	var room [256]float64
	off := room[:0]
	near := math.Inf(1)
	for _, i := range candidates {
		d := t.edges[i].distance2(centre)
		off = append(off, d)
		if d < near {
			near = d
		}
	}
	c.middle = math.Sqrt(near)
	far := c.middle + 2*c.reach
	far *= far
	n := 0
	for _, d := range off {
		if d <= far {
			n++
		}
	}
	c.edges = make([]int32, 0, n)
	for k, i := range candidates {
		if off[k] <= far {
			c.edges = append(c.edges, i)
		}
	}
	if !t.inside(centre) {
		c.middle = -c.middle
	}
}

// quarters returns the four quarters of c.
func (t *tree) quarters(c *cell) *[4]cell {
	if q := c.quartering.Load(); q != nil {
		return q
	}
	q := new([4]cell)
	half := c.half.Scale(0.5)
	for i := range q {
		centre := c.centre.Sub(half)
		if i&1 != 0 {
			centre.X = c.centre.X + half.X
		}
		if i&2 != 0 {
			centre.Y = c.centre.Y + half.Y
		}
		q[i].cuts = c.cuts + 1
		t.settle(&q[i], centre, half, c.edges)
	}
	// Two readers may cut a cell at once; they come to the same quarters.
	c.quartering.CompareAndSwap(nil, q)
	return c.quartering.Load()
}

// towards returns the quarter of c that holds p, or nil where c is not to be cut further.
func (t *tree) towards(c *cell, p Point) *cell {
	if len(c.edges) <= fewEdges || c.cuts == maxCuts {
		return nil
	}
	i := 0
	if p.X > c.centre.X {
		i |= 1
	}
	if p.Y > c.centre.Y {
		i |= 2
	}
	return &t.quarters(c)[i]
}

// contains reports whether p lies in the region; the tree's box holds p.
func (t *tree) contains(p Point) bool {
	for c := &t.root; c != nil; c = t.towards(c, p) {
		if math.Abs(c.middle) > c.reach {
			return c.middle > 0
		}
	}
	return t.inside(p)
}

// clear reports whether p, which the tree's box holds, lies at least d inside the boundary.
func (t *tree) clear(p Point, d float64) bool {
	last := &t.root
	for c := last; c != nil; c = t.towards(c, p) {
		switch last = c; {
		case c.middle-c.reach >= d:
			return true
		case c.middle+c.reach < d:
			return false
		}
	}
	return t.nearest(last, p) >= d
}

// distance returns the signed distance from p, which the tree's box holds, to the boundary.
func (t *tree) distance(p Point) float64 {
	last := &t.root
	for c := last; c != nil; c = t.towards(c, p) {
		last = c
	}
	return t.nearest(last, p)
}

// nearest returns the signed distance from p, which lies in c, to the nearest of the edges of c.
func (t *tree) nearest(c *cell, p Point) float64 {
	near := math.Inf(1)
	for _, i := range c.edges {
		if d := t.edges[i].distance2(p); d < near {
			near = d
		}
	}
	d := math.Sqrt(near)
	if math.Abs(c.middle) > c.reach {
		return math.Copysign(d, c.middle)
	}
	if !t.inside(p) {
		return -d
	}
	return d
}
