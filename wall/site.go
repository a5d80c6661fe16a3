package wall

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Site is a room made ready to be composed on.
//
// Where the room has a ceiling, that is the last of its walls and the last of the faces that are
// walls. It is drawn as somebody sees it who faces the first wall and puts the head back: x runs
// the way the first wall does, and y away from it.
type Site struct {
	Room  Room
	Faces []Face
}

// A Face is one flat surface of the site that can carry pieces.
//
// Its coordinates begin at the left end and the foot of a wall, and at the bottom-left corner of
// the box round what can be seen of any other face; Frame.Origin.Z is the height of that corner
// above the floor. Somebody looks square at the face who sees x run right and y up. The top of a
// thing and a sill are looked down on from before the wall, so that y runs towards the wall; at an
// underside and a head somebody looks up with his back to the wall's foot, and y runs away from it.
type Face struct {
	Wall        int    // index into Room.Walls
	Obstruction int    // index into the wall's obstructions of what has this side; -1 for the wall itself and its back
	Side        Side   // of the obstruction; Back for the back of a wall; empty for the wall itself
	Name        string // no other face of the wall has it; WallFace for the wall itself
	Frame       space.Frame
	Outline     plane.Region // what can be seen of the face
	Whole       plane.Region // of a wall all of it, with what is covered; of any other face its Outline
	Used        bool         // carries pieces
	Zones       []Zone       // of a wall, and of any other face that is used

	open, free plane.Region
	built      structure
}

// Names of the faces that are the wall itself, and the back of a wall that stands alone.
const (
	WallFace = "wall"
	BackFace = "back"
)

// IsWall reports whether the face is the wall itself and no side of what is on it.
func (f Face) IsWall() bool { return f.Name == WallFace }

// IsBack reports whether the face is the back of a wall that stands alone.
func (f Face) IsBack() bool { return f.Obstruction < 0 && f.Side == Back }

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

// On returns what is on the face with that index, in the face's coordinates: of a wall, everything
// but flat things on the front of something that stands before it, or in a recess; of a front or
// the back of a recess, the flat things on it; of the back of a screen, what goes right through;
// of any other face nothing.
func (s Site) On(face int) []Obstruction {
	f := s.Faces[face]
	w := s.Room.Walls[f.Wall]
	if f.IsBack() {
		return s.throughTo(f)
	}
	surfaces := w.surfaces()
	var on []Obstruction
	for i, o := range w.Obstructions {
		switch {
		case f.IsWall() && (!o.flat() || surfaces[i] == 0):
			on = append(on, o)
		case f.Obstruction >= 0 && (f.Side == Front || f.Side == Back) && o.flat():
			if z := s.off(f); math.Abs(z-surfaces[i]) <= flush {
				o.Shape = o.Shape.Map(func(p plane.Point) plane.Point {
					q, _ := f.Frame.Local(s.ownWall(f).Frame.Lift(p, z))
					return q
				})
				on = append(on, o)
			}
		}
	}
	return on
}

// throughTo returns what goes right through to f, the back of a screen, where it comes out there.
func (s Site) throughTo(f Face) []Obstruction {
	w := s.Room.Walls[f.Wall]
	front := s.ownWall(f).Frame
	var out []Obstruction
	for _, o := range w.Obstructions {
		if !(o.flat() && o.through()) && !(w.Alone != nil && -o.Depth >= w.Alone.Thickness-flush && o.Depth < 0) {
			continue
		}
		o.Shape = o.Shape.Map(func(p plane.Point) plane.Point {
			q, _ := f.Frame.Local(front.At(p))
			return q
		}).CounterClockwise()
		out = append(out, o)
	}
	return out
}

// ownWall returns the face that is the wall of f.
func (s Site) ownWall(f Face) Face {
	for _, w := range s.Faces {
		if w.Wall == f.Wall && w.IsWall() {
			return w
		}
	}
	return f
}

// off returns how far the face f is off its wall, in mm.
func (s Site) off(f Face) float64 {
	_, z := s.ownWall(f).Frame.Local(f.Frame.Origin)
	return z
}

// Free returns where no part of a piece is in the way of anything: the outline less the edge
// margin, less obstructions with their clearances, less every zone that is forbidden to any piece.
// It is empty on a face that is not used.
func (f Face) Free() plane.Region { return f.free }

// Open returns what Free would be with nothing in the way of pieces but the edge margin, and what
// carries pieces itself with its clearance: where the boundary of Free is that of Open, the work
// comes to the edge of the face or goes on on another. It is empty on a face that is not used.
func (f Face) Open() plane.Region { return f.open }

// FreeFor returns where a piece that loads the face with l may lie: Free less the zones that are
// forbidden to such a piece, and less what else is named.
func (f Face) FreeFor(l Load, away ...plane.Region) (plane.Region, error) {
	return f.without(f.free, func(z Zone) bool { return z.Concerns(l) }, slices.Clip(away)...)
}

// DrillFor returns where the holes of a piece that loads the face with l may be drilled: FreeFor
// less the zones that are forbidden to holes. What the wall is built of may bind them more: MayDrill.
func (f Face) DrillFor(l Load) (plane.Region, error) {
	return f.without(f.free, func(z Zone) bool { return z.Concerns(l) || z.Binds == Holes })
}

// Alike reports whether what is forbidden on the face is the same for pieces that load it with a
// and with b.
func (f Face) Alike(a, b Load) bool {
	for _, z := range f.Zones {
		if z.Strength == Forbidden && z.Concerns(a) != z.Concerns(b) {
			return false
		}
	}
	return true
}

// BindsHoles reports whether a zone on the face is forbidden to holes and not to the pieces that have
// them: DrillFor may be less than FreeFor then, and where it is not, a piece that lies free can be
// drilled for.
func (f Face) BindsHoles() bool {
	return slices.ContainsFunc(f.Zones, func(z Zone) bool { return z.Strength == Forbidden && z.Binds == Holes })
}

// without returns r less the forbidden zones that bind, and less what else is named.
func (f Face) without(r plane.Region, binds func(Zone) bool, away ...plane.Region) (plane.Region, error) {
	for _, z := range f.Zones {
		if z.Strength == Forbidden && binds(z) {
			away = append(away, z.Shape)
		}
	}
	return r.Difference(away...)
}
