package wall

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// FootAt returns the height of the floor, mm above y = 0, before a wall at a place so far from its left
// end: as it was measured there, or the foot of the outline where that is above 0, as on a stair or a
// landing, or farther below it than any floor runs out. Under an opening that the outline leaves out it is as
// beside that. Past an end of the wall it is as at that end. Before a wall that stands alone, whose outline
// may end above the floor, it is 0 where nothing was measured.
func (w Wall) FootAt(x float64) float64 {
	if len(w.Outline) == 0 {
		measured, _ := w.FloorAt(x)
		return hundredth(measured)
	}
	b := w.Outline.Bounds()
	height, found := lowest(w.floors(), math.Max(b.Min.X, math.Min(b.Max.X, x)))
	if !found {
		return 0
	}
	return hundredth(height)
}

// Before returns the joined wall nearest to a place in the room, of those that it lies before, as an index
// into the faces of the site, and how far out from that wall it lies, mm to 0.01. Found is false where it
// lies before none.
func (s Site) Before(at space.Vec) (face int, off float64, found bool) {
	for i, f := range s.Faces {
		if !f.IsWall() || s.Room.Walls[f.Wall].Ceiling {
			continue
		}
		b := f.Whole.Bounds()
		q, out := f.Frame.Local(at)
		if out = hundredth(out); out < 0 || q.X < b.Min.X || q.X > b.Max.X || found && out >= off {
			continue
		}
		face, off, found = i, out, true
	}
	return face, off, found
}

// FloorBelow returns the height, mm above the plan's 0, of the floor on which somebody stands who works at
// a point of a face: the floor before its wall, and below a ceiling that before the nearest wall. A plan
// knows the floor at the foot of its walls only.
func (s Site) FloorBelow(face int, p plane.Point) float64 {
	f := s.Faces[face]
	at := f.Frame.At(p)
	w := s.Room.Walls[f.Wall]
	if w.Ceiling {
		near, _, found := s.Before(at)
		if !found {
			return 0
		}
		f, w = s.Faces[near], s.Room.Walls[s.Faces[near].Wall]
	}
	q, _ := s.ownWall(f).Frame.Local(at)
	return w.FootAt(q.X)
}

// hundredth rounds a length to 0.01 mm. Adding 0 turns a negative zero into zero.
func hundredth(mm float64) float64 { return math.Round(mm*100)/100 + 0 }
