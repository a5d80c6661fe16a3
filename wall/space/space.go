// Package space places faces in the room.
//
// The room's axes are X and Y in plan and Z up from the floor, in mm. Seen from above, angles run
// counter-clockwise from +X. The first wall starts at the origin and runs along +X; somebody who
// stands in the room and looks at it looks along +Y.
package space

import (
	"math"

	"wallshoal/wall/plane"
)

// A Vec is a place in the room or a step between two, in mm.
type Vec struct{ X, Y, Z float64 }

// Add returns v moved by w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns the step from w to v.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Scale returns v multiplied by k. The products are rounded, so that one that is then added is
// the same on every processor.
func (v Vec) Scale(k float64) Vec {
	return Vec{float64(v.X * k), float64(v.Y * k), float64(v.Z * k)}
}

// Dot returns the scalar product of v and w.
func (v Vec) Dot(w Vec) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}

// Cross returns the vector product v × w.
func (v Vec) Cross(w Vec) Vec {
	return Vec{
		float64(v.Y*w.Z) - float64(v.Z*w.Y),
		float64(v.Z*w.X) - float64(v.X*w.Z),
		float64(v.X*w.Y) - float64(v.Y*w.X),
	}
}

// Len returns the length of v.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// A Frame fixes a flat face in the room: where its origin lies and which way its right, its up
// and its front look. The three directions have length 1 and stand square to one another, with
// Right × Up = Out; Out points off the face towards whoever looks at it.
type Frame struct {
	Origin         Vec
	Right, Up, Out Vec
}

// Upright returns the frame of a standing wall whose bottom-left corner is origin and which runs,
// seen from inside the room, to the right along the plan angle in degrees. Multiples of 90° are
// exact.
func Upright(origin Vec, degrees float64) Frame {
	sin, cos := sincosDegrees(degrees)
	return Frame{
		Origin: origin,
		Right:  Vec{cos, sin, 0},
		Up:     Vec{0, 0, 1},
		Out:    Vec{sin, -cos, 0},
	}
}

func sincosDegrees(degrees float64) (sin, cos float64) {
	quarter, rest := math.Modf(degrees / 90)
	if rest == 0 {
		switch (int(quarter)%4 + 4) % 4 {
		case 0:
			return 0, 1
		case 1:
			return 1, 0
		case 2:
			return 0, -1
		default:
			return -1, 0
		}
	}
	return math.Sincos(degrees * math.Pi / 180)
}

// At returns the place in the room of the face point p.
func (f Frame) At(p plane.Point) Vec { return f.Lift(p, 0) }

// Lift returns the place in the room of the point that stands out from p by off mm.
func (f Frame) Lift(p plane.Point, off float64) Vec {
	return f.Origin.Add(f.Right.Scale(p.X)).Add(f.Up.Scale(p.Y)).Add(f.Out.Scale(off))
}

// Local returns the point of the face nearest to v, and how far v stands out from the face.
func (f Frame) Local(v Vec) (p plane.Point, off float64) {
	d := v.Sub(f.Origin)
	return plane.Point{X: d.Dot(f.Right), Y: d.Dot(f.Up)}, d.Dot(f.Out)
}

// Flatten returns what the direction d leaves in the plane of the face.
func (f Frame) Flatten(d Vec) plane.Point {
	return plane.Point{X: d.Dot(f.Right), Y: d.Dot(f.Up)}
}
