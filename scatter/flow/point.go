package flow

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Toward runs to one point of the room, wherever that point lies. On a face that does not hold
// the point it runs the way the straight line through the room runs along that face, and fades
// to nothing where that line meets the face square on.
type Toward struct {
	Point    space.Vec
	Reach    float64 // distance from the point at which it is half as strong, mm; 0 for no such fading
	Strength float64 // length of the current where it runs wholly along the face
}

// At implements Current.
func (c Toward) At(f space.Frame, p plane.Point) plane.Point {
	step := c.Point.Sub(f.At(p))
	far := step.Len()
	if far == 0 {
		return plane.Point{}
	}
	return f.Flatten(step).Scale(c.Strength * Fade(step.Dot(step), c.Reach) / far)
}

// Away runs from one point of the room, against the Toward of the same point.
type Away struct {
	Point    space.Vec
	Reach    float64 // distance from the point at which it is half as strong, mm; 0 for no such fading
	Strength float64 // length of the current where it runs wholly along the face
}

// At implements Current.
func (c Away) At(f space.Frame, p plane.Point) plane.Point {
	back := Toward(c).At(f, p)
	return plane.Point{}.Sub(back)
}
