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
// the distance is that on the face. Faces in one plane that meet are one: a wall that goes straight
// on has no edge there.
type EdgeFading struct {
	faces      map[space.Frame]*level
	over, rest float64
}

// A level is everything in one plane.
type level struct {
	frame space.Frame
	parts []plane.Region
	whole *plane.Index
}

// NewEdgeFading returns a fading towards the edges of the areas, which begins over mm from them and
// leaves rest of the density at them, 0 to 1. On faces with another frame it changes nothing. The
// error is that of an area that is not sound.
func NewEdgeFading(areas []Area, over, rest float64) (EdgeFading, error) {
	c := EdgeFading{map[space.Frame]*level{}, over, rest}
	var levels []*level
	for _, a := range areas {
		l := levelOf(levels, a.Frame)
		if l == nil {
			l = &level{frame: a.Frame}
			levels = append(levels, l)
		}
		part, err := a.Region.Map(func(p plane.Point) plane.Point {
			q, _ := l.frame.Local(a.Frame.At(p))
			return q
		})
		if err != nil {
			return EdgeFading{}, err
		}
		l.parts = append(l.parts, part)
		c.faces[a.Frame] = l
	}
	for _, l := range levels {
		whole, err := plane.Union(l.parts...)
		if err != nil {
			return EdgeFading{}, err
		}
		l.whole = plane.NewIndex(whole)
	}
	return c, nil
}

// levelOf returns the one of the levels that the frame lies in, or nil.
func levelOf(levels []*level, f space.Frame) *level {
	const (
		parallel = 1 - 1e-9
		flush    = 0.01 // mm
	)
	for _, l := range levels {
		if _, off := l.frame.Local(f.Origin); math.Abs(off) < flush && l.frame.Out.Dot(f.Out) > parallel {
			return l
		}
	}
	return nil
}

// At implements Field.
func (c EdgeFading) At(f space.Frame, p plane.Point) float64 {
	l, known := c.faces[f]
	if !known {
		return 1
	}
	q, _ := l.frame.Local(f.At(p))
	return rest(math.Max(l.whole.Distance(q), 0), c.over, c.rest)
}

// Grain returns the least distance in mm over which the density changes by much.
func (c EdgeFading) Grain() float64 { return c.over }
