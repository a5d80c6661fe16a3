// Package density is how close together the pieces of a work are, from place to place.
//
// A density is a product of fields, each of which says how many times as dense the work is at a
// place: 1 where it changes nothing, 0 where there are to be no pieces. They are thought in the room,
// and distances are straight through it, so that what one does goes on round a corner. The fields
// are finite and not below 0 anywhere. They come of exponentials and sines, whose last bits differ
// from one processor to the next: whoever decides by a density rounds it first.
package density

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Field is a density over the faces of a room.
type Field interface {
	// At returns the density at the point p of the face with the frame f: pieces per area, against
	// other places; 0 where there are to be none.
	At(f space.Frame, p plane.Point) float64
}

// A Scheme is how dense a work is to be.
type Scheme struct {
	Field          Field   // one place against another; nil for the same everywhere
	PerSquareMetre float64 // pieces per m² where the field is 1; 0 where the number of pieces is given
}

// At returns the density of the scheme at the point p of the face with the frame f, against other
// places.
func (s Scheme) At(f space.Frame, p plane.Point) float64 {
	if s.Field == nil {
		return 1
	}
	return s.Field.At(f, p)
}

// Grain returns the least distance in mm over which the density changes by much.
func (s Scheme) Grain() float64 { return Grain(s.Field) }

// A Product is the fields that are multiplied by one another; 1 everywhere where there is none.
type Product []Field

// At implements Field.
func (fields Product) At(f space.Frame, p plane.Point) float64 {
	density := 1.0
	for _, field := range fields {
		density *= field.At(f, p)
	}
	return density
}

// Grain returns the least distance in mm over which the product changes by much.
func (fields Product) Grain() float64 {
	least := math.Inf(1)
	for _, field := range fields {
		least = math.Min(least, Grain(field))
	}
	return least
}

// Grain returns the least distance in mm over which the field changes by much, for whoever samples
// it to choose a step: a quarter of it shows all there is. It is infinite for a field that is the same
// everywhere or has no such method.
func Grain(f Field) float64 {
	if g, ok := f.(interface{ Grain() float64 }); ok {
		return g.Grain()
	}
	return math.Inf(1)
}

// Limits of what a density is made of. Within them a density stays finite.
const (
	MinStrength = 0.01
	MaxStrength = 100
	MaxFields   = 32   // of one sort
	MinBase     = 0.01 // pieces per m²
	MaxBase     = 1e5  // pieces per m²
)

// ramp rises smoothly from 0 at t = 0 to 1 at t = 1, and is level beyond: 3t² - 2t³.
func ramp(t float64) float64 {
	t = math.Min(math.Max(t, 0), 1)
	return float64(t*t) * (3 - 2*t)
}
