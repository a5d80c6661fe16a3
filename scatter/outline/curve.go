package outline

import (
	"math"

	"wallshoal/wall/plane"
)

// A Path is one closed contour of straight lines, Bézier curves and elliptical arcs.
type Path struct {
	start    plane.Point
	segments []segment
}

// A segment is the part of a contour that ends at its last point and starts where the one before
// it ends.
type segment interface {
	end() plane.Point
	// steps returns into how many straight edges it must be cut, at most most or one more.
	steps(from plane.Point, tolerance float64, most int) int
	// at returns the point a share t of the way along its parameter.
	at(from plane.Point, t float64) plane.Point
}

// Ring implements Drawing.
func (p Path) Ring(tolerance float64, most int) plane.Ring {
	ring := plane.Ring{p.start}
	from := p.start
	for _, s := range p.segments {
		n := s.steps(from, tolerance, most)
		for i := 1; i < n; i++ {
			if len(ring) > most {
				return ring
			}
			ring = append(ring, s.at(from, float64(i)/float64(n)))
		}
		from = s.end()
		if from != ring[len(ring)-1] {
			ring = append(ring, from)
		}
	}
	if len(ring) > 1 && ring[0] == ring[len(ring)-1] {
		ring = ring[:len(ring)-1]
	}
	return ring
}

type line struct{ to plane.Point }

func (l line) end() plane.Point                           { return l.to }
func (l line) steps(plane.Point, float64, int) int        { return 1 }
func (l line) at(from plane.Point, t float64) plane.Point { return from.Lerp(l.to, t) }

// A cubic is a cubic Bézier curve by its two control points and its end.
type cubic struct{ c1, c2, to plane.Point }

func (c cubic) end() plane.Point { return c.to }

// steps bounds the number of equal parts of the parameter by the curve's second differences.
// Source: G. Wang, "The subdivision method for finding the intersection between two Bézier curves
// or surfaces", Zhejiang University Journal, 1984 (from memory).
func (c cubic) steps(from plane.Point, tolerance float64, most int) int {
	bend := math.Max(secondDifference(from, c.c1, c.c2), secondDifference(c.c1, c.c2, c.to))
	return wholeSteps(math.Sqrt(0.75*bend/tolerance), most)
}

func secondDifference(a, b, c plane.Point) float64 {
	return a.Sub(b).Sub(b.Sub(c)).Len()
}

// wholeSteps returns n rounded up, at least 2, and at most one more than most.
func wholeSteps(n float64, most int) int {
	if !(n < float64(most)) {
		if most == math.MaxInt {
			return most
		}
		return most + 1
	}
	return max(2, int(math.Ceil(n)))
}

func (c cubic) at(from plane.Point, t float64) plane.Point {
	a, b, d := from.Lerp(c.c1, t), c.c1.Lerp(c.c2, t), c.c2.Lerp(c.to, t)
	return a.Lerp(b, t).Lerp(b.Lerp(d, t), t)
}

// quadratic returns the cubic that is the same curve as the quadratic with the control point c.
func quadratic(from, c, to plane.Point) cubic {
	return cubic{from.Lerp(c, 2.0/3), to.Lerp(c, 2.0/3), to}
}

// An arc is a part of an ellipse by its centre, half axes, the angle of its first axis, and the
// angles on it where the arc starts and how far it goes on.
type arc struct {
	centre       plane.Point
	rx, ry       float64
	tilt         float64 // radians counter-clockwise
	first, sweep float64 // radians counter-clockwise; sweep < 0 runs clockwise
	to           plane.Point
}

func (a arc) end() plane.Point { return a.to }

func (a arc) steps(_ plane.Point, tolerance float64, most int) int {
	return arcSteps(math.Max(a.rx, a.ry), a.sweep, tolerance, most)
}

// arcSteps returns into how many chords an arc of a circle must be cut; an ellipse with that half
// axis at most needs no more.
func arcSteps(radius, sweep, tolerance float64, most int) int {
	if tolerance >= radius {
		return wholeSteps(math.Abs(sweep)/(math.Pi/2), most)
	}
	half := math.Acos(1 - tolerance/radius)
	return wholeSteps(math.Abs(sweep)/(2*half), most)
}

func (a arc) at(_ plane.Point, t float64) plane.Point {
	sin, cos := math.Sincos(a.first + float64(a.sweep*t))
	return plane.Point{X: a.rx * cos, Y: a.ry * sin}.Rotate(a.tilt).Add(a.centre)
}

// arcTo returns the arc from one point to another with the given half axes and tilt: the long way
// round or the short, counter-clockwise or clockwise. Half axes that are too short are stretched
// together until they reach; without any the arc is a straight line.
//
// Source: SVG 1.1, appendix F.6, "Elliptical arc implementation notes".
func arcTo(from, to plane.Point, rx, ry, tilt float64, long, counter bool) segment {
	rx, ry = math.Abs(rx), math.Abs(ry)
	if rx == 0 || ry == 0 {
		return line{to}
	}
	half := from.Sub(to).Scale(0.5).Rotate(-tilt)
	unit := plane.Point{X: half.X / rx, Y: half.Y / ry}
	reach := unit.Dot(unit)
	if reach < 1e-18 {
		return line{to} // so small a part of the ellipse that its centre cannot be found
	}
	if reach > 1 {
		stretch := math.Sqrt(reach)
		rx, ry, unit = rx*stretch, ry*stretch, unit.Scale(1/stretch)
		reach = 1
	}
	off := math.Sqrt(1/reach - 1)
	if long == counter {
		off = -off
	}
	// On the unit circle the chord runs from unit to -unit; its middle is the origin, and the
	// centre lies to its left for a short counter-clockwise or a long clockwise arc.
	middle := plane.Point{X: unit.Y, Y: -unit.X}.Scale(off)
	a := unit.Sub(middle)
	b := unit.Scale(-1).Sub(middle)
	sweep := math.Atan2(a.Cross(b), a.Dot(b))
	switch {
	case counter && sweep < 0:
		sweep += 2 * math.Pi
	case !counter && sweep > 0:
		sweep -= 2 * math.Pi
	}
	centre := plane.Point{X: middle.X * rx, Y: middle.Y * ry}.Rotate(tilt).Add(from.Lerp(to, 0.5))
	return arc{centre: centre, rx: rx, ry: ry, tilt: tilt, first: a.Angle(), sweep: sweep, to: to}
}
