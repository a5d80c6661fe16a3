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
	Name    string // WallFace for the wall itself
	Frame   space.Frame
	Outline plane.Region // what can be seen of the face
	Used    bool         // carries pieces
	Zones   []Zone

	free plane.Region
}

// WallFace is the name of the face that is the wall itself.
const WallFace = "wall"

// A Load is what a face needs to know of a piece to say where it may go.
type Load struct {
	Combustible bool
	StandOff    float64 // mm
}

// FaceByName returns the index of the face of that name on the wall of that name.
func (s Site) FaceByName(wallName, faceName string) (int, bool) {
	for i, f := range s.Faces {
		if f.Name == faceName && s.Room.Walls[f.Wall].Name == wallName {
			return i, true
		}
	}
	return 0, false
}

// Title returns what the sheets call the face with that index: the name of its wall, and its own
// where it is not the wall itself.
func (s Site) Title(face int) string {
	f := s.Faces[face]
	title := s.Room.Walls[f.Wall].Name
	if f.Name != WallFace {
		title += ", " + f.Name
	}
	return title
}

// Free returns where no part of a piece is in the way of anything: the outline less the edge
// margin, less obstructions with their clearances, less every zone that is forbidden to any piece.
// It is empty on a face that is not used.
func (f Face) Free() plane.Region { return f.free }

// FreeFor returns where a piece that loads the face with l may lie: Free less the zones that are
// forbidden to such a piece.
func (f Face) FreeFor(l Load) (plane.Region, error) {
	return f.without(f.free, func(z Zone) bool { return z.Concerns(l) })
}

// DrillFor returns where the holes of a piece that loads the face with l may be drilled: FreeFor
// less the zones that are forbidden to holes.
func (f Face) DrillFor(l Load) (plane.Region, error) {
	return f.without(f.free, func(z Zone) bool { return z.Concerns(l) || z.Binds == Holes })
}

// without returns r less the forbidden zones that bind.
func (f Face) without(r plane.Region, binds func(Zone) bool) (plane.Region, error) {
	var away []plane.Region
	for _, z := range f.Zones {
		if z.Strength == Forbidden && binds(z) {
			away = append(away, z.Shape)
		}
	}
	return r.Difference(away...)
}
