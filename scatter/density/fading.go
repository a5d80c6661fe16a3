package density

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Fading thins the work out towards a shape.
type Fading struct {
	Towards Shape
	Over    float64 // how far from the shape it begins, mm
	Rest    float64 // what is left of the density at the shape, 0 to 1
}

// At implements Field.
func (c Fading) At(f space.Frame, p plane.Point) float64 {
	return rest(math.Sqrt(c.Towards.distance2(f.At(p))), c.Over, c.Rest)
}

// Grain returns the least distance in mm over which the density changes by much.
func (c Fading) Grain() float64 { return c.Over }

// rest returns what is left at the distance far from where a fading ends.
func rest(far, over, least float64) float64 {
	return least + float64((1-least)*ramp(far/over))
}

// An Area is a face, or a part of it.
type Area struct {
	Frame  space.Frame
	Region plane.Region
}

// An EdgeFading thins the work out towards the edges of each face, as far as it can be seen; there
// the distance is that on the face.
type EdgeFading struct {
	faces      map[space.Frame]*plane.Index
	over, rest float64
}

// NewEdgeFading returns a fading towards the edges of the areas, which begins over mm from them and
// leaves rest of the density at them, 0 to 1. On faces with another frame it changes nothing.
func NewEdgeFading(areas []Area, over, rest float64) EdgeFading {
	c := EdgeFading{map[space.Frame]*plane.Index{}, over, rest}
	for _, a := range areas {
		c.faces[a.Frame] = plane.NewIndex(a.Region)
	}
	return c
}

// At implements Field.
func (c EdgeFading) At(f space.Frame, p plane.Point) float64 {
	index, known := c.faces[f]
	if !known {
		return 1
	}
	return rest(math.Max(index.Distance(p), 0), c.over, c.rest)
}

// Grain returns the least distance in mm over which the density changes by much.
func (c EdgeFading) Grain() float64 { return c.over }
