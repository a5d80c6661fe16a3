package drafting

import (
	"math"

	"wallshoal/scatter/heading"
	"wallshoal/wall/plane"
)

// A Mapping carries the points of a face onto a page.
type Mapping struct {
	Origin plane.Point // where the face's origin stands on the page, mm
	K      float64     // millimetres on the page for each on the face
	Turn   float64     // of the face as it lies on the page, radians counter-clockwise
}

// At returns where a point of the face lies on the page.
func (m Mapping) At(p plane.Point) plane.Point {
	if m.Turn != 0 {
		p = p.Rotate(m.Turn)
	}
	return plane.Point{X: m.Origin.X + float64(p.X*m.K), Y: m.Origin.Y - float64(p.Y*m.K)}
}

// Back returns the point of the face at a point of the page.
func (m Mapping) Back(q plane.Point) plane.Point {
	p := plane.Point{X: (q.X - m.Origin.X) / m.K, Y: (m.Origin.Y - q.Y) / m.K}
	if m.Turn != 0 {
		p = p.Rotate(-m.Turn)
	}
	return p
}

// Ring returns what a ring on the face becomes on the page.
func (m Mapping) Ring(r plane.Ring) plane.Ring { return r.Map(m.At) }

// Rings returns what rings on the face become on the page.
func (m Mapping) Rings(rs []plane.Ring) []plane.Ring {
	out := make([]plane.Ring, len(rs))
	for i, r := range rs {
		out[i] = m.Ring(r)
	}
	return out
}

// Box returns the smallest upright rectangle on the page round what r becomes.
func (m Mapping) Box(r plane.Rect) plane.Rect {
	return m.Ring(Corners(r)).Bounds()
}

// Way returns the step of length 1 on the page along a heading on the face.
func (m Mapping) Way(h heading.Bearing) plane.Point {
	sin, cos := math.Sincos(h.Angle() + m.Turn)
	return plane.Point{X: cos, Y: -sin}
}
