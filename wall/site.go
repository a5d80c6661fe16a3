package wall

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Site is a room made ready to be composed on.
type Site struct {
	Room  Room
	Faces []Face
}

// A Face is one flat surface of the site that can carry pieces.
type Face struct {
	Wall    int    // index into Room.Walls
	Name    string // "wall" for the wall itself
	Frame   space.Frame
	Outline plane.Region // what can be seen of the face
	Used    bool         // carries pieces
	Zones   []Zone

	free plane.Region
}

// A Load is what a face needs to know of a piece to say where it may go.
type Load struct {
	Combustible bool
	StandOff    float64 // mm
}

// Free returns where no part of a piece is in the way of anything: the outline less the edge
// margin, less obstructions with their clearances, less every zone that is forbidden to any piece.
func (f Face) Free() plane.Region { return f.free }
