package flow

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Swirl runs round an axis through a point of the room: counter-clockwise for somebody towards
// whom the axis points. On a face square to the axis it runs in circles.
type Swirl struct {
	Centre   space.Vec // any point of the axis
	Axis     space.Vec // of any length but 0
	Reach    float64   // distance from the axis at which it is half as strong, mm; 0 for no such fading
	Strength float64   // length of the current where it runs wholly along the face
}

// At implements Current.
func (c Swirl) At(f space.Frame, p plane.Point) plane.Point {
	round := c.Axis.Cross(f.At(p).Sub(c.Centre))
	length := round.Len()
	if length == 0 {
		return plane.Point{}
	}
	far2 := round.Dot(round) / c.Axis.Dot(c.Axis)
	return f.Flatten(round).Scale(c.Strength * Fade(far2, c.Reach) / length)
}
