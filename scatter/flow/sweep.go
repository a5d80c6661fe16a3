package flow

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Sweep runs the same way on every face, as somebody who turns to look at each face sees it.
type Sweep struct {
	Angle    float64 // radians counter-clockwise from the face's +x
	Strength float64
}

// At implements Current.
func (c Sweep) At(space.Frame, plane.Point) plane.Point {
	return plane.Point{X: c.Strength}.Rotate(c.Angle)
}

// RoomSweep runs one way through the room, as a draught does. On two walls that face one another
// somebody who looks at each sees it run opposite ways, and a wall that it meets square on has
// none of it.
type RoomSweep struct {
	Way      space.Vec // of any length but 0
	Strength float64   // length of the current where it runs wholly along the face
}

// At implements Current.
func (c RoomSweep) At(f space.Frame, _ plane.Point) plane.Point {
	far := c.Way.Len()
	if far == 0 {
		return plane.Point{}
	}
	return f.Flatten(c.Way).Scale(c.Strength / far)
}
