package wall

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A body is a prism in the room: everything whose foot on a plane lies within a shape, from low to
// high mm off that plane.
type body struct {
	frame     space.Frame
	shape     plane.Ring
	parts     []plane.Ring // convex, and together the shape
	low, high float64
	box       box

	wall, obstruction int     // that it belongs to; -1 for none
	clearance         float64 // pieces keep this far from where it meets a face, mm
}

func newBody(frame space.Frame, shape plane.Ring, low, high float64) body {
	b := body{frame: frame, shape: shape, parts: convexParts(shape), low: low, high: high, wall: -1, obstruction: -1}
	var corners []space.Vec
	for _, p := range shape {
		corners = append(corners, frame.Lift(p, low), frame.Lift(p, high))
	}
	b.box = boxRound(corners)
	return b
}

// A heading says from which side of a face something is looked for.
type heading float64

const (
	before heading = 1
	behind heading = -1
)

// slice returns the places on the plane of f before or behind which, next to it, lies the inside of
// b. What only touches the plane from the other side is not met.
func (b body) slice(f space.Frame, look heading) (plane.Region, error) {
	lean := f.Out.Dot(b.frame.Out)
	if math.Abs(lean) > 1-level {
		_, z := b.frame.Local(f.Origin)
		if lean < 0 {
			look = -look
		}
		if z += float64(look) * 2 * flush; z < b.low+flush || z > b.high-flush {
			return plane.Region{}, nil
		}
		return plane.RegionOf(b.shape.Map(func(p plane.Point) plane.Point {
			q, _ := f.Local(b.frame.Lift(p, 0))
			return q
		})), nil
	}
	var met []plane.Region
	for _, part := range b.parts {
		if ring := b.slicePart(part, f, look); len(ring) > 2 {
			met = append(met, plane.RegionOf(ring))
		}
	}
	return plane.Union(met...)
}

// level is how far the cosine between two directions may be from 1 for them to count as one: an
// angle of some 5 seconds of arc, by which 20 m stray by half a millimetre.
const level = 3e-10

// slicePart returns what of the plane of f meets the prism over one convex part of b's shape.
func (b body) slicePart(part plane.Ring, f space.Frame, look heading) plane.Ring {
	var shadow plane.Ring
	for _, p := range part {
		for _, z := range [2]float64{b.low, b.high} {
			q, _ := f.Local(b.frame.Lift(p, z))
			shadow = append(shadow, q)
		}
	}
	bounds := shadow.Bounds().Grow(1)
	ring := plane.Rectangle(bounds.Min, bounds.Width(), bounds.Height())
	ring = clip(ring, f, look, b.frame.Lift(part[0], b.low), b.frame.Out.Scale(-1))
	ring = clip(ring, f, look, b.frame.Lift(part[0], b.high), b.frame.Out)
	for i, a := range part {
		e := part[(i+1)%len(part)].Sub(a)
		e = e.Scale(1 / e.Len())
		away := b.frame.Right.Scale(e.Y).Add(b.frame.Up.Scale(-e.X))
		ring = clip(ring, f, look, b.frame.At(a), away)
	}
	return ring
}

// clip returns what of a convex ring on the plane of f lies on the inner side of the plane through
// at whose outward direction is away.
func clip(ring plane.Ring, f space.Frame, look heading, at, away space.Vec) plane.Ring {
	rise := f.Flatten(away)
	base := f.Origin.Sub(at).Dot(away)
	if rise.Len() < math.Sqrt(2*level) { // the two planes are parallel
		if base += float64(look) * 2 * flush * f.Out.Dot(away); base > -flush {
			return nil
		}
		return ring
	}
	var kept plane.Ring
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		atP, atQ := base+rise.Dot(p), base+rise.Dot(q)
		if atP <= 0 {
			kept = append(kept, p)
		}
		if (atP < 0 && atQ > 0) || (atP > 0 && atQ < 0) {
			kept = append(kept, p.Lerp(q, atP/(atP-atQ)))
		}
	}
	return kept
}

// convexParts returns convex rings that together make up the area inside r, a counter-clockwise
// ring whose sides do not cross: r itself where it is convex, triangles otherwise.
func convexParts(r plane.Ring) []plane.Ring {
	if convex(r) {
		return []plane.Ring{r}
	}
	var parts []plane.Ring
	rest := append(plane.Ring(nil), r...)
	for len(rest) > 3 {
		i := ear(rest)
		n := len(rest)
		parts = append(parts, plane.Ring{rest[(i+n-1)%n], rest[i], rest[(i+1)%n]})
		rest = append(rest[:i], rest[i+1:]...)
	}
	parts = append(parts, rest)
	kept := parts[:0]
	for _, p := range parts {
		if p.Area() > 0 {
			kept = append(kept, p)
		}
	}
	return kept
}

func convex(r plane.Ring) bool {
	for i, b := range r {
		a, c := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
		if b.Sub(a).Cross(c.Sub(b)) <= 0 {
			return false
		}
	}
	return true
}

// ear returns a corner of r that can be cut off: the triangle with its neighbours turns left and
// holds no other corner. Every ring whose sides do not cross has one (Meisters 1975); for any other
// it returns the first corner.
func ear(r plane.Ring) int {
	n := len(r)
	for i, b := range r {
		a, c := r[(i+n-1)%n], r[(i+1)%n]
		if b.Sub(a).Cross(c.Sub(b)) < 0 {
			continue
		}
		free := true
		for _, p := range r {
			if p != a && p != b && p != c && holds(a, b, c, p) {
				free = false
				break
			}
		}
		if free {
			return i
		}
	}
	return 0
}

// holds reports whether p lies in the triangle a, b, c, which turns left, or on its boundary.
func holds(a, b, c, p plane.Point) bool {
	return b.Sub(a).Cross(p.Sub(a)) >= 0 && c.Sub(b).Cross(p.Sub(b)) >= 0 && a.Sub(c).Cross(p.Sub(c)) >= 0
}

// boxRound returns the smallest upright box round the corners.
func boxRound(corners []space.Vec) box {
	b := box{
		space.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)},
		space.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)},
	}
	for _, v := range corners {
		b.min = space.Vec{X: math.Min(b.min.X, v.X), Y: math.Min(b.min.Y, v.Y), Z: math.Min(b.min.Z, v.Z)}
		b.max = space.Vec{X: math.Max(b.max.X, v.X), Y: math.Max(b.max.Y, v.Y), Z: math.Max(b.max.Z, v.Z)}
	}
	return b
}
