package plane

import "math"

// A Ring is the boundary of a polygon without holes: its corners in order, the last joined to
// the first. Counter-clockwise rings have a positive area.
type Ring []Point

// Rectangle returns the upright rectangle with its bottom-left corner at p, counter-clockwise.
func Rectangle(p Point, width, height float64) Ring {
	return Ring{p, {p.X + width, p.Y}, {p.X + width, p.Y + height}, {p.X, p.Y + height}}
}

// Ellipse returns the polygon of n corners inscribed in the ellipse about c with the half axes
// rx and ry, counter-clockwise from its rightmost point.
func Ellipse(c Point, rx, ry float64, n int) Ring {
	ring := make(Ring, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring[i] = Point{c.X + float64(rx*cos), c.Y + float64(ry*sin)}
	}
	return ring
}

// after returns the index of the corner that follows corner i.
func (r Ring) after(i int) int {
	if i++; i < len(r) {
		return i
	}
	return 0
}

// Area returns the signed area in mm²: positive for a counter-clockwise ring.
func (r Ring) Area() float64 {
	var twice float64
	for i, p := range r {
		twice += p.Sub(r[0]).Cross(r[r.after(i)].Sub(r[0]))
	}
	return twice / 2
}

// Perimeter returns the length of the boundary in mm.
func (r Ring) Perimeter() float64 {
	var sum float64
	for i, p := range r {
		sum += p.Distance(r[r.after(i)])
	}
	return sum
}

// Centroid returns the centre of mass of the enclosed area. Where the area is nothing, or the ring
// crosses itself so that its parts cancel, it returns the mean of the corners.
func (r Ring) Centroid() Point {
	if len(r) == 0 {
		return Point{}
	}
	origin := r[0]
	var twice float64
	var sum, mean Point
	for i := range r {
		a, b := r[i].Sub(origin), r[r.after(i)].Sub(origin)
		w := a.Cross(b)
		twice += w
		sum = sum.Add(a.Add(b).Scale(w))
		mean = mean.Add(a)
	}
	// The centre of mass of an area lies in its box; where next to nothing was divided by next to
	// nothing it may not.
	if c := origin.Add(sum.Scale(1 / (3 * twice))); twice != 0 && r.Bounds().Contains(c) {
		return c
	}
	return origin.Add(mean.Scale(1 / float64(len(r))))
}

// Bounds returns the smallest upright rectangle round r; the zero Rect for an empty ring.
func (r Ring) Bounds() Rect {
	if len(r) == 0 {
		return Rect{}
	}
	b := Rect{r[0], r[0]}
	for _, p := range r[1:] {
		b = b.Union(Rect{p, p})
	}
	return b
}

// Map returns the ring of f(p) for every corner p.
func (r Ring) Map(f func(Point) Point) Ring {
	out := make(Ring, len(r))
	for i, p := range r {
		out[i] = f(p)
	}
	return out
}

// Reverse returns r walked the other way round.
func (r Ring) Reverse() Ring {
	out := make(Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

// CounterClockwise returns r, or its reverse where r runs clockwise.
func (r Ring) CounterClockwise() Ring {
	if r.Area() < 0 {
		return r.Reverse()
	}
	return r
}

// Place returns r turned by angle about the origin and then moved by at.
func (r Ring) Place(at Point, angle float64) Ring {
	sin, cos := math.Sincos(angle)
	return r.Map(func(p Point) Point {
		return Point{
			float64(p.X*cos) - float64(p.Y*sin) + at.X,
			float64(p.X*sin) + float64(p.Y*cos) + at.Y,
		}
	})
}

// Contains reports whether p lies inside r; a point on the boundary may fall on either side.
func (r Ring) Contains(p Point) bool {
	inside := false
	for i, a := range r {
		b := r[r.after(i)]
		if (a.Y > p.Y) != (b.Y > p.Y) {
			side := b.Sub(a).Cross(p.Sub(a))
			if (b.Y > a.Y) == (side > 0) {
				inside = !inside
			}
		}
	}
	return inside
}

// Reach returns the greatest distance of a corner of r from the origin: the radius of the disc
// that holds r however it is turned.
func (r Ring) Reach() float64 {
	var far float64
	for _, p := range r {
		far = max(far, p.Len())
	}
	return far
}

// Crossing returns the first two edges of r, by the index of their first corner, that cross,
// touch or fold back on one another, and whether there are any. Neighbouring edges share a corner
// by right; a corner repeated, or an edge that runs back over the one before it, counts.
func (r Ring) Crossing() (i, j int, found bool) {
	for i, a := range r {
		b := r[r.after(i)]
		if a == b {
			return i, r.after(i), true
		}
		box := Rect{a, a}.Union(Rect{b, b})
		for j := i + 1; j < len(r); j++ {
			c, d := r[j], r[r.after(j)]
			if !overlap(box, c, d) {
				continue
			}
			follows, leads := j == i+1, r.after(j) == i
			switch {
			case follows && foldsBack(b.Sub(a), d.Sub(c)), leads && foldsBack(d.Sub(c), b.Sub(a)):
				return i, j, true
			case !follows && !leads && SegmentsMeet(a, b, c, d):
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// foldsBack reports whether the step out of a corner runs back over the step into it.
func foldsBack(in, out Point) bool { return in.Cross(out) == 0 && in.Dot(out) < 0 }
