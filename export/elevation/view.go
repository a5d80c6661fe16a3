package elevation

import (
	"fmt"
	"math"
	"slices"

	"wallshoal/export/caution"
	"wallshoal/export/drafting"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A View is one face of a work with what hangs on it.
type View struct {
	Work    holemap.Work
	Index   int // of the face in the site
	Face    wall.Face
	Outline plane.Region // of all that is drawn of the face
	Wall    wall.Wall
	Rings   []plane.Ring       // the outline of the face, with its holes
	Bounds  plane.Rect         // of the outline
	Things  []wall.Obstruction // what stands on the face, where it lies there: first what is its wall's own
	Own     int                // how many of the things are its wall's own
	Pieces  []Hung
	Holes   []holemap.Hole
	Joins   []wall.Join // corners with other faces, where somebody asked for them
	Several bool        // the work has several faces that carry pieces
	Number  int         // of the face among those that carry pieces, from 1; 0 where it carries none

	notes map[string]bool // codes of the cautions that are only to be kept in mind
}

// A Hung is one piece as it hangs on the face.
type Hung struct {
	scatter.Piece
	Kind   scatter.Kind
	Ring   plane.Ring
	Bounds plane.Rect
}

// Look returns the view of one face of a work, or says why there is none.
func Look(w holemap.Work, face int) (View, error) {
	if face < 0 || face >= len(w.Site.Faces) {
		return View{}, fmt.Errorf("face number %d is not among the %d faces of the site", face, len(w.Site.Faces))
	}
	f := w.Site.Faces[face]
	if f.Wall < 0 || f.Wall >= len(w.Site.Room.Walls) {
		return View{}, fmt.Errorf("face number %d belongs to wall number %d, and there are %d walls", face, f.Wall, len(w.Site.Room.Walls))
	}
	if f.Outline.Empty() && f.Whole.Empty() {
		return View{}, fmt.Errorf("face number %d has no outline", face)
	}
	v := View{Work: w, Index: face, Face: f, Wall: w.Site.Room.Walls[f.Wall], Outline: f.Outline}
	if v.IsWall() && !f.Whole.Empty() {
		v.Outline = f.Whole
	}
	v.Bounds, v.Rings = v.Outline.Bounds(), v.Outline.Rings()
	v.Things = v.obstructions()
	if f.IsBack() {
		v.Things = w.Site.On(face)
	}
	v.Own = len(v.Things)
	v.Things = append(slices.Clip(v.Things), v.covers()...)
	for _, p := range w.Layout.Pieces {
		if p.Face != face {
			continue
		}
		if p.Kind < 0 || p.Kind >= len(w.Kinds) {
			return View{}, fmt.Errorf("piece %d is of kind number %d, and there are %d kinds", p.ID, p.Kind, len(w.Kinds))
		}
		ring := p.Outline(w.Kinds)
		v.Pieces = append(v.Pieces, Hung{Piece: p, Kind: w.Kinds[p.Kind], Ring: ring, Bounds: ring.Bounds()})
	}
	for _, h := range w.Map.Holes {
		if h.Face == face {
			v.Holes = append(v.Holes, h)
		}
	}
	v.notes = map[string]bool{}
	for _, c := range w.Map.Cautions {
		v.notes[c.Code] = c.Severity == caution.Note
	}
	carrying := carryingFaces(w)
	v.Several = len(carrying) > 1
	v.Number = slices.Index(carrying, face) + 1
	return v, nil
}

// carryingFaces returns the faces that carry pieces, or are made to, in the order of the site.
func carryingFaces(w holemap.Work) []int {
	carries := make([]bool, len(w.Site.Faces))
	for i, f := range w.Site.Faces {
		carries[i] = f.Used
	}
	for _, p := range w.Layout.Pieces {
		if p.Face >= 0 && p.Face < len(carries) {
			carries[p.Face] = true
		}
	}
	var out []int
	for i, c := range carries {
		if c {
			out = append(out, i)
		}
	}
	return out
}

// Covered reports whether some of what is drawn of the face cannot be seen, because something
// stands before it or is let into it.
func (v View) Covered() bool { return v.Outline.Area()-v.Face.Outline.Area() > 1 }

// IsWall reports whether the face is the wall itself and not a side of something on it.
func (v View) IsWall() bool { return v.Face.Name == wall.WallFace || v.Face.Name == "" }

// Name returns what the sheets call the face.
func (v View) Name() string {
	if v.IsWall() {
		return v.Wall.Name
	}
	return v.Wall.Name + ", " + v.Face.Name
}

// Shown returns what the sheets call the face, and from where it is seen where that is not from
// before it.
func (v View) Shown() string {
	if v.Wall.Ceiling {
		return v.Name() + ", as seen looking up"
	}
	return v.Name()
}

// Owner returns the thing that has the face as one of its sides, and whether there is one.
func (v View) Owner() (wall.Obstruction, bool) {
	i := v.Face.Obstruction
	if v.IsWall() || i < 0 || i >= len(v.Wall.Obstructions) {
		return wall.Obstruction{}, false
	}
	return v.Wall.Obstructions[i], true
}

// obstructions returns what stands on the face, where it lies there: all that stands on a wall, and
// what of it stands on or before the front of a thing, or the back of a recess.
func (v View) obstructions() []wall.Obstruction {
	if v.IsWall() {
		return v.Wall.Obstructions
	}
	own, is := v.Owner()
	frame, found := v.WallFrame()
	if !is || !found || v.Face.Frame.Out.Dot(frame.Out) < Level {
		return nil
	}
	_, z := frame.Local(v.Face.Frame.Origin)
	var out []wall.Obstruction
	for i, o := range v.Wall.Obstructions {
		behind := o.Depth >= wall.MinLength && o.Depth < z+wall.MinLength
		under := math.Abs(o.Depth) >= wall.MinLength && plane.RegionOf(o.Shape).Holds(own.Shape)
		if i == v.Face.Obstruction || behind || under {
			continue
		}
		o.Shape = o.Shape.Map(func(p plane.Point) plane.Point {
			q, _ := v.Face.Frame.Local(frame.At(p))
			return q
		})
		if v.Face.Outline.Touches(o.Shape) {
			out = append(out, o)
		}
	}
	return out
}

// Level is the least cosine of the angle between two directions that count as one.
const Level = 0.999

// WallFrame returns the frame of the wall that the face belongs to, and whether the wall is there
// to be seen.
func (v View) WallFrame() (space.Frame, bool) {
	for _, f := range v.Work.Site.Faces {
		if f.Wall == v.Face.Wall && f.Name == wall.WallFace {
			return f.Frame, true
		}
	}
	return space.Frame{}, false
}

// ZonesThatSpeak returns the zones of the face that can bind something in the work: a zone for what
// burns says nothing where no kind burns, nor one for what stands out where none stands out so far.
func (v View) ZonesThatSpeak() []wall.Zone {
	var out []wall.Zone
	for _, z := range v.Face.Zones {
		speaks := z.Binds == wall.Holes || slices.ContainsFunc(v.Work.Kinds, func(k scatter.Kind) bool { return z.Concerns(k.Load()) })
		if speaks && !z.Shape.Empty() {
			out = append(out, z)
		}
	}
	return out
}

// Flagged reports whether a caution on the hole has to be settled before it is drilled.
func (v View) Flagged(h holemap.Hole) bool {
	return slices.ContainsFunc(h.Cautions, func(code string) bool { return !v.notes[code] })
}

// Datum returns the height on the face, in mm above its foot, at which the datum crosses it, and
// whether the face stands upright, so that there is such a height.
func (v View) Datum() (y float64, upright bool) {
	if !holemap.Upright(v.Face) {
		return 0, false
	}
	return v.Work.Site.Room.Datum - v.Face.Frame.Origin.Z, true
}

// HeightOf returns the height above the floor, in mm, of a point of the face.
func (v View) HeightOf(p plane.Point) float64 { return v.Face.Frame.At(p).Z }

// Length returns a length as the sheets show it, with its unit.
func (v View) Length(mm float64) string { return measure.Format(mm, v.Work.Units) }

// figure returns a length as a drawing that states its unit once shows it.
func (v View) figure(mm float64) string { return measure.Figure(mm, v.Work.Units) }

// Drill returns the diameter of a bit as the sheets show it: in millimetres, or in the fraction of
// an inch that the bit is sold by where the plan is in feet or inches and there is one.
func (v View) Drill(mm float64) string {
	if v.Work.Units.Imperial() {
		parts := mm * 64 / drafting.Inch
		if whole := math.Round(parts); whole > 0 && math.Abs(parts-whole) < 0.02 {
			return fraction(int(whole)) + `"`
		}
		return fmt.Sprintf("Ø%g mm", drafting.Round2(mm))
	}
	return fmt.Sprintf("Ø%g", drafting.Round2(mm))
}

// fraction returns a number of sixty-fourths in lowest terms.
func fraction(n int) string {
	d := 64
	for n%2 == 0 && d > 1 {
		n, d = n/2, d/2
	}
	switch {
	case d == 1:
		return fmt.Sprint(n)
	case n > d:
		return fmt.Sprintf("%d-%d/%d", n/d, n%d, d)
	}
	return fmt.Sprintf("%d/%d", n, d)
}

// LengthAlong returns how long an outline is the way it heads.
func LengthAlong(r plane.Ring) float64 { return r.Bounds().Width() }

// StandOut returns how far something stands out of the face, mm.
func (v View) StandOut(o wall.Obstruction) float64 {
	if own, is := v.Owner(); is && math.Abs(o.Depth) >= wall.MinLength {
		return o.Depth - own.Depth
	}
	return o.Depth
}
