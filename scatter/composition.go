package scatter

import (
	"wallshoal/scatter/density"
	"wallshoal/scatter/flow"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/mixing"
)

// A Composition is what the artist asks for.
type Composition struct {
	Count    int            // pieces in all
	Spacing  float64        // least distance between the centres of two pieces, measured in the room, mm
	Gap      float64        // least distance between the outlines of two pieces, mm
	Overlap  float64        // share of a piece's outline that another may cover, 0 to 1; above 0, Gap does not count
	Density  density.Scheme // how dense the work is where
	Flow     flow.Field     // which way the pieces head
	Part     bool           // the flow goes round what is in the way on each face
	Headings heading.Scheme
	Mixing   mixing.Scheme
	Seating  Seating
}

// Seating says how far a piece may be put otherwise than it was thrown for its holes to fall where
// they may be drilled, and what holes need of one another.
type Seating struct {
	Move  float64 // at most so far, mm
	Turn  float64 // at most so far, degrees
	Holes float64 // least distance between the centres of two holes of different pieces, mm
}
