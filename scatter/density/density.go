// Package density is how close together the pieces of a work are, from place to place.
package density

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Field is a density over the faces of a room.
type Field interface {
	// At returns the density at the point p of the face with the frame f: pieces per area, against
	// other places; 0 where there are to be none.
	At(f space.Frame, p plane.Point) float64
}
