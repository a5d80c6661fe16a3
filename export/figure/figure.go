// Package figure is the standing figure that gives drawings their scale: somebody 1.7 m tall, seen
// from the front.
package figure

import (
	"math"

	"wallshoal/wall/plane"
)

// Height is how tall the figure is, mm.
const Height = 1700.0

// Width is how wide it is with its arms, mm.
const Width = 500.0

// Rings returns the outlines of body and head, in mm from between the feet, y up.
func Rings() []plane.Ring {
	right := smooth(side())
	body := make(plane.Ring, 0, 2*len(right))
	body = append(body, right...)
	for i := len(right) - 1; i >= 0; i-- {
		body = append(body, plane.Point{X: -right[i].X, Y: right[i].Y})
	}
	return []plane.Ring{body, plane.Ellipse(plane.Point{Y: 1588}, 78, 112, 40)}
}

// side returns the points of the right half of the body, from the neck to between the legs.
func side() []plane.Point {
	return []plane.Point{
		{X: 0, Y: 1490}, {X: 42, Y: 1488}, {X: 48, Y: 1440}, {X: 100, Y: 1412}, {X: 172, Y: 1388},
		{X: 212, Y: 1335}, {X: 224, Y: 1230}, {X: 236, Y: 1080}, {X: 246, Y: 920}, {X: 244, Y: 800},
		{X: 228, Y: 742}, {X: 208, Y: 770}, {X: 204, Y: 900}, {X: 190, Y: 1050}, {X: 172, Y: 1190},
		{X: 160, Y: 1225}, {X: 150, Y: 1120}, {X: 146, Y: 1010}, {X: 162, Y: 900}, {X: 172, Y: 800},
		{X: 164, Y: 640}, {X: 140, Y: 470}, {X: 134, Y: 380}, {X: 118, Y: 200}, {X: 100, Y: 80},
		{X: 128, Y: 22}, {X: 120, Y: 0}, {X: 44, Y: 0}, {X: 36, Y: 80}, {X: 34, Y: 300},
		{X: 26, Y: 500}, {X: 10, Y: 700}, {X: 0, Y: 745},
	}
}

// smooth returns a rounder line through the points: a Catmull-Rom spline with four steps between
// neighbours, straight on at both ends.
func smooth(points []plane.Point) []plane.Point {
	const steps = 4
	last := len(points) - 1
	at := func(i int) plane.Point { return points[min(max(i, 0), last)] }
	var out []plane.Point
	for i := range last {
		a, b, c, d := at(i-1), at(i), at(i+1), at(i+2)
		for s := range steps {
			t := float64(s) / steps
			q := spline(a, b, c, d, t)
			// A spline swings past its points a little; the soles stay on the floor.
			q.Y = math.Max(q.Y, 0)
			out = append(out, q)
		}
	}
	return append(out, points[last])
}

// spline returns the point a share t of the way from b to c on the Catmull-Rom curve through
// a, b, c and d.
func spline(a, b, c, d plane.Point, t float64) plane.Point {
	one := b.Scale(2)
	two := c.Sub(a).Scale(t)
	three := a.Scale(2).Sub(b.Scale(5)).Add(c.Scale(4)).Sub(d).Scale(t * t)
	four := b.Scale(3).Sub(a).Sub(c.Scale(3)).Add(d).Scale(t * t * t)
	return one.Add(two).Add(three).Add(four).Scale(0.5)
}
