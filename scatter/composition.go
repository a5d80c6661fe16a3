package scatter

import (
	"wallshoal/scatter/flow"
)

// A Composition is what the artist asks for.
type Composition struct {
	Count   int        // pieces in all
	Spacing float64    // least distance between the centres of two pieces, measured in the room, mm
	Gap     float64    // least distance between the outlines of two pieces, mm
	Flow    flow.Field // which way the pieces head
	Part    bool       // the flow goes round what is in the way on each face
	Spread  float64    // circular standard deviation of headings about the flow, degrees; 0 for none
}
