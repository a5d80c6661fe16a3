// Package plane is the geometry of one flat face.
//
// Lengths are millimetres. A face is seen square-on from inside the room: the origin is its
// bottom-left corner, x runs right and y runs up. Angles are radians, counter-clockwise from +x.
//
// Decisions that a layout hangs on (which side, how far, overlapping or not) round every product
// before it is added, float64(a*b) + float64(c*d), so that a processor with a fused multiply-add
// decides as one without.
package plane

import "math"

// A Point is a place on a face, or the step between two places, in mm.
type Point struct{ X, Y float64 }

// Add returns p moved by q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns the step from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale returns p with both coordinates multiplied by k.
func (p Point) Scale(k float64) Point { return Point{float64(p.X * k), float64(p.Y * k)} }

// Dot returns the scalar product of p and q.
func (p Point) Dot(q Point) float64 { return float64(p.X*q.X) + float64(p.Y*q.Y) }

// Cross returns the z component of p × q: above 0 where q lies counter-clockwise of p.
func (p Point) Cross(q Point) float64 { return float64(p.X*q.Y) - float64(p.Y*q.X) }

// Len returns the length of p.
func (p Point) Len() float64 { return math.Sqrt(p.Dot(p)) }

// Distance returns the straight distance between p and q.
func (p Point) Distance(q Point) float64 { return p.Sub(q).Len() }

// Lerp returns the point a share t of the way from p to q; 0 is p and 1 is q.
func (p Point) Lerp(q Point, t float64) Point {
	return Point{p.X + float64(t*(q.X-p.X)), p.Y + float64(t*(q.Y-p.Y))}
}

// Rotate returns p turned about the origin by angle, in radians counter-clockwise.
func (p Point) Rotate(angle float64) Point {
	sin, cos := math.Sincos(angle)
	return Point{float64(p.X*cos) - float64(p.Y*sin), float64(p.X*sin) + float64(p.Y*cos)}
}

// Angle returns the direction of p in radians counter-clockwise from +x, in (-π, π].
// The zero point has the angle 0.
func (p Point) Angle() float64 { return math.Atan2(p.Y, p.X) }

// Finite reports whether neither coordinate is NaN or infinite.
func (p Point) Finite() bool {
	return !math.IsNaN(p.X) && !math.IsInf(p.X, 0) && !math.IsNaN(p.Y) && !math.IsInf(p.Y, 0)
}

// Snap returns p with both coordinates rounded to a whole number of steps of 1/perMM millimetres.
// Places are snapped once they are chosen, so that the last bits of a sine or a logarithm, which
// differ between processors, never reach a decision. Zero always comes out without a sign.
func (p Point) Snap(perMM float64) Point {
	return Point{math.Round(p.X*perMM)/perMM + 0, math.Round(p.Y*perMM)/perMM + 0}
}

// A Rect is an upright rectangle; its zero value is the empty rectangle at the origin.
type Rect struct{ Min, Max Point }

// Width returns the extent of r along x.
func (r Rect) Width() float64 { return r.Max.X - r.Min.X }

// Height returns the extent of r along y.
func (r Rect) Height() float64 { return r.Max.Y - r.Min.Y }

// Centre returns the middle of r.
func (r Rect) Centre() Point { return r.Min.Lerp(r.Max, 0.5) }

// Grow returns r with every side moved out by d.
func (r Rect) Grow(d float64) Rect {
	return Rect{Point{r.Min.X - d, r.Min.Y - d}, Point{r.Max.X + d, r.Max.Y + d}}
}

// Contains reports whether p lies in r or on its edge.
func (r Rect) Contains(p Point) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// Overlaps reports whether r and s share at least a point.
func (r Rect) Overlaps(s Rect) bool {
	return r.Min.X <= s.Max.X && s.Min.X <= r.Max.X && r.Min.Y <= s.Max.Y && s.Min.Y <= r.Max.Y
}

// Intersection returns what r and s share; they must overlap.
func (r Rect) Intersection(s Rect) Rect {
	return Rect{
		Point{math.Max(r.Min.X, s.Min.X), math.Max(r.Min.Y, s.Min.Y)},
		Point{math.Min(r.Max.X, s.Max.X), math.Min(r.Max.Y, s.Max.Y)},
	}
}

// Union returns the smallest rectangle round r and s.
func (r Rect) Union(s Rect) Rect {
	return Rect{
		Point{min(r.Min.X, s.Min.X), min(r.Min.Y, s.Min.Y)},
		Point{max(r.Max.X, s.Max.X), max(r.Max.Y, s.Max.Y)},
	}
}
