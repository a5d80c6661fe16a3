// Package flow is the movement that a work follows: which way a piece heads at a place.
//
// Currents run through the room, and a work is one movement over all the faces it stands on. On a
// face a current is what its direction in the room leaves in the plane of that face. So the share
// of it that runs along a corner is the same on both faces of the corner. Where a current points
// straight into a face nothing of it is left there, and on the way to such a place its length goes
// to nothing by degrees while the other currents take over. Where nothing at all is left the field
// is the zero point, whose angle is 0: a piece heads along +x. Two currents are not of this kind:
// Sweep belongs to each face as it is looked at, and Meander runs on the surface itself.
//
// Every current has a strength, and some have a reach: their strength is half of it at that
// distance, a seventh at twice the distance and still fading beyond. A reach of 0 is no reach, and
// the current is as strong everywhere. Strengths have no unit; only their proportions count.
package flow

import (
	"math"

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

// still is the length below which what is left of a flow is an error of rounding.
const still = 1e-12

// At returns the sum of the currents at p; the zero point where there is none, or where they leave
// nothing.
func (fl Field) At(f space.Frame, p plane.Point) plane.Point {
	var sum plane.Point
	for _, c := range fl {
		sum = sum.Add(c.At(f, p))
	}
	if sum.Len() < still {
		return plane.Point{}
	}
	return sum
}

// tail is what makes Fade a half at the reach.
const tail = math.Sqrt2 - 1

// Fade returns what is left of a strength of 1 at the squared distance far2 where it has a reach.
func Fade(far2, reach float64) float64 {
	if reach <= 0 {
		return 1
	}
	gone := 1 + float64(tail*far2/float64(reach*reach))
	return 1 / float64(gone*gone)
}
