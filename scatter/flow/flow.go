// Package flow is the movement that a work follows: which way a piece heads at a place.
package flow

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Field is a sum of currents.
type Field []Current

// A Current is one movement through the room.
type Current interface {
	// At returns which way the current runs at the point p of the face with the frame f, in the
	// plane of that face. The length of what it returns is the current's strength there, without
	// unit; currents are summed by it.
	At(f space.Frame, p plane.Point) plane.Point
}

// At returns the sum of the currents at p; the zero point for an empty field.
func (fl Field) At(f space.Frame, p plane.Point) plane.Point {
	var sum plane.Point
	for _, c := range fl {
		sum = sum.Add(c.At(f, p))
	}
	return sum
}

// Toward runs to one point of the room, wherever that point lies. On a face that does not hold
// the point it runs the way the straight line through the room runs along that face, and fades
// to nothing where that line meets the face square on.
type Toward struct {
	Point    space.Vec
	Strength float64 // length of the current where it runs wholly along the face
}

// At implements Current.
func (c Toward) At(f space.Frame, p plane.Point) plane.Point {
	step := c.Point.Sub(f.At(p))
	far := step.Len()
	if far == 0 {
		return plane.Point{}
	}
	return f.Flatten(step).Scale(c.Strength / far)
}

// Sweep runs the same way on every face, as somebody who turns to look at each face sees it.
type Sweep struct {
	Angle    float64 // radians counter-clockwise from the face's +x
	Strength float64
}

// At implements Current.
func (c Sweep) At(space.Frame, plane.Point) plane.Point {
	return plane.Point{X: c.Strength}.Rotate(c.Angle)
}
