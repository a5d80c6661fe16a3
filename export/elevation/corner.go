package elevation

import (
	"fmt"
	"math"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// CornerWords says which corner of the room an edge of the face is. A corner of a thing's front or
// back with another of its sides is the thing's own: its left corner, its top edge.
func (v View) CornerWords(j wall.Join) string {
	other := v.Work.Site.Faces[j.To]
	if own, is := v.Owner(); is && other.Wall == v.Face.Wall && other.Obstruction == v.Face.Obstruction {
		if corner := cornerOf(v.Face.Side, other.Side); corner != "" {
			words, side := fmt.Sprintf("this edge to the %s of the %s", corner, own.Name), strings.TrimPrefix(other.Name, own.Name+" ")
			if side == corner {
				return words
			}
			return words + ", next to its " + side
		}
	}
	name := v.NameFrom(j.To)
	switch thing, is := v.thingOf(other); {
	case is && !other.Used && thing.Depth > 0:
		return "the edge of the " + thing.Name + ": cut along it"
	case math.Abs(j.Angle-math.Pi) < 1e-6:
		return "this edge against " + name + ", which goes straight on"
	case j.Outside:
		return "this edge to the outside corner with " + name
	}
	return "this edge into the corner with " + name
}

// thingOf returns what of this wall's a face is a side of, where this face is the wall itself.
func (v View) thingOf(f wall.Face) (wall.Obstruction, bool) {
	if !v.IsWall() || f.Wall != v.Face.Wall || f.IsWall() || f.Obstruction < 0 || f.Obstruction >= len(v.Wall.Obstructions) {
		return wall.Obstruction{}, false
	}
	return v.Wall.Obstructions[f.Obstruction], true
}

// NameFrom returns what sheets of this face call another: without the name of the wall where both
// belong to one.
func (v View) NameFrom(face int) string {
	other := v.Work.Site.Faces[face]
	if other.Wall == v.Face.Wall && !other.IsWall() {
		return other.Name
	}
	return v.Work.Site.Title(face)
}

// cornerOf names the corner between the front or the back of a thing and another of its sides;
// nothing where neither of two sides is its front or its back.
func cornerOf(a, b wall.Side) string {
	if b == wall.Front || b == wall.Back {
		a, b = b, a
	}
	if a != wall.Front && a != wall.Back {
		return ""
	}
	return map[wall.Side]string{
		wall.Left: "left corner", wall.Right: "right corner", wall.Top: "top edge",
		wall.Underside: "lower edge", wall.Head: "head", wall.Sill: "sill",
	}[b]
}

// FootWords names the edge of a face that does not stand upright from which places on it are
// measured upwards on the sheet.
func (v View) FootWords() string {
	switch v.Face.Side {
	case wall.Top, wall.Sill:
		return "its front edge"
	case wall.Underside, wall.Head:
		return "its back edge"
	}
	if name, first := v.overFoot(); first {
		return "the edge at " + name
	}
	return "its lower edge as drawn"
}

// overFoot returns the name of the first wall of the room where the lower edge of a ceiling, as it
// is drawn, runs along it.
func (v View) overFoot() (name string, along bool) {
	if !v.Wall.Ceiling {
		return "", false
	}
	for _, f := range v.Work.Site.Faces {
		if w := v.Work.Site.Room.Walls[f.Wall]; f.IsWall() && w.Alone == nil {
			a, _ := v.Face.Frame.Local(f.Frame.Origin)
			b, _ := v.Face.Frame.Local(f.Frame.At(plane.Point{X: w.Outline.Bounds().Max.X}))
			return w.Name, math.Abs(a.Y-v.Bounds.Min.Y) < 1 && math.Abs(b.Y-v.Bounds.Min.Y) < 1
		}
	}
	return "", false
}

// UpWords says which way up on the sheet is in the room.
func (v View) UpWords() string {
	if _, upright := v.Datum(); upright {
		return "UP"
	}
	switch v.Face.Side {
	case wall.Top, wall.Sill:
		return "BACK"
	case wall.Underside, wall.Head:
		return "FRONT"
	}
	if v.Wall.Ceiling {
		return v.aheadWords()
	}
	return "UP"
}

// Stance says how somebody stands who sees a face as its sheets show it, where it is not upright.
func (v View) Stance() string {
	switch v.Face.Side {
	case wall.Top, wall.Sill:
		return "The sheets show it as seen from before the wall, looking down; the arrow BACK points to the wall."
	case wall.Underside, wall.Head:
		return "The sheets show it as seen looking up as you face the wall, head back; the arrow FRONT points away from the wall."
	}
	if v.Wall.Ceiling {
		name, _ := v.overFoot()
		text := fmt.Sprintf("The sheets show it as seen looking up as you face %s, head back.", name)
		if to, found := v.WallTowards(plane.Point{Y: 1}); found {
			text += fmt.Sprintf(" The arrow TO: %s points behind you then, to that wall.", strings.ToUpper(to))
		}
		return drafting.Joined(" ", text, v.roundWords())
	}
	return ""
}

const (
	LeastEdge  = 12.0 // the shortest part of an edge that a sheet names, mm
	NarrowEdge = 34.0 // the longest line of words that stand near an edge and not along it, mm
)
