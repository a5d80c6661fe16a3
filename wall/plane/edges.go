package plane

import (
	"cmp"
	"slices"
)

// An edge is one side of a ring of a region.
type edge struct {
	a, b, along Point
	whole       float64 // square of its length, mm²
	left        float64 // x of its left end
}

// distance2 returns the square of the distance from p to e, in mm².
func (e *edge) distance2(p Point) float64 {
	to := p.Sub(e.a)
	t := to.Dot(e.along)
	switch {
	case t <= 0:
		return to.Dot(to)
	case t >= e.whole:
		past := p.Sub(e.b)
		return past.Dot(past)
	}
	off := e.along.Cross(to)
	return float64(off*off) / e.whole
}

// maxRows is the largest number of rows of a list of edges.
const maxRows = 256

// A rowed is the edges of a region, listed by the rows of its box that they pass through.
type rowed struct {
	box   Rect
	size  float64 // height of a row, mm
	edges []edge
	rows  [][]int32 // indices of edges, sorted by their left ends
}

// rowsOf returns the edges of a region that is not empty.
func rowsOf(r Region) rowed {
	s := rowed{box: r.Bounds()}
	for _, ring := range r.Rings() {
		for i, a := range ring {
			b := ring[(i+1)%len(ring)]
			along := b.Sub(a)
			s.edges = append(s.edges, edge{a, b, along, along.Dot(along), min(a.X, b.X)})
		}
	}
	s.rows = make([][]int32, min(len(s.edges), maxRows))
	s.size = s.box.Height() / float64(len(s.rows))
	fromLeft := make([]int32, len(s.edges))
	for i := range fromLeft {
		fromLeft[i] = int32(i)
	}
	slices.SortFunc(fromLeft, func(i, j int32) int {
		return cmp.Or(cmp.Compare(s.edges[i].left, s.edges[j].left), cmp.Compare(i, j))
	})
	for _, i := range fromLeft {
		e := s.edges[i]
		from, to := s.row(min(e.a.Y, e.b.Y)-slack), s.row(max(e.a.Y, e.b.Y)+slack)
		for row := from; row <= to; row++ {
			s.rows[row] = append(s.rows[row], i)
		}
	}
	return s
}

// row returns the row that y lies in, or the row nearest to it.
func (s *rowed) row(y float64) int {
	return min(max(int((y-s.box.Min.Y)/s.size), 0), len(s.rows)-1)
}

// inside reports whether p lies in the region; its box holds p.
func (s *rowed) inside(p Point) bool {
	in := false
	for _, i := range s.rows[s.row(p.Y)] {
		e := &s.edges[i]
		if e.left > p.X {
			break
		}
		if (e.a.Y > p.Y) == (e.b.Y > p.Y) {
			continue
		}
		side := e.along.Cross(p.Sub(e.a))
		if (e.along.Y > 0) == (side < 0) {
			in = !in
		}
	}
	return in
}

// entersInto reports whether the boundary of the region passes through the inside of ring, whose
// bounds are box.
func (s *rowed) entersInto(ring Ring, box Rect) bool {
	var room [64]int32
	tried := room[:0]
	for row := s.row(box.Min.Y - slack); row <= s.row(box.Max.Y+slack); row++ {
		for _, i := range s.rows[row] {
			e := &s.edges[i]
			if e.left > box.Max.X {
				break
			}
			if !overlap(box, e.a, e.b) || slices.Contains(tried, i) {
				continue
			}
			if tried = append(tried, i); ring.entered(e.a, e.b) {
				return true
			}
		}
	}
	return false
}
