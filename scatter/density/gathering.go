package density

import (
	"math"

	"wallshoal/scatter/flow"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Segment is a straight line through the room from A to B; a place where they are the same.
type Segment struct{ A, B space.Vec }

// distance2 returns the squared distance in mm² from the place to the segment.
func (s Segment) distance2(at space.Vec) float64 {
	way, from := s.B.Sub(s.A), at.Sub(s.A)
	t := 0.0
	if long2 := way.Dot(way); long2 > 0 {
		t = math.Min(math.Max(from.Dot(way)/long2, 0), 1)
	}
	off := from.Sub(way.Scale(t))
	return off.Dot(off)
}

// A Shape is places and lines of the room.
type Shape []Segment

// Place returns the shape that is one place.
func Place(at space.Vec) Shape { return Shape{{at, at}} }

// Line returns the shape that leads from each of the places to the next.
func Line(path []space.Vec) Shape {
	var s Shape
	for i := 1; i < len(path); i++ {
		s = append(s, Segment{path[i-1], path[i]})
	}
	return s
}

// distance2 returns the squared distance in mm² from the place to what of the shape is nearest;
// infinite for a shape without parts.
func (s Shape) distance2(at space.Vec) float64 {
	near := math.Inf(1)
	for _, part := range s {
		near = math.Min(near, part.distance2(at))
	}
	return near
}

// A Gathering makes the work denser round a shape, or thinner.
type Gathering struct {
	Round    Shape
	Reach    float64 // distance at which half of the change is left, mm
	Strength float64 // how many times as dense it is there as far away; below 1 it is thinner
}

// At implements Field: 1 + (strength - 1) × fade, where fade is that of a current with a reach: half
// at the reach, a seventh at twice the reach.
func (g Gathering) At(f space.Frame, p plane.Point) float64 {
	return 1 + float64((g.Strength-1)*flow.Fade(g.Round.distance2(f.At(p)), g.Reach))
}

// Grain returns the least distance in mm over which the density changes by much.
func (g Gathering) Grain() float64 { return g.Reach }
